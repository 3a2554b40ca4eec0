"""The verdict on a price: unit prices, the usual price, bands at their edges, what is too far off."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.items import PricePoint
from core.prices import (
    Band,
    History,
    PriceSeen,
    Purchase,
    Sighting,
    Standing,
    Usual,
    dearest_packs,
    implausible,
    judge,
    since,
    usual_of,
)

TODAY = date(2026, 8, 3)
NO_POINT = PricePoint()
FIVE_TO_SEVEN = PricePoint(Fraction(5), Fraction(7))
UNIT_PRICES = st.fractions(min_value=Fraction(1, 100), max_value=1000, max_denominator=100)


def pencils(count: int, price: int, regular: int | None = None, on: date = TODAY) -> Sighting:
    return Sighting("pencil", count, price, on, regular=regular)


def history(*sightings: Sighting) -> History:
    """A history in which all that was seen is recent and nothing was marked down."""
    lowest = min(sightings, key=lambda seen: seen.unit_price)
    return History(
        lowest, lowest, usual_of([PriceSeen(seen.price, seen.count) for seen in sightings], TODAY), sightings[-1]
    )


def test_unit_price_is_an_exact_ratio() -> None:
    assert pencils(12, 47).unit_price == Fraction(47, 12)
    assert Purchase("pencil", 144, 475, TODAY, "Mei").unit_price == Fraction(475, 144)


def test_regular_unit_price_precedes_the_markdown() -> None:
    assert pencils(12, 60, regular=120).regular_unit_price == 10
    assert pencils(12, 60).regular_unit_price == 5


@pytest.mark.parametrize(
    ("prices", "middle"),
    [([3], "3"), ([9, 1, 4], "4"), ([4, 5], "9/2"), ([1, 10, 2, 3], "5/2")],
)
def test_median_is_the_middle_one(prices: Sequence[int], middle: str) -> None:
    usual = usual_of([PriceSeen(price, 1) for price in prices], TODAY)

    assert usual is not None
    assert usual.price == Fraction(middle)


def test_usual_price_tells_what_it_rests_on() -> None:
    seen = [PriceSeen(40, 10), PriceSeen(50, 10, times=2), PriceSeen(90, 10)]

    assert usual_of(seen, TODAY) == Usual(Fraction(5), Fraction(4), Fraction(9), 4, TODAY)
    assert usual_of([], TODAY) is None


@pytest.mark.parametrize(
    ("count", "price", "band"),
    [
        (12, 47, Band.GOOD),  # 3.92
        (12, 60, Band.GOOD),  # 5 on the dot
        (12, 61, Band.FAIR),  # 5.08
        (12, 84, Band.FAIR),  # 7 on the dot
        (12, 85, Band.HIGH),  # 7.08
    ],
)
def test_price_point_decides_before_history(count: int, price: int, band: Band) -> None:
    cheap_past = history(pencils(10, 10))

    assert judge(pencils(count, price), FIVE_TO_SEVEN, cheap_past).band is band


def test_target_alone_has_nothing_fair() -> None:
    point = PricePoint(Fraction(5))

    assert judge(pencils(12, 60), point, History()).band is Band.GOOD
    assert judge(pencils(12, 61), point, History()).band is Band.HIGH


def test_limit_alone_has_nothing_good() -> None:
    point = PricePoint(None, Fraction(7))

    assert judge(pencils(12, 12), point, History()).band is Band.FAIR
    assert judge(pencils(12, 85), point, History()).band is Band.HIGH


@pytest.mark.parametrize(
    ("price", "band", "standing"),
    [
        (39, Band.GOOD, Standing.BELOW),
        (40, Band.GOOD, Standing.EQUAL),
        (45, Band.FAIR, Standing.ABOVE),
        (50, Band.FAIR, Standing.ABOVE),  # the usual price itself: (4 + 6) / 2
        (51, Band.HIGH, Standing.ABOVE),
    ],
)
def test_history_decides_without_price_point(price: int, band: Band, standing: Standing) -> None:
    known = history(pencils(10, 40), pencils(10, 60))

    verdict = judge(pencils(10, price), NO_POINT, known)

    assert (verdict.band, verdict.standing) == (band, standing)
    assert not verdict.rests_on_price_point


def test_first_price_has_no_verdict() -> None:
    verdict = judge(pencils(12, 47), NO_POINT, History())

    assert (verdict.band, verdict.standing) == (Band.UNKNOWN, Standing.FIRST)


def test_same_ratio_stands_equal() -> None:
    # 47 for 12 and 94 for 24 are the same to the last fraction
    assert judge(pencils(24, 94), FIVE_TO_SEVEN, history(pencils(12, 47))).standing is Standing.EQUAL


@pytest.mark.parametrize(
    ("price", "doubted"),
    [(280, True), (279, False), (50, False), (13, False), (12, True)],
)
def test_four_times_off_is_doubted(price: int, doubted: bool) -> None:
    # the range is 5 to 7 cents: 4 x 7 = 28 for one, 280 for ten; 5 / 4 = 1.25 for one, 12.5 for ten
    assert implausible(pencils(10, price), FIVE_TO_SEVEN, History()) is doubted


def test_regular_price_is_the_one_doubted() -> None:
    # 1 cent after a markdown from 5 is a clearance; 1 cent in its own right is a slip
    assert not implausible(pencils(10, 10, regular=50), FIVE_TO_SEVEN, History())
    assert implausible(pencils(10, 10), FIVE_TO_SEVEN, History())


def test_nothing_known_leaves_no_doubt() -> None:
    assert not implausible(pencils(1, 10**6), NO_POINT, History())


def test_history_widens_what_is_likely() -> None:
    # seen at 20 cents before, 40 is twice that, though it is over four times the price point's most
    assert not implausible(pencils(10, 400), FIVE_TO_SEVEN, history(pencils(10, 200)))


def test_marked_down_history_weighs_its_regular_price() -> None:
    lowest = pencils(10, 10, regular=50)

    # 5 cents before its markdown: 19 is under four times that, 20 is four times
    assert not implausible(pencils(10, 190), NO_POINT, History(lowest, lowest))
    assert implausible(pencils(10, 200), NO_POINT, History(lowest, lowest))


@given(UNIT_PRICES, st.integers(1, 500))
def test_dearest_pack_is_the_last_affordable(most: Fraction, count: int) -> None:
    [(_, dearest)] = dearest_packs(PricePoint(most), [count])

    assert Fraction(dearest, count) <= most < Fraction(dearest + 1, count)


def test_no_price_point_names_no_packs() -> None:
    assert dearest_packs(NO_POINT, [10, 12]) == []


@given(st.lists(UNIT_PRICES, min_size=1), UNIT_PRICES)
def test_verdicts_never_improve_with_the_price(known: list[Fraction], price: Fraction) -> None:
    past = history(*[pencils(seen.denominator, seen.numerator) for seen in known])
    order = [Band.GOOD, Band.FAIR, Band.HIGH]

    cheaper = judge(pencils(price.denominator, price.numerator), NO_POINT, past)
    dearer = judge(pencils(price.denominator, price.numerator + 1), NO_POINT, past)

    assert order.index(cheaper.band) <= order.index(dearer.band)


@pytest.mark.parametrize(
    ("day", "months", "first"),
    [
        (date(2024, 2, 29), 12, date(2023, 2, 28)),
        (date(2026, 8, 3), 24, date(2024, 8, 3)),
        (date(2026, 5, 31), 3, date(2026, 2, 28)),
    ],
)
def test_months_back_end_in_the_month(day: date, months: int, first: date) -> None:
    assert since(day, months) == first
