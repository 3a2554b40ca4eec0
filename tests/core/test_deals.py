"""Deals: what makes a price one, how many packs it takes, how long it is fresh and when it was told before."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.deals import DECLINED_FOR, FRESH, QUIET_FOR, Told, deal, is_fresh, told_already
from core.items import PricePoint
from core.prices import Sighting

TODAY = date(2026, 8, 3)
PENCILS = Sighting("pencil", 12, 47, TODAY, "Larkmoor Market")
POINT = PricePoint(Fraction(5), Fraction(7))
FIVE, FOUR = Fraction(5), Fraction(4)

PRICES = st.integers(1, 10_000)
COUNTS = st.integers(1, 500)
DAYS = st.dates(date(2026, 1, 1), date(2027, 12, 31))
SIGHTINGS = st.builds(
    Sighting,
    st.sampled_from(["pencil", "pen"]),
    COUNTS,
    PRICES,
    DAYS,
    st.sampled_from([None, "Larkmoor Market", "Wickerby Hall"]),
    until=st.none() | DAYS,
)
UNITS = st.fractions(min_value=Fraction(1, 10), max_value=500, max_denominator=24)
POINTS = st.builds(PricePoint, st.none() | UNITS, st.none() | UNITS)
TOLDS = st.builds(Told, SIGHTINGS, DAYS, st.booleans())
SHORT = st.integers(-5, 2_000)


def test_forty_packs_cover_four_hundred_eighty() -> None:
    found = deal(PENCILS, POINT, None, 480)

    # 480 / 12 = 40 packs, 40 x 47 = 1880 cents
    assert found is not None
    assert (found.target, found.lowest, found.short, found.packs, found.cost) == (FIVE, None, 480, 40, 1880)


def test_a_pack_begun_is_bought_whole() -> None:
    found = deal(PENCILS, POINT, None, 25)

    # two packs are 24: three, 3 x 47 = 141 cents
    assert found is not None
    assert (found.packs, found.cost) == (3, 141)


@pytest.mark.parametrize(
    ("point", "lowest", "target", "low"),
    [
        (POINT, None, FIVE, None),
        (POINT, FOUR, FIVE, FOUR),
        (POINT, Fraction(3), FIVE, None),
        (PricePoint(), FOUR, None, FOUR),
        (PricePoint(Fraction(3)), FOUR, None, FOUR),
        (PricePoint(None, Fraction(47, 12)), FOUR, None, FOUR),
    ],
)
def test_only_what_it_beats_is_named(
    point: PricePoint, lowest: Fraction | None, target: Fraction | None, low: Fraction | None
) -> None:
    found = deal(PENCILS, point, lowest, 480)

    assert found is not None
    assert (found.target, found.lowest) == (target, low)


@pytest.mark.parametrize(
    ("point", "lowest", "short"),
    [
        pytest.param(POINT, FOUR, 0, id="nothing short"),
        pytest.param(POINT, FOUR, -3, id="more than enough"),
        pytest.param(PricePoint(), None, 480, id="nothing to beat"),
        pytest.param(PricePoint(Fraction(47, 12)), Fraction(47, 12), 480, id="only as good"),
        pytest.param(PricePoint(None, Fraction(3)), FOUR, 480, id="over the most we pay"),
    ],
)
def test_these_are_no_deals(point: PricePoint, lowest: Fraction | None, short: int) -> None:
    assert deal(PENCILS, point, lowest, short) is None


@given(SIGHTINGS, POINTS, st.none() | UNITS, SHORT)
def test_a_deal_beats_something_within_limits(
    seen: Sighting, point: PricePoint, lowest: Fraction | None, short: int
) -> None:
    found = deal(seen, point, lowest, short)

    below = [bar for bar in (point.target, lowest) if bar is not None and seen.unit_price < bar]
    allowed = point.limit is None or seen.unit_price <= point.limit
    assert (found is not None) == bool(short > 0 and allowed and below)
    if found is not None:
        assert [bar for bar in (found.target, found.lowest) if bar is not None] == below


@given(SIGHTINGS, st.integers(1, 5_000))
def test_the_packs_are_the_fewest(seen: Sighting, short: int) -> None:
    found = deal(seen, PricePoint(seen.unit_price + 1), None, short)

    assert found is not None
    assert (found.packs - 1) * seen.count < short <= found.packs * seen.count
    assert found.cost == found.packs * seen.price


@given(SIGHTINGS, POINTS, st.none() | UNITS, SHORT, st.integers(1, 9_999))
def test_a_lower_price_stays_a_deal(
    seen: Sighting, point: PricePoint, lowest: Fraction | None, short: int, less: int
) -> None:
    assume(less < seen.price)

    dearer = deal(seen, point, lowest, short)
    cheaper = deal(replace(seen, price=seen.price - less), point, lowest, short)

    assert dearer is None or (cheaper is not None and cheaper.cost < dearer.cost)


@given(SIGHTINGS, POINTS, st.none() | UNITS, SHORT, st.integers(2, 9))
def test_a_bigger_pack_changes_no_reason(
    seen: Sighting, point: PricePoint, lowest: Fraction | None, short: int, times: int
) -> None:
    bigger = replace(seen, count=seen.count * times, price=seen.price * times)

    one, other = deal(seen, point, lowest, short), deal(bigger, point, lowest, short)

    assert (one is None) == (other is None)
    if one is not None and other is not None:
        assert (one.target, one.lowest) == (other.target, other.lowest)
        assert one.packs <= other.packs * times


@pytest.mark.parametrize(
    ("days_ago", "until_in", "fresh"),
    [(0, None, True), (7, None, True), (8, None, False), (-1, None, False), (3, 0, True), (3, 1, True), (3, -1, False)],
)
def test_a_price_is_fresh_for_a_week(days_ago: int, until_in: int | None, fresh: bool) -> None:
    until = None if until_in is None else TODAY + timedelta(days=until_in)
    seen = replace(PENCILS, seen_on=TODAY - timedelta(days=days_ago), until=until)

    assert is_fresh(seen, TODAY) is fresh


@given(SIGHTINGS, st.integers(-20, 20))
def test_fresh_days_are_a_stretch(seen: Sighting, days: int) -> None:
    today = seen.seen_on + timedelta(days=days)

    last = min(seen.seen_on + FRESH, seen.until or date.max)

    assert is_fresh(seen, today) == (seen.seen_on <= today <= last)


@pytest.mark.parametrize(
    ("days", "declined", "silent"),
    [(0, False, True), (6, False, True), (7, False, False), (7, True, True), (181, True, True), (182, True, False)],
)
def test_how_long_a_deal_is_silent(days: int, declined: bool, silent: bool) -> None:
    told = Told(PENCILS, TODAY - timedelta(days=days), declined)

    assert told_already(PENCILS, [told], TODAY) is silent


@pytest.mark.parametrize(
    ("told", "silent"),
    [
        pytest.param(replace(PENCILS, price=46), True, id="a better one was told"),
        pytest.param(replace(PENCILS, count=24, price=94), True, id="two packs of it"),
        pytest.param(replace(PENCILS, price=48), False, id="a worse one was told"),
        pytest.param(replace(PENCILS, store="Wickerby Hall"), False, id="in another shop"),
        pytest.param(replace(PENCILS, store=None), False, id="in no shop"),
        pytest.param(replace(PENCILS, item="pen"), False, id="another item"),
    ],
)
def test_what_silences_a_deal(told: Sighting, silent: bool) -> None:
    assert told_already(PENCILS, [Told(told, TODAY)], TODAY) is silent


@given(SIGHTINGS, st.lists(TOLDS, max_size=6), DAYS)
def test_one_that_silences_is_enough(seen: Sighting, told: list[Told], today: date) -> None:
    alone = [told_already(seen, [one], today) for one in told]

    assert told_already(seen, told, today) == any(alone) == told_already(seen, told[::-1], today)


@given(SIGHTINGS, TOLDS, st.integers(0, 400))
def test_turned_down_is_silent_longer(seen: Sighting, told: Told, days: int) -> None:
    today = told.day + timedelta(days=days)

    shown = told_already(seen, [replace(told, declined=False)], today)
    declined = told_already(seen, [replace(told, declined=True)], today)

    assert declined or not shown
    assert not shown or days < QUIET_FOR.days
    assert not declined or days < DECLINED_FOR.days


@given(SIGHTINGS, st.lists(TOLDS, max_size=6), DAYS)
def test_a_price_below_all_is_told(seen: Sighting, told: list[Told], today: date) -> None:
    assume(all(seen.unit_price < one.sighting.unit_price for one in told))

    assert not told_already(seen, told, today)
