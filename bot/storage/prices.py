"""Prices: sightings, purchases and notes in; an item's history out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import (
    BigInteger,
    Boolean,
    ColumnElement,
    Date,
    Double,
    Executable,
    Insert,
    Integer,
    Join,
    Table,
    Text,
    bindparam,
    exists,
    false,
    func,
    insert,
    literal,
    or_,
    select,
    true,
)

from bot.storage import histories
from bot.storage.books import Books
from bot.storage.columns import Moment, Number
from bot.storage.group import add_store
from bot.storage.stock import move
from bot.storage.tables import entries, items, members, price_points, purchases, sightings, stores
from bot.storage.tables import notes as remarks
from core.items import Note
from core.prices import (
    RECENT_LOW_MONTHS,
    USUAL_MONTHS,
    History,
    PriceSeen,
    Purchase,
    Sighting,
    since,
    usual_of,
)
from core.stock import Move, Why

_GROUP = bindparam("in_group", type_=Number)
_ITEM = bindparam("of_item", type_=Text)
_STORE = bindparam("at_store", type_=Text)
_UNDER_ENTRY = items.join(entries, entries.c.group_id == items.c.group_id)
_AT_STORE = _UNDER_ENTRY.outerjoin(stores, (stores.c.group_id == items.c.group_id) & (stores.c.name == _STORE))
_BY_BUYER = _AT_STORE.join(
    members,
    (members.c.group_id == items.c.group_id) & (members.c.name == bindparam("by_buyer", type_=Text)),
)


def _recording(table: Table, source: Join, **columns: ColumnElement[Any]) -> Insert:
    """A row for a living item under an entry of the same group; none if the shop named is not known yet."""
    named = (items.c.group_id == _GROUP, items.c.name == _ITEM, items.c.live)
    of_entry = entries.c.id == bindparam("under_entry", type_=Number)
    known_shop = or_(_STORE.is_(None), stores.c.id.is_not(None)) if "store_id" in columns else true()
    own = {"group_id": items.c.group_id, "item_id": items.c.id, "entry_id": entries.c.id, "live": true()}
    rows = select(*own.values(), *columns.values()).select_from(source).where(*named, of_entry, known_shop)
    return insert(table).from_select([*own, *columns], rows).execution_options(preserve_rowcount=True)


_ADD_SIGHTING = _recording(
    sightings,
    _AT_STORE,
    store_id=stores.c.id,
    count=bindparam("units", type_=Integer),
    price=bindparam("minor", type_=BigInteger),
    regular=bindparam("before", type_=BigInteger),
    until=bindparam("last_day", type_=Date),
    pack_limit=bindparam("packs", type_=Integer),
    seen_on=bindparam("on_day", type_=Date),
    month=bindparam("in_month", type_=Integer),
    unit_price=bindparam("for_one", type_=Double),
    marked_down=bindparam("down", type_=Boolean),
)
_ADD_PURCHASE = _recording(
    purchases,
    _BY_BUYER,
    store_id=stores.c.id,
    buyer_id=members.c.id,
    count=bindparam("units", type_=Integer),
    price=bindparam("minor", type_=BigInteger),
    day=bindparam("on_day", type_=Date),
)
_ADD_NOTE = _recording(remarks, _UNDER_ENTRY, text=bindparam("remark", type_=Text), day=bindparam("on_day", type_=Date))
_NOTES = (
    select(items.c.name, remarks.c.text, members.c.name, remarks.c.day)
    .select_from(remarks)
    .join(items, (items.c.group_id == remarks.c.group_id) & (items.c.id == remarks.c.item_id))
    .join(entries, (entries.c.group_id == remarks.c.group_id) & (entries.c.id == remarks.c.entry_id))
    .join(members, (members.c.group_id == entries.c.group_id) & (members.c.id == entries.c.member_id))
    .where(remarks.c.group_id == _GROUP, remarks.c.live, items.c.name == _ITEM)
    .order_by(remarks.c.day.desc(), remarks.c.id.desc())
)


_BOUGHT = (
    select(items.c.name, purchases.c.count, purchases.c.price, purchases.c.day, members.c.name, stores.c.name)
    .select_from(purchases)
    .join(items, (items.c.group_id == purchases.c.group_id) & (items.c.id == purchases.c.item_id))
    .join(members, (members.c.group_id == purchases.c.group_id) & (members.c.id == purchases.c.buyer_id))
    .outerjoin(stores, (stores.c.group_id == purchases.c.group_id) & (stores.c.id == purchases.c.store_id))
    .where(purchases.c.group_id == _GROUP, purchases.c.live, purchases.c.entry_id == bindparam("in_entry"))
    .order_by(purchases.c.id)
)
_SEEN = (
    select(items.c.name, sightings.c.count, sightings.c.price, sightings.c.seen_on, stores.c.name)
    .add_columns(sightings.c.regular, sightings.c.until, sightings.c.pack_limit)
    .select_from(sightings)
    .join(items, (items.c.group_id == sightings.c.group_id) & (items.c.id == sightings.c.item_id))
    .outerjoin(stores, (stores.c.group_id == sightings.c.group_id) & (stores.c.id == sightings.c.store_id))
    .where(sightings.c.group_id == _GROUP, sightings.c.live, sightings.c.entry_id == bindparam("in_entry"))
    .order_by(sightings.c.id)
)
_LAST_BOUGHT = (
    select(purchases.c.entry_id)
    .join(entries, (entries.c.group_id == purchases.c.group_id) & (entries.c.id == purchases.c.entry_id))
    .join(items, (items.c.group_id == purchases.c.group_id) & (items.c.id == purchases.c.item_id))
    .where(purchases.c.group_id == _GROUP, purchases.c.live, or_(_ITEM.is_(None), items.c.name == _ITEM))
    .order_by(purchases.c.id.desc())
    .limit(1)
)
_LAST_BOUGHT_BY = _LAST_BOUGHT.join(
    members, (members.c.group_id == purchases.c.group_id) & (members.c.id == purchases.c.buyer_id)
).where(members.c.name == bindparam("by_buyer", type_=Text))
_LAST_BOUGHT_SINCE = _LAST_BOUGHT.where(entries.c.made_at >= bindparam("since", type_=Moment))


def add_sighting(books: Books, entry: int, sighting: Sighting) -> None:
    """Record a price seen; a new shop is added. Raises KeyError for an unknown item or entry."""
    values = {
        "units": sighting.count,
        "minor": sighting.price,
        "before": sighting.regular,
        "last_day": sighting.until,
        "packs": sighting.pack_limit,
        "on_day": sighting.seen_on,
        "in_month": _month(sighting.seen_on),
        "for_one": sighting.price / sighting.count,
        "down": sighting.regular is not None,
    }
    _record(books, entry, _ADD_SIGHTING, sighting, values)


def add_purchase(books: Books, entry: int, purchase: Purchase) -> None:
    """Record a purchase, its units in the buyer's stock; a new shop is added.

    Raises KeyError for an unknown item, buyer or entry.
    """
    values = {
        "by_buyer": purchase.buyer,
        "units": purchase.count,
        "minor": purchase.price,
        "on_day": purchase.on,
    }
    _record(books, entry, _ADD_PURCHASE, purchase, values)
    move(books, entry, Move(purchase.item, purchase.buyer, purchase.count, Why.BOUGHT, purchase.on))


def add_note(books: Books, entry: int, note: Note) -> None:
    """Keep a remark, by the member of the entry. Raises KeyError for an unknown item or entry."""
    _record(books, entry, _ADD_NOTE, note, {"remark": note.text, "on_day": note.on})


def bought_in(books: Books, entry: int) -> list[Purchase]:
    """The purchases that an entry holds."""
    rows = books.connection.execute(_BOUGHT, {"in_group": books.group_id, "in_entry": entry})
    return [Purchase(*row) for row in rows]


def seen_in(books: Books, entry: int) -> list[Sighting]:
    """The prices seen that an entry holds."""
    rows = books.connection.execute(_SEEN, {"in_group": books.group_id, "in_entry": entry})
    return [Sighting(*row) for row in rows]


def last_bought(books: Books, buyer: str, since: datetime, item: str | None = None) -> int | None:
    """The entry of the buyer's last purchase (of an item), else of the last that anyone made since a moment."""
    values = {"in_group": books.group_id, "of_item": item}
    own: int | None = books.connection.execute(_LAST_BOUGHT_BY, {**values, "by_buyer": buyer}).scalar()
    if own is not None:
        return own
    return books.connection.execute(_LAST_BOUGHT_SINCE, {**values, "since": since}).scalar()


