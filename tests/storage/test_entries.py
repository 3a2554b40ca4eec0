"""Entries: made, found again, and taken back with all their rows, once."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, timezone
from fractions import Fraction

import pytest
from sqlalchemy.exc import StatementError

from bot.storage import entries, group, prices
from bot.storage.books import Books
from core.entries import Entry
from core.items import Note, PricePoint
from core.prices import History, Purchase, Sighting

AT = datetime(2026, 8, 3, 10, 15, 30, 250, tzinfo=UTC)
DAY = AT.date()


def test_an_entry_comes_back_as_made(books: Books) -> None:
    number = entries.new_entry(books, "Mei", AT, "12 pencils, 47¢")

    assert entries.entry(books, number) == Entry(number, "Mei", AT, "12 pencils, 47¢")


def test_a_moment_comes_back_in_utc(books: Books) -> None:
    chicago = AT.astimezone(timezone(timedelta(hours=-5)))

    number = entries.new_entry(books, "Mei", chicago, "12 pencils")

    found = entries.entry(books, number)
    assert found is not None
    assert found.at == AT
    assert found.at.utcoffset() == timedelta(0)


def test_a_moment_without_zone_is_refused(books: Books) -> None:
    with pytest.raises(StatementError, match="without a time zone"):
        entries.new_entry(books, "Mei", AT.replace(tzinfo=None), "12 pencils")


def test_an_unknown_member_makes_no_entry(books: Books) -> None:
    with pytest.raises(KeyError, match="Nobody"):
        entries.new_entry(books, "Nobody", AT, "12 pencils")


def test_an_unknown_number_is_no_entry(books: Books) -> None:
    assert entries.entry(books, 999) is None
    assert entries.undo(books, 999, "Mei", AT) is None


def test_the_last_entry_of_anyone_or_one(books: Books) -> None:
    first = entries.new_entry(books, "Mei", AT, "first")
    second = entries.new_entry(books, "Tobias", AT, "second")

    assert entries.last_entry(books, None) == Entry(second, "Tobias", AT, "second")
    assert entries.last_entry(books, "Mei") == Entry(first, "Mei", AT, "first")
    assert entries.last_entry(books, "Nobody") is None


def test_the_last_entry_skips_those_undone(books: Books) -> None:
    first = entries.new_entry(books, "Mei", AT, "first")
    entries.undo(books, entries.new_entry(books, "Mei", AT, "second"), "Tobias", AT)

    assert entries.last_entry(books, None) == Entry(first, "Mei", AT, "first")
    assert entries.last_entry(books, "Mei") == Entry(first, "Mei", AT, "first")


def test_undoing_leaves_who_and_when(books: Books) -> None:
    number = entries.new_entry(books, "Mei", AT, "12 pencils")
    later = AT + timedelta(hours=1)

    undone = entries.undo(books, number, "Tobias", later)

    assert undone == Entry(number, "Mei", AT, "12 pencils", "Tobias", later)
    assert entries.entry(books, number) == undone


def test_undoing_twice_keeps_the_first(books: Books) -> None:
    number = entries.new_entry(books, "Mei", AT, "12 pencils")
    first = entries.undo(books, number, "Tobias", AT)

    assert entries.undo(books, number, "Mei", AT + timedelta(hours=1)) is None

    assert entries.entry(books, number) == first


def test_only_a_member_undoes(books: Books) -> None:
    number = entries.new_entry(books, "Mei", AT, "12 pencils")

    with pytest.raises(KeyError, match="Nobody"):
        entries.undo(books, number, "Nobody", AT)


def test_undoing_takes_every_row_back(books: Books) -> None:
    before = group.load_group(books)
    number = entries.new_entry(books, "Mei", AT, "much at once")
    prices.add_sighting(books, number, Sighting("pencil", 12, 47, DAY))
    prices.add_note(books, number, Note("pencil", "breaks", "Mei", DAY))
    group.set_price_point(books, number, "pencil", PricePoint(Fraction(1)))
    group.add_alias(books, number, "exercise book", "notebook")
    group.add_item(books, number, "glue stick")
    prices.add_purchase(books, number, Purchase("glue stick", 6, 300, DAY, "Mei"))

    entries.undo(books, number, "Mei", AT)

    assert group.load_group(books) == before
    assert group.price_point(books, "pencil") == PricePoint(Fraction(9, 2), Fraction(7))
    assert prices.history(books, "pencil", DAY) == History()
    assert prices.notes(books, "pencil") == []


def test_undoing_leaves_other_entries_alone(books: Books) -> None:
    kept = Sighting("pencil", 12, 47, DAY)
    prices.add_sighting(books, entries.new_entry(books, "Mei", AT, "kept"), kept)
    undone = entries.new_entry(books, "Mei", AT, "undone")
    prices.add_sighting(books, undone, Sighting("pencil", 12, 1, DAY))

    entries.undo(books, undone, "Mei", AT)

    assert prices.recent(books, "pencil", 10) == [kept]


def test_an_item_in_use_outlives_its_entry(books: Books) -> None:
    bringing = entries.new_entry(books, "Mei", AT, "brings the item")
    group.add_item(books, bringing, "glue stick")
    using = entries.new_entry(books, "Mei", AT, "uses it")
    prices.add_note(books, using, Note("glue stick", "dries out", "Mei", DAY))

    entries.undo(books, bringing, "Mei", AT)
    assert group.load_group(books).item("glue stick") is not None

    entries.undo(books, using, "Mei", AT)
    assert group.load_group(books).item("glue stick") is None
