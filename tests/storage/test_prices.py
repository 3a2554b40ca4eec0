"""Prices: what is recorded comes back, and an item's history agrees with counting by hand."""

from __future__ import annotations

import statistics
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from itertools import count

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.storage import entries, group, prices
from bot.storage.books import Books, Database
from core.group import Group
from core.items import Note
from core.prices import (
    RECENT_LOW_MONTHS,
    USUAL_MONTHS,
    USUAL_SIGHTINGS,
    History,
    Purchase,
    Sighting,
    Usual,
    since,
)

AT = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)
DAY = date(2026, 8, 3)
WHOLE = Sighting("pencil", 12, 47, DAY, "corner store", 94, date(2026, 8, 9), 3)
_chats = count(1)


@pytest.fixture
def entry(books: Books) -> int:
    return entries.new_entry(books, "Mei", AT, "12 pencils")


def test_price_of_an_entry_comes_back_whole(books: Books, entry: int) -> None:
    prices.add_sighting(books, entry, WHOLE)

    assert prices.seen_in(books, entry) == [WHOLE]


def seen(price: int, on: date, store: str | None = None, regular: int | None = None) -> Sighting:
    return Sighting("pencil", 12, price, on, store, regular)


def record(books: Books, entry: int, *sightings: Sighting) -> None:
    for sighting in sightings:
        prices.add_sighting(books, entry, sighting)


def test_a_sighting_comes_back_whole(books: Books, entry: int) -> None:
    record(books, entry, WHOLE)

    assert prices.recent(books, "pencil", 1) == [WHOLE]


def test_a_sighting_adds_its_unknown_store(books: Books, entry: int) -> None:
    record(books, entry, seen(47, DAY, "Quarry Shop"))

    assert group.load_group(books).stores == ("corner store", "Larkmoor Market", "Quarry Shop")
    assert prices.recent(books, "pencil", 1) == [seen(47, DAY, "Quarry Shop")]


def test_the_largest_amounts_are_kept(books: Books, entry: int) -> None:
    largest = Sighting("pencil", 1_000_000, 10_000_000_000, DAY)
    record(books, entry, largest)

    assert prices.recent(books, "pencil", 1) == [largest]


@pytest.mark.parametrize(
    "add",
    [
        lambda books, entry: prices.add_sighting(books, entry, Sighting("anvil", 1, 1, DAY, "Quarry Shop")),
        lambda books, entry: prices.add_purchase(books, entry, Purchase("anvil", 1, 1, DAY, "Mei")),
        lambda books, entry: prices.add_note(books, entry, Note("anvil", "heavy", "Mei", DAY)),
    ],
    ids=["sighting", "purchase", "note"],
)
def test_an_unknown_item_takes_no_rows(books: Books, entry: int, add: Callable[[Books, int], None]) -> None:
    with pytest.raises(KeyError, match="anvil"):
        add(books, entry)


def test_an_unknown_buyer_buys_nothing(books: Books, entry: int) -> None:
    with pytest.raises(KeyError):
        prices.add_purchase(books, entry, Purchase("pencil", 12, 47, DAY, "Nobody"))


def test_a_purchase_keeps_its_item_alive(books: Books, entry: int) -> None:
    group.add_item(books, entry, "glue stick")
    buying = entries.new_entry(books, "Mei", AT, "bought")
    prices.add_purchase(books, buying, Purchase("glue stick", 6, 300, DAY, "Tobias", "Quarry Shop"))

    entries.undo(books, entry, "Mei", AT)

    names = group.load_group(books)
    assert names.item("glue stick") is not None
    assert "Quarry Shop" in names.stores


def test_notes_come_newest_first(books: Books, entry: int) -> None:
    days = [DAY, DAY - timedelta(days=1), DAY]
    written = [Note("pencil", text, "Mei", on) for text, on in zip("abc", days, strict=True)]
    for note in written:
        prices.add_note(books, entry, note)

    assert prices.notes(books, "pencil") == [written[2], written[0], written[1]]
    assert prices.notes(books, "notebook") == []


def test_nothing_seen_is_an_empty_history(books: Books) -> None:
    assert prices.history(books, "pencil", DAY) == History()
    assert prices.history(books, "no such item", DAY) == History()


def test_the_usual_price_leaves_markdowns_out(books: Books, entry: int) -> None:
    record(books, entry, seen(48, DAY), seen(60, DAY), seen(12, DAY, regular=48))

    usual = prices.history(books, "pencil", DAY).usual

    # 48/12 and 60/12 cents: 4 and 5, the middle 4.5
    assert usual == Usual(Fraction(9, 2), Fraction(4), Fraction(5), 2, DAY)


def test_the_usual_price_rests_on_the_latest(books: Books, entry: int) -> None:
    old = [seen(1200, DAY - timedelta(days=300))] * 40
    late = [seen(12 * cents, DAY - timedelta(days=1)) for cents in range(1, USUAL_SIGHTINGS + 1)]
    record(books, entry, *old, *late)

    usual = prices.history(books, "pencil", DAY).usual

    # 1 to 365 cents: the middle one is 183; the older 100 cents no longer count
    assert usual == Usual(Fraction(183), Fraction(1), Fraction(365), 365, DAY - timedelta(days=1))


def test_nearly_equal_prices_keep_their_order(books: Books, entry: int) -> None:
    lower = Sighting("pencil", 999_999, 999_998, DAY)  # 1 - 1/999,999
    higher = Sighting("pencil", 1_000_000, 999_999, DAY + timedelta(days=1))  # 1 - 1/1,000,000
    record(books, entry, higher, lower, higher)

    assert prices.history(books, "pencil", DAY).lowest == lower


