"""An offer said again, as a button's message, reads as the same offer."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from bot.group_file import read_group
from bot.reading.offers import Offer
from bot.skills.prices.judging import said_again
from bot.skills.prices.offered import Offered
from tests.conftest import HARBOUR_LANE
from tests.examples import read

GROUP = read_group(HARBOUR_LANE)
CURRENCY = GROUP.settings.currency
TODAY = date(2026, 8, 3)

ITEMS = st.sampled_from([item.name for item in GROUP.items])
STORES = st.none() | st.sampled_from(GROUP.stores)
SEEN = st.integers(0, 400).map(lambda days: TODAY - timedelta(days))
UNTIL = st.none() | st.integers(0, 90).map(lambda days: TODAY + timedelta(days))
LIMITS = st.none() | st.integers(1, 24)


@st.composite
def offers(draw: st.DrawFn) -> Offer:
    """Offers of known items in known shops, in whole cents, some of them marked down."""
    price = draw(st.integers(1, 50_000))
    regular = draw(st.none() | st.integers(price + 1, 90_000))
    seen, until = draw(SEEN), draw(UNTIL)
    return Offer(
        draw(ITEMS), draw(st.integers(1, 5_000)), Fraction(price), draw(STORES), seen, regular, until, draw(LIMITS)
    )


@settings(deadline=None, max_examples=300)
@given(offers())
def test_offer_said_again_reads_the_same(offer: Offer) -> None:
    assert read(said_again(offer, CURRENCY)) == [{"kind": "price", **Offered(offer).as_json(CURRENCY)}]


@settings(deadline=None)
@given(offers())
def test_check_said_again_reads_the_same(offer: Offer) -> None:
    message = f"is {said_again(offer, CURRENCY)} a good price?"

    assert read(message) == [{"kind": "check", **Offered(offer).as_json(CURRENCY)}]


@settings(deadline=None)
@given(ITEMS, st.integers(1, 99), st.sampled_from([2, 4, 5, 10]), STORES, SEEN)
def test_fraction_of_a_cent_stays_one_units(item: str, tenths: int, parts: int, store: str | None, seen: date) -> None:
    offer = Offer(item, 1, Fraction(tenths, parts), store, seen)

    assert read(said_again(offer, CURRENCY)) == [{"kind": "price", **Offered(offer).as_json(CURRENCY)}]


def test_marked_down_fraction_keeps_its_regular_price() -> None:
    [before] = read("pencils were 6c now 4.5c each at larkmoor")
    offer = Offer("pencil", 1, Fraction(9, 2), "Larkmoor Market", TODAY, 6)

    [after] = read(said_again(offer, CURRENCY))

    assert before == {"kind": "price", **Offered(offer).as_json(CURRENCY)}
    assert after == {**before, "count": 2, "price": "0.09", "regular": "0.12"}
