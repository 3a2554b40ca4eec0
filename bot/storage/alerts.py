"""Deal alerts: which were posted, which wait, and which the group does not want."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from fractions import Fraction
from typing import Any

from sqlalchemy import Date, Row, Text, bindparam, func, insert, select, update

from bot.storage.books import Books
from bot.storage.calendar_tables import alerts
from bot.storage.columns import Number
from bot.storage.group import add_store
from bot.storage.rows import number_of
from bot.storage.tables import items, sightings, stores
from core.prices import Sighting


class State(StrEnum):
    """Where an alert stands."""

    POSTED = "posted"
    WAITING = "waiting"
    """Held until the quiet hours end."""
    GATHERED = "gathered"
    """Beyond the day's number: told in one post with others of its sort."""
    TOLD = "told"
    """Told in one post with others, which does not count among the day's."""
    DECLINED = "declined"
    DROPPED = "dropped"


@dataclass(frozen=True, slots=True)
class Alert:
    """An alert under its number, of the sighting of an entry; ``day`` is the day since which it stands so."""

    number: int
    entry: int
    sighting: Sighting
    day: date
    state: State


def add_alert(books: Books, entry: int, sighting: Sighting, day: date, state: State) -> int:
    """Keep an alert; its number. Raises KeyError for an unknown item."""
    if sighting.store is not None:
        add_store(books, sighting.store)
    values = {
        "group_id": books.group_id,
        "entry_id": entry,
        "live": True,
        "item_id": number_of(books, items, sighting.item),
        "store_id": None if sighting.store is None else number_of(books, stores, sighting.store),
        "count": sighting.count,
        "price": sighting.price,
        "until": sighting.until,
        "pack_limit": sighting.pack_limit,
        "day": day,
        "state": state.value,
    }
    number: int = books.connection.execute(insert(alerts).values(**values).returning(alerts.c.id)).scalar_one()
    return number


def set_state(books: Books, number: int, state: State, day: date) -> None:
    """Say where an alert stands from a day on."""
    own = (alerts.c.group_id == books.group_id, alerts.c.id == number)
    books.connection.execute(update(alerts).where(*own).values(state=state.value, day=day))


_COLUMNS = (
    select(
        alerts.c.id,
        alerts.c.entry_id,
        items.c.name.label("item"),
        alerts.c.count.label("units"),
        alerts.c.price,
        alerts.c.day,
        stores.c.name.label("store"),
        alerts.c.until,
        alerts.c.pack_limit,
        alerts.c.state,
    )
    .join(items, (items.c.group_id == alerts.c.group_id) & (items.c.id == alerts.c.item_id))
    .outerjoin(stores, (stores.c.group_id == alerts.c.group_id) & (stores.c.id == alerts.c.store_id))
    .where(alerts.c.live)
    .order_by(alerts.c.id)
)


def alert(books: Books, number: int) -> Alert | None:
    """The alert of this number, unless its entry was taken back."""
    rows = books.connection.execute(_COLUMNS.where(alerts.c.group_id == books.group_id, alerts.c.id == number))
    return next((_alert(row) for row in rows), None)


def alerts_since(books: Books, item: str, day: date) -> list[Alert]:
    """The alerts of an item since a day, oldest first."""
    own = (alerts.c.group_id == books.group_id, items.c.name == item, alerts.c.day >= day)
    return [_alert(row) for row in books.connection.execute(_COLUMNS.where(*own))]


def held(books: Books) -> list[Alert]:
    """The alerts that wait for the morning, oldest first."""
    own = (alerts.c.group_id == books.group_id, alerts.c.state.in_((State.WAITING.value, State.GATHERED.value)))
    return [_alert(row) for row in books.connection.execute(_COLUMNS.where(*own))]


def posted_on(books: Books, day: date) -> int:
    """How many alerts were posted on a day."""
    own = (
        alerts.c.group_id == books.group_id,
        alerts.c.day == day,
        alerts.c.state == State.POSTED.value,
        alerts.c.live,
    )
    found: int = books.connection.execute(select(func.count()).select_from(alerts).where(*own)).scalar_one()
    return found


_LOWEST = (
    select(sightings.c.price, sightings.c.count)
    .join(items, (items.c.group_id == sightings.c.group_id) & (items.c.id == sightings.c.item_id))
    .where(
        sightings.c.group_id == bindparam("in_group", type_=Number),
        sightings.c.live,
        sightings.c.seen_on >= bindparam("since", type_=Date),
        items.c.name == bindparam("of_item", type_=Text),
        sightings.c.entry_id < bindparam("before_entry", type_=Number),
    )
    .order_by(sightings.c.unit_price)
    .limit(1)
)


def lowest_since(books: Books, item: str, since: date, entry: int) -> Fraction | None:
    """The lowest unit price of an item since a day, but for what one entry and those after it said."""
    values = {"in_group": books.group_id, "since": since, "of_item": item, "before_entry": entry}
    found = books.connection.execute(_LOWEST, values).first()
    return Fraction(found[0], found[1]) if found else None


def _alert(row: Row[*tuple[Any, ...]]) -> Alert:
    seen = Sighting(row.item, row.units, row.price, row.day, row.store, until=row.until, pack_limit=row.pack_limit)
    return Alert(row.id, row.entry_id, seen, row.day, State(row.state))
