"""Buy now or wait: the price to expect in the sales to come, and the advice against today's."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from core.day_rules import NAMED, DayRule, Fixed
from core.prices import Sighting
from core.wait_or_buy import Expected, advise, earlier_years, expected_in, running_on, windows_before
from core.windows import SaleWindow, WindowRule, next_windows

LEFTOVERS = WindowRule("attic leftovers", DayRule(Fixed(9, 1)), 20)
TURN = WindowRule("turn-of-year sale", DayRule(Fixed(12, 26)), 14)
SPRING = WindowRule("spring sale", DayRule(NAMED["Easter"], 1), 5)


def window(rule: WindowRule, year: int) -> SaleWindow:
    found = rule.in_year(year, "US")
    assert found is not None
    return found


CLEARANCE, WINTER = window(LEFTOVERS, 2026), window(TURN, 2026)
EARLIER = earlier_years(CLEARANCE, "US")


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

    assert expected_in(CLEARANCE, EARLIER, sightings, Fraction(60)) == Expected(CLEARANCE, Fraction(25), 3)


def test_a_regular_price_is_marked_down_as_an_estimate() -> None:
    expected = expected_in(CLEARANCE, EARLIER, [], Fraction(60))

    assert expected == Expected(CLEARANCE, Fraction(30), 0)
    assert expected is not None
    assert expected.is_estimate


def test_nothing_is_expected_of_an_unknown_price() -> None:
    assert expected_in(CLEARANCE, EARLIER, [], None) is None


def test_a_window_over_the_turn_of_the_year_comes_again() -> None:
    on_its_last_day, [after] = (next_windows([TURN], "US", date(2026, 1, day)) for day in (8, 9))

    assert on_its_last_day == [window(TURN, 2025)]
    assert after.starts == date(2026, 12, 26)


def test_five_earlier_years_are_looked_at() -> None:
    assert [one.year for one in EARLIER] == [2025, 2024, 2023, 2022, 2021]
    assert EARLIER[0] == window(LEFTOVERS, 2025)
    assert expected_in(CLEARANCE, EARLIER, [seen(20, date(2020, 9, 1))], None) is None


def test_an_earlier_window_moves_with_its_feast() -> None:
    # The Mondays after Easter: 21 April 2025 and 1 April 2024.
    starts = [one.starts for one in earlier_years(window(SPRING, 2026), "US")]

    assert starts[:2] == [date(2025, 4, 21), date(2024, 4, 1)]


def test_only_windows_still_to_come_before_the_day_count() -> None:
    today = date(2026, 8, 3)
    coming = windows_before(next_windows([TURN, LEFTOVERS], "US", today), today, date(2026, 11, 14))

    assert coming == [CLEARANCE]


def test_a_window_that_runs_today_is_not_waited_for() -> None:
    today = date(2026, 9, 1)
    windows = next_windows([TURN, LEFTOVERS], "US", today)

    assert windows_before(windows, today, date(2026, 11, 14)) == []
    assert running_on(windows, today) == CLEARANCE


def test_of_two_running_sales_the_longer_is_named() -> None:
    short = window(WindowRule("porch sale", DayRule(Fixed(9, 3)), 2), 2026)

    assert running_on([CLEARANCE, short, WINTER], date(2026, 9, 4)) == CLEARANCE
    assert running_on([WINTER], date(2026, 9, 4)) is None


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