def history(books: Books, item: str, on: date) -> History:
    """What is remembered of an item's price on a day; empty for an unknown item."""
    recent = since(on, RECENT_LOW_MONTHS)
    values = {"since": recent, "since_month": _month(recent), "usual_since": since(on, USUAL_MONTHS)}
    picked: dict[str, Sighting] = {}
    usual: list[PriceSeen] = []
    newest = on
    for part, *row in _rows(books, histories.HISTORY, item, values):
        if part == histories.USUAL:
            _, count, price, newest, _, times, _, _ = row
            usual.append(PriceSeen(price, count, times))
        else:
            picked[part] = Sighting(*row)
    lowest, recently, latest = map(picked.get, (histories.LOWEST, histories.RECENT, histories.LATEST))
    return History(lowest, recently, usual_of(usual, newest), latest)


def notes(books: Books, item: str) -> list[Note]:
    """The remarks on an item, newest first."""
    return [Note(*row) for row in _rows(books, _NOTES, item, {})]


def latest_by_store(books: Books, item: str, since: date) -> list[Sighting]:
    """The newest sighting of each shop since a day, cheapest first; no shop counts as one shop."""
    return [Sighting(*row) for row in _rows(books, histories.LATEST_BY_STORE, item, {"since": since})]


@dataclass(frozen=True, slots=True)
class PackPrice:
    """A price of so many units, and whether it is what somebody paid; else it was read off a shelf."""

    sighting: Sighting
    paid: bool


