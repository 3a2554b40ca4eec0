"""What was entered between two moments: prices, purchases, packed kits."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Select, Table, exists, func, select

from bot.storage.books import Books
from bot.storage.calendar_tables import reminder_times, reminders, settings_said, window_rules
from bot.storage.stock_tables import kits, packings
from bot.storage.tables import entries, items, purchases, sightings, stores
from core.prices import Sighting


@dataclass(frozen=True, slots=True)
class Entered:
    """How many entries, but for settings and reminders; the prices seen; minor units paid; kits packed, by name."""

    entries: int
    sightings: tuple[Sighting, ...]
    spent: int
    packed: dict[str, int]


def entered(books: Books, after: datetime, until: datetime) -> Entered:
    """What was entered after a moment and up to another, and not taken back."""
    inside = (
        entries.c.group_id == books.group_id,
        entries.c.undone_at.is_(None),
        entries.c.made_at > after,
        entries.c.made_at <= until,
    )
    only_said = [
        exists().where(table.c.group_id == entries.c.group_id, table.c.entry_id == entries.c.id) for table in _NO_NEWS
    ]
    count = select(func.count()).select_from(entries).where(*inside, *(~said for said in only_said))
    return Entered(
        books.connection.execute(count).scalar_one(),
        tuple(Sighting(*row) for row in _of_entries(books, _SEEN, sightings, *inside)),
        sum(price for (price,) in _of_entries(books, _PAID, purchases, *inside)),
        {name: int(units) for name, units in _of_entries(books, _PACKED, packings, *inside)},
    )


_NO_NEWS = (settings_said, window_rules, reminders, reminder_times)
_SEEN = (
    select(items.c.name, sightings.c.count, sightings.c.price, sightings.c.seen_on, stores.c.name)
    .select_from(sightings)
    .join(items, (items.c.group_id == sightings.c.group_id) & (items.c.id == sightings.c.item_id))
    .outerjoin(stores, (stores.c.group_id == sightings.c.group_id) & (stores.c.id == sightings.c.store_id))
)
_PAID = select(purchases.c.price)
_PACKED = (
    select(kits.c.name, func.sum(packings.c.count))
    .select_from(packings)
    .join(kits, (kits.c.group_id == packings.c.group_id) & (kits.c.id == packings.c.kit_id))
    .group_by(kits.c.name)
)


def _of_entries(books: Books, told: Select[Any], table: Table, *inside: ColumnElement[bool]) -> list[Any]:
    """The living rows that belong to the entries."""
    of_entry = (table.c.group_id == entries.c.group_id) & (table.c.entry_id == entries.c.id)
    return list(books.connection.execute(told.join(entries, of_entry).where(*inside, table.c.live)))
