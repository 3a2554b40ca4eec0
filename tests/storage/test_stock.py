"""Stock on both databases: who holds what and where, lots and draws, packings, reservations, taking back."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from fractions import Fraction

import pytest

from bot.storage import entries, prices, stock
from bot.storage.books import Books
from bot.storage.prices import PackPrice
from bot.storage.stock import Drawn
from core.prices import Purchase, Sighting
from core.stock import Held, Lot, Move, Packing, Reservation, Why

AT = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)
DAY = AT.date()


def entry(books: Books, by: str = "Mei") -> int:
    return entries.new_entry(books, by, AT, "an entry")


def moves(books: Books, units: int, why: Why = Why.HAD, member: str = "Mei", place: str | None = None) -> int:
    """A move of pencils under an entry of its own; its number."""
    number = entry(books)
    kit = "school pouch" if why is Why.PACKED else None
    stock.move(books, number, Move("pencil", member, units, why, DAY, place, kit))
    return number


def buys(books: Books, count: int, price: int, on: date = DAY) -> int:
    """A purchase of pencils under an entry of its own; its number."""
    number = entry(books)
    prices.add_purchase(books, number, Purchase("pencil", count, price, on, "Mei"))
    return number


def test_holdings_add_up_by_member_with_the_last_place(books: Books) -> None:
    moves(books, 40, place="hall closet")
    moves(books, 10, place="attic")
    moves(books, -8, Why.REMOVED)
    moves(books, 60, member="Tobias")

    assert stock.held(books, "pencil") == {"Mei": 42, "Tobias": 60}
    assert stock.holdings(books) == {"pencil": [Held("Tobias", 60), Held("Mei", 42, "attic")]}


def test_nobody_is_listed_who_holds_nothing(books: Books) -> None:
    moves(books, 40)
    moves(books, -40, Why.REMOVED)

    assert stock.holdings(books) == {}


def test_what_an_entry_moved_and_packed_comes_back_whole(books: Books) -> None:
    moves(books, 40, place="hall closet")
    number = moves(books, -4, Why.PACKED, place="attic")
    packing = Packing("school pouch", 1, "Mei", DAY)
    stock.pack(books, number, packing)

    assert stock.moves_in(books, number) == [Move("pencil", "Mei", -4, Why.PACKED, DAY, "attic", "school pouch")]
    assert stock.packings_in(books, number) == [packing]
    assert entries.rows_of(books, number) == {"stock_moves": 1, "packings": 1}


def test_lots_come_by_day_with_what_they_cost(books: Books) -> None:
    moves(books, 5)
    moves(books, 7, Why.GIVEN)
    buys(books, 12, 60, DAY - timedelta(days=9))
    moves(books, 3, Why.COUNTED)

    came = [Lot(12, Fraction(60)), Lot(5, None), Lot(7, Fraction(0)), Lot(3, None)]
    assert stock.lots(books) == {"pencil": came}


def test_units_that_change_hands_are_neither_lots_nor_draws(books: Books) -> None:
    moves(books, 5)
    moves(books, -5, Why.MOVED)
    moves(books, 5, Why.MOVED, "Tobias")

    assert stock.lots(books) == {"pencil": [Lot(5, None)]}
    assert stock.draws(books) == []


def test_draws_come_in_the_order_told_with_their_kit(books: Books) -> None:
    moves(books, 50)
    moves(books, -8, Why.PACKED)
    moves(books, -2, Why.REMOVED)
    moves(books, -1, Why.COUNTED)

    told = [Drawn("pencil", 8, DAY, "school pouch"), Drawn("pencil", 2, DAY, None), Drawn("pencil", 1, DAY, None)]
    assert stock.draws(books) == told


def test_packings_are_told_until_taken_back(books: Books) -> None:
    number = entry(books)
    stock.pack(books, number, Packing("school pouch", 14, "Tobias", DAY))

    assert stock.packed(books) == [("school pouch", DAY, 14)]
    entries.undo(books, number, "Mei", AT)
    assert stock.packed(books) == []


def test_an_unknown_kit_cannot_be_packed(books: Books) -> None:
    with pytest.raises(KeyError):
        stock.pack(books, entry(books), Packing("no such kit", 1, "Mei", DAY))


def test_a_reservation_holds_until_the_item_is_bought(books: Books) -> None:
    planned = Reservation("pencil", "Mei", 100, AT)
    stock.reserve(books, entry(books), planned)
    stock.reserve(books, entry(books), Reservation("pencil", "Tobias", 20, AT))

    assert stock.reserved(books, AT - timedelta(days=1)) == [planned, Reservation("pencil", "Tobias", 20, AT)]
    buys(books, 24, 100)
    assert [one.member for one in stock.reserved(books, AT - timedelta(days=1))] == ["Tobias"]


def test_a_reservation_lapses(books: Books) -> None:
    stock.reserve(books, entry(books), Reservation("pencil", "Mei", 100, AT))

    assert stock.reserved(books, AT + timedelta(seconds=1)) == []


def test_the_newest_reservation_of_a_member_counts(books: Books) -> None:
    for units in (100, 40):
        stock.reserve(books, entry(books), Reservation("pencil", "Mei", units, AT))

    assert [one.units for one in stock.reserved(books, AT)] == [40]


def test_what_was_drawn_on_must_be_taken_back_first(books: Books) -> None:
    first, more = buys(books, 12, 60), moves(books, 12)
    packed = moves(books, -20, Why.PACKED)

    assert stock.drawing_on(books, first) == stock.drawing_on(books, more) == packed
    entries.undo(books, packed, "Mei", AT)
    assert stock.drawing_on(books, first) is None


def test_an_entry_with_enough_left_can_be_taken_back(books: Books) -> None:
    first = buys(books, 12, 60)
    moves(books, 20)
    moves(books, -20, Why.PACKED)

    assert stock.drawing_on(books, first) is None


def test_the_newest_price_of_each_pack_and_shop_is_known(books: Books) -> None:
    older, newer = DAY - timedelta(days=30), DAY - timedelta(days=2)
    seen = [
        Sighting("pencil", 12, 50, older, "corner store"),
        Sighting("pencil", 12, 60, newer, "corner store"),
        Sighting("pencil", 24, 90, older, "corner store"),
        Sighting("pencil", 12, 55, older, "Larkmoor Market", until=DAY, pack_limit=4),
        Sighting("pencil", 12, 40, DAY - timedelta(days=400), "Larkmoor Market"),
        Sighting("notebook", 1, 80, older),
    ]
    for sighting in seen:
        prices.add_sighting(books, entry(books), sighting)

    told = [PackPrice(seen[place], paid=False) for place in (1, 5, 3, 2)]
    assert prices.newest_by_pack(books, DAY - timedelta(days=90)) == told


def test_a_price_paid_does_not_hide_the_one_on_the_shelf(books: Books) -> None:
    shelf = Sighting("pencil", 12, 50, DAY, "corner store", until=DAY, pack_limit=1)
    prices.add_sighting(books, entry(books), shelf)
    number, paid = entry(books), Sighting("pencil", 12, 50, DAY, "corner store")
    prices.add_sighting(books, number, paid)
    prices.add_purchase(books, number, Purchase("pencil", 12, 50, DAY, "Mei", "corner store"))

    assert prices.newest_by_pack(books, DAY) == [PackPrice(paid, paid=True), PackPrice(shelf, paid=False)]


def test_sightings_between_days_are_found(books: Books) -> None:
    for days in (0, 10, 20):
        prices.add_sighting(books, entry(books), Sighting("pencil", 12, 50 + days, DAY - timedelta(days=days)))

    spans = [(DAY - timedelta(days=20), DAY - timedelta(days=20)), (DAY - timedelta(days=1), DAY)]
    assert [one.price for one in prices.seen_between(books, spans, "pencil")] == [70, 50]
    assert prices.seen_between(books, spans, "notebook") == []
    assert prices.seen_between(books, [], "pencil") == []


def test_sightings_of_all_items_come_oldest_first(books: Books) -> None:
    seen = [Sighting("notebook", 1, 80, DAY - timedelta(days=1), "corner store"), Sighting("pencil", 12, 50, DAY)]
    for sighting in reversed(seen):
        prices.add_sighting(books, entry(books), sighting)

    assert prices.seen_between(books, [(DAY - timedelta(days=1), DAY)]) == seen


def test_spending_adds_up_the_purchases_of_some_days(books: Books) -> None:
    buys(books, 12, 60)
    buys(books, 12, 500, DAY - timedelta(days=1))
    entries.undo(books, buys(books, 12, 700), "Mei", AT)

    assert prices.spent(books, DAY, DAY) == 60
    assert prices.spent(books, DAY - timedelta(days=1), DAY) == 560
    assert prices.spent(books, DAY + timedelta(days=1), DAY + timedelta(days=2)) == 0