def newest_by_pack(books: Books, since: date) -> list[PackPrice]:
    """Of every item, shop and count the newest price on the shelf and the newest paid, since a day; newest first."""
    bought = exists().where(
        purchases.c.group_id == sightings.c.group_id,
        purchases.c.entry_id == sightings.c.entry_id,
        purchases.c.item_id == sightings.c.item_id,
    )
    own = (sightings.c.group_id == _GROUP, sightings.c.live, sightings.c.seen_on >= bindparam("since", type_=Date))
    told = select(sightings, bought.label("paid")).where(*own).subquery()
    newest = func.row_number().over(
        partition_by=(told.c.item_id, told.c.store_id, told.c.count, told.c.paid),
        order_by=(told.c.seen_on.desc(), told.c.id.desc()),
    )
    ranked = select(told, newest.label("rank")).subquery()
    picked = (
        select(items.c.name, *(ranked.c[name] for name in ("count", "price", "seen_on")), stores.c.name)
        .add_columns(*(ranked.c[name] for name in ("regular", "until", "pack_limit", "paid")))
        .join(items, (items.c.group_id == ranked.c.group_id) & (items.c.id == ranked.c.item_id))
        .outerjoin(stores, (stores.c.group_id == ranked.c.group_id) & (stores.c.id == ranked.c.store_id))
        .where(ranked.c.rank == 1)
        .order_by(ranked.c.seen_on.desc(), ranked.c.id.desc())
    )
    rows = books.connection.execute(picked, {"in_group": books.group_id, "since": since})
    return [PackPrice(Sighting(*row[:-1]), bool(row[-1])) for row in rows]


def seen_between(books: Books, spans: Sequence[tuple[date, date]], item: str | None = None) -> list[Sighting]:
    """The sightings on the days of some spans, first and last day included, of one item or of all; oldest first."""
    inside = or_(false(), *(sightings.c.seen_on.between(first, last) for first, last in spans))
    told = (
        select(items.c.name, sightings.c.count, sightings.c.price, sightings.c.seen_on, stores.c.name)
        .join(items, (items.c.group_id == sightings.c.group_id) & (items.c.id == sightings.c.item_id))
        .outerjoin(stores, (stores.c.group_id == sightings.c.group_id) & (stores.c.id == sightings.c.store_id))
        .where(sightings.c.group_id == books.group_id, sightings.c.live, inside)
        .order_by(sightings.c.seen_on, sightings.c.id)
    )
    if item is not None:
        told = told.where(items.c.name == item)
    return [Sighting(*row) for row in books.connection.execute(told)]


def anything_priced(books: Books) -> bool:
    """Whether the group has entered any price or price point."""
    seen = exists().where(sightings.c.group_id == books.group_id, sightings.c.live)
    said = exists().where(price_points.c.group_id == books.group_id, price_points.c.live)
    return bool(books.connection.execute(select(or_(seen, said))).scalar())


def spent(books: Books, first: date, last: date) -> int:
    """What the purchases of some days came to, in minor units."""
    own = (purchases.c.group_id == books.group_id, purchases.c.live, purchases.c.day.between(first, last))
    paid = select(func.coalesce(func.sum(purchases.c.price), literal(0))).where(*own)
    return int(books.connection.execute(paid).scalar_one())


def monthly_lows(books: Books, item: str, since: date) -> list[Sighting]:
    """The lowest sighting of each month that has one since a day, oldest first."""
    values = {"since": since, "since_month": _month(since)}
    return [Sighting(*row) for row in _rows(books, histories.MONTHLY_LOWS, item, values)]


def recent(books: Books, item: str, most: int) -> list[Sighting]:
    """The newest sightings of an item, at most so many, newest first."""
    return [Sighting(*row) for row in _rows(books, histories.NEWEST, item, {"most": most})]


def _month(day: date) -> int:
    return day.year * 12 + day.month - 1


def _rows(books: Books, statement: Executable, item: str, values: Mapping[str, Any]) -> Any:
    return books.connection.execute(statement, {"in_group": books.group_id, "of_item": item, **values})


def _record(
    books: Books, entry: int, statement: Insert, row: Sighting | Purchase | Note, values: Mapping[str, Any]
) -> None:
    store = None if isinstance(row, Note) else row.store
    named = {"under_entry": entry, "at_store": store, **values}
    if _rows(books, statement, row.item, named).rowcount:
        return
    # Nothing was written: most often because the shop is new.
    if store is not None:
        add_store(books, store)
    if store is None or not _rows(books, statement, row.item, named).rowcount:
        raise KeyError(row.item)
