"""Buy now or wait: the price to expect in the sales to come, and the advice against today's."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from core.prices import Sighting
from core.wait_or_buy import Expected, SaleWindow, advise, expected_in, windows_before

CLEARANCE = SaleWindow("back-to-school clearance", date(2026, 9, 1), date(2026, 9, 20))
WINTER = SaleWindow("after Christmas", date(2025, 12, 26), date(2026, 1, 8))


def seen(cents: int, on: date, count: int = 1) -> Sighting:
    return Sighting("notebook", count, cents, on)


def test_the_median_of_earlier_years_lows_is_expected() -> None:
    # Lows of 20, 25 and 30 in three years; 90 was seen the same week, 10 outside the window.
    sightings = [
        seen(30, date(2025, 9, 3)),
        seen(90, date(2025, 9, 4)),
        seen(25, date(2024, 9, 1)),
        seen(20, date(2023, 9, 20)),
        seen(10, date(2025, 9, 21)),
    ]

    assert expected_in(CLEARANCE, sightings, Fraction(60)) == Expected(CLEARANCE, Fraction(25), 3)


def test_a_regular_price_is_marked_down_as_an_estimate() -> None:
    expected = expected_in(CLEARANCE, [], Fraction(60))

    assert expected == Expected(CLEARANCE, Fraction(30), 0)
    assert expected is not None
    assert expected.is_estimate


def test_nothing_is_expected_of_an_unknown_price() -> None:
    assert expected_in(CLEARANCE, [], None) is None


def test_a_window_over_the_turn_of_the_year_comes_again() -> None:
    assert WINTER.next_after(date(2026, 1, 8)).starts == date(2025, 12, 26)
    assert WINTER.next_after(date(2026, 1, 9)).starts == date(2026, 12, 26)


def test_only_windows_still_to_come_before_the_day_count() -> None:
    coming = windows_before([WINTER, CLEARANCE], date(2026, 8, 3), date(2026, 11, 14))

    assert coming == [CLEARANCE]


def test_a_window_that_runs_today_is_not_waited_for() -> None:
    assert windows_before([CLEARANCE], date(2026, 9, 1), date(2026, 11, 14)) == []


def test_a_saving_of_a_tenth_is_worth_waiting() -> None:
    expected = Expected(CLEARANCE, Fraction(27), 2)

    assert advise(Fraction(30), [expected]).wait
    assert not advise(Fraction(29), [expected]).wait


def test_the_best_of_several_windows_is_named() -> None:
    later = Expected(WINTER, Fraction(15), 1)

    assert advise(Fraction(60), [Expected(CLEARANCE, Fraction(30), 2), later]).expected == later


def test_without_a_sale_the_advice_is_to_buy() -> None:
    assert advise(Fraction(60), []) == advise(Fraction(60), iter(()))
    assert not advise(Fraction(60), []).wait
