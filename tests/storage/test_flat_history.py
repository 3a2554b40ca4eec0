"""A long history costs what a short one costs: counted in SQLite's own steps, so that no clock is needed."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from itertools import count

import pytest
from sqlalchemy import text

from bot.storage import entries, group, prices
from bot.storage.books import Books, Database
from core.group import Group
from core.prices import Sighting

AT = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)
DAY = AT.date()
LAST_YEAR = 480
"""Sightings of the item in both cases, every fifth marked down: more than the usual price rests on."""
COPY = """
INSERT INTO sightings (group_id, item_id, store_id, entry_id, count, price, seen_on, month, unit_price,
                       marked_down, live)
WITH RECURSIVE row(n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM row WHERE n < :rows)
SELECT group_id, item_id, store_id, entry_id, count, price + n % 7,
       date(seen_on, '-' || (400 + n % 5000) || ' days'),
       month - 14 - n % 160, unit_price + (n % 7) / 12.0, n % 3 = 0, live
FROM sightings CROSS JOIN row WHERE sightings.id = 1
"""
ASKED: dict[str, Callable[[Books], object]] = {
    "history": lambda books: prices.history(books, "pencil", DAY),
    "price point": lambda books: group.price_point(books, "pencil"),
    "notes": lambda books: prices.notes(books, "pencil"),
    "recent": lambda books: prices.recent(books, "pencil", 10),
    "by store": lambda books: prices.latest_by_store(books, "pencil", DAY - timedelta(days=365)),
    "monthly lows": lambda books: prices.monthly_lows(books, "pencil", DAY - timedelta(days=365)),
    "a sighting more": lambda books: prices.add_sighting(
        books, entries.new_entry(books, "Mei", AT, "12 pencils"), Sighting("pencil", 12, 47, DAY)
    ),
    "undo": lambda books: entries.undo(books, entries.new_entry(books, "Mei", AT, "none"), "Mei", AT),
    "last entry": lambda books: entries.last_entry(books, "Mei"),
}


@pytest.fixture(scope="module")
def founded(packers: Group) -> Iterator[Database]:
    database = Database("sqlite://")
    database.migrate()
    for chat in ("short", "long"):
        database.found(chat, packers)
    yield database
    database.close()


@pytest.fixture
def short_and_long(founded: Database) -> Iterator[tuple[Books, Books]]:
    """A year of sightings, without and with 30,000 older ones; both are dropped afterwards."""
    with founded.open("short") as short:
        long = Books(short.group_id + 1, "long", "long", short.connection)
        dropped = short.connection.begin_nested()
        for books in (long, short):
            entry = entries.new_entry(books, "Mei", AT, "a year")
            for number in range(LAST_YEAR):
                prices.add_sighting(books, entry, of_last_year(number))
        short.connection.execute(text(COPY), {"rows": 30_000})
        yield short, long
        dropped.rollback()


def of_last_year(number: int) -> Sighting:
    on, regular = DAY - timedelta(days=number % 360), 96 if number % 5 == 0 else None
    return Sighting("pencil", 12, 48 + number % 9, on, "corner store", regular)


@pytest.mark.parametrize("ask", ASKED.values(), ids=ASKED)
def test_thirty_thousand_old_sightings_cost_nothing(
    short_and_long: tuple[Books, Books], ask: Callable[[Books], object]
) -> None:
    short, long = (steps(books, ask) for books in short_and_long)

    assert long <= short * 1.05


def steps(books: Books, ask: Callable[[Books], object]) -> int:
    driver = books.connection.connection.driver_connection
    assert isinstance(driver, sqlite3.Connection)
    counted = count()
    driver.set_progress_handler(lambda: next(counted) and None, 1)
    try:
        ask(books)
    finally:
        driver.set_progress_handler(None, 1)
    return next(counted)