def test_each_store_shows_its_newest(books: Books, entry: int) -> None:
    earlier, later = DAY - timedelta(days=9), DAY - timedelta(days=1)
    record(
        books,
        entry,
        seen(36, earlier, "corner store"),
        seen(60, later, "corner store"),
        seen(48, earlier, "Larkmoor Market"),
        seen(72, DAY),
        seen(12, DAY - timedelta(days=90), "Quarry Shop"),
    )

    newest = prices.latest_by_store(books, "pencil", DAY - timedelta(days=30))

    assert newest == [seen(48, earlier, "Larkmoor Market"), seen(60, later, "corner store"), seen(72, DAY)]


def test_each_month_shows_its_lowest(books: Books, entry: int) -> None:
    june, july, august = date(2026, 6, 20), date(2026, 7, 31), date(2026, 8, 1)
    record(books, entry, seen(60, august), seen(48, july), seen(54, july), seen(12, june), seen(72, august))

    assert prices.monthly_lows(books, "pencil", date(2026, 6, 21)) == [seen(48, july), seen(60, august)]
    assert prices.monthly_lows(books, "pencil", date(2026, 6, 20))[0] == seen(12, june)


def test_recent_shows_the_newest_few(books: Books, entry: int) -> None:
    record(
        books,
        entry,
        *(seen(12 * day, date(2026, 8, day), regular=500 if day % 2 else None) for day in range(1, 9)),
    )

    assert [sighting.seen_on.day for sighting in prices.recent(books, "pencil", 3)] == [8, 7, 6]


@pytest.fixture(scope="module")
def in_memory() -> Iterator[Database]:
    database = Database("sqlite://")
    database.migrate()
    yield database
    database.close()


ON = st.dates(date(2024, 1, 1), date(2026, 12, 31))
COUNTS = st.sampled_from([1, 6, 12, 24, 999_999, 1_000_000])


@st.composite
def histories(draw: st.DrawFn) -> tuple[date, list[Sighting]]:
    on = draw(ON)
    edges = [since(on, RECENT_LOW_MONTHS), since(on, USUAL_MONTHS), on]
    day = st.one_of(
        st.integers(-1000, 40).map(lambda days: on + timedelta(days=days)),
        st.tuples(st.sampled_from(edges), st.integers(-1, 1)).map(lambda edge: edge[0] + timedelta(days=edge[1])),
    )
    price = st.one_of(st.integers(0, 30), st.integers(0, 100_000_000))
    sighting = st.builds(
        Sighting,
        item=st.sampled_from(["pencil", "pencil", "notebook"]),
        count=COUNTS,
        price=price,
        seen_on=day,
        store=st.sampled_from([None, "corner store", "Larkmoor Market"]),
        regular=st.one_of(st.none(), st.none(), st.just(100_000_001)),
    )
    return on, draw(st.lists(sighting, max_size=40))


@given(histories())
@settings(deadline=None)
def test_history_agrees_with_counting_by_hand(
    in_memory: Database, packers: Group, drawn: tuple[date, list[Sighting]]
) -> None:
    on, sightings = drawn
    chat = f"chat {next(_chats)}"
    in_memory.found(chat, packers)

    with in_memory.open(chat) as books:
        record(books, entries.new_entry(books, "Mei", AT, "all"), *sightings)

        assert prices.history(books, "pencil", on) == by_hand(sightings, on)
        for item in ("pencil", "notebook"):
            own = [sighting for sighting in sightings if sighting.item == item]
            assert prices.recent(books, item, 7) == newest_first(own)[:7]
            assert prices.monthly_lows(books, item, since(on, 6)) == lows_by_hand(own, since(on, 6))
            assert prices.latest_by_store(books, item, since(on, 6)) == stores_by_hand(own, since(on, 6))


def by_hand(sightings: list[Sighting], on: date) -> History:
    own = newest_first([sighting for sighting in sightings if sighting.item == "pencil"])
    recent = [sighting for sighting in own if sighting.seen_on >= since(on, RECENT_LOW_MONTHS)]
    usual = [one for one in own if one.regular is None and one.seen_on >= since(on, USUAL_MONTHS)]
    return History(lowest(own), lowest(recent), usual_by_hand(usual[:USUAL_SIGHTINGS]), own[0] if own else None)


def usual_by_hand(sightings: list[Sighting]) -> Usual | None:
    if not sightings:
        return None
    units = [sighting.unit_price for sighting in sightings]
    newest = max(sighting.seen_on for sighting in sightings)
    return Usual(statistics.median(units), min(units), max(units), len(units), newest)


def newest_first(sightings: list[Sighting]) -> list[Sighting]:
    rows = sorted(enumerate(sightings), key=lambda row: (row[1].seen_on, row[0]), reverse=True)
    return [sighting for _, sighting in rows]


def lowest(of_newest_first: list[Sighting]) -> Sighting | None:
    return min(of_newest_first, key=lambda sighting: sighting.unit_price, default=None)


def lows_by_hand(sightings: list[Sighting], start: date) -> list[Sighting]:
    young = [sighting for sighting in newest_first(sightings) if sighting.seen_on >= start]
    months = sorted({(sighting.seen_on.year, sighting.seen_on.month) for sighting in young})
    lows = [lowest([one for one in young if (one.seen_on.year, one.seen_on.month) == month]) for month in months]
    return [low for low in lows if low is not None]


def stores_by_hand(sightings: list[Sighting], start: date) -> list[Sighting]:
    young = [sighting for sighting in newest_first(sightings) if sighting.seen_on >= start]
    newest = {sighting.store: sighting for sighting in reversed(young)}
    rows = {sighting: row for row, sighting in enumerate(sightings)}
    return sorted(
        newest.values(),
        key=lambda one: (one.unit_price, -one.seen_on.toordinal(), -rows[one]),
    )
