"""The group itself: its settings, and every name it has for members, shops, items and kits."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import Any

from sqlalchemy import Row, Table, Text, bindparam, exists, insert, select, update

from bot.storage.books import Books
from bot.storage.calendar import said_settings, windows
from bot.storage.columns import Number
from bot.storage.kits import barred, budget, flagged, load_kits
from bot.storage.rows import names_changed
from bot.storage.tables import aliases, groups, items, members, price_points, stores
from core.choices import chosen
from core.group import Group, Settings
from core.items import Item, PricePoint
from core.money import Rounding, currency

_GROUP = bindparam("in_group", type_=Number)
_ITEM = bindparam("of_item", type_=Text)
_STORE = bindparam("at_store", type_=Text)

_VERSION = select(groups.c.names_version).where(groups.c.id == _GROUP)
_BY_KEY = select(members.c.name).where(members.c.group_id == _GROUP, members.c.key == bindparam("by_key"))
_ADMINISTRATORS = (
    select(members.c.name).where(members.c.group_id == _GROUP, members.c.administrator).order_by(members.c.id)
)
_ADD_STORE = (
    insert(stores)
    .from_select(
        ["group_id", "name"],
        select(_GROUP, _STORE).where(~exists().where(stores.c.group_id == _GROUP, stores.c.name == _STORE)),
    )
    .execution_options(preserve_rowcount=True)
)
_PRICE_POINT = (
    select(price_points.c.target, price_points.c.limit)
    .join(items, (items.c.group_id == price_points.c.group_id) & (items.c.id == price_points.c.item_id))
    .where(price_points.c.group_id == _GROUP, price_points.c.live, items.c.name == _ITEM)
    .order_by(price_points.c.id.desc())
    .limit(1)
)


def names_version(books: Books) -> int:
    """A number that grows whenever ``load_group`` would answer otherwise."""
    found: int = books.connection.execute(_VERSION, {"in_group": books.group_id}).scalar_one()
    return found


def settings(books: Books) -> Settings:
    """What the group chose."""
    return _settings(books, _group_row(books))


def load_group(books: Books) -> Group:
    """The group with all its living names, each sort in the order in which it was added."""
    row = _group_row(books)
    return Group(
        row.name,
        _settings(books, row),
        _names(books, members),
        _names(books, stores),
        _items(books),
        load_kits(books),
        barred(books),
        budget(books),
        windows(books),
        tuple(books.connection.execute(_ADMINISTRATORS, {"in_group": books.group_id}).scalars()),
        bool(row.private),
    )


def member(books: Books, name: str, key: str | None, surname: str | None = None) -> str:
    """The group's name for whoever speaks: known by key, else by a name no other key holds, else new."""
    if key is not None and (known := _by_key(books, key)):
        return known
    same = [held for held in _members(books) if held.name.casefold() == name.casefold()]
    open_to_key = next((held for held in same if held.key is None or key is None), None)
    if open_to_key is None:
        return _new_member(books, name, key, surname)
    if key is not None:
        own = (members.c.group_id == books.group_id, members.c.id == open_to_key.id)
        books.connection.execute(update(members).where(*own).values(key=key))
    return str(open_to_key.name)


def _by_key(books: Books, key: str) -> str | None:
    """Who has this key; somebody who had left is a member again."""
    known: str | None = books.connection.execute(_BY_KEY, {"in_group": books.group_id, "by_key": key}).scalar()
    if known is None:
        left = (members.c.group_id == books.group_id, members.c.key == f"{_LEFT}{key}")
        back = update(members).where(*left).values(key=key).returning(members.c.name)
        known = books.connection.execute(back).scalar()
    return known


def leave(books: Books, key: str) -> None:
    """Whoever has this key has left the group: their name and all they entered stay, but they see it no more."""
    own = (members.c.group_id == books.group_id, members.c.key == key)
    books.connection.execute(update(members).where(*own).values(key=f"{_LEFT}{key}"))


_LEFT = "left:"
"""Stands before the key of somebody who has left, lest another of the same name be taken for them."""


def _members(books: Books) -> Sequence[Row[int, str, str | None]]:
    columns = select(members.c.id, members.c.name, members.c.key)
    return books.connection.execute(columns.where(members.c.group_id == books.group_id)).all()


def _new_member(books: Books, name: str, key: str | None, surname: str | None) -> str:
    """Add a member; one whose name another holds is told apart by the surname, else by a number."""
    free = free_name(books, name, surname)
    books.connection.execute(insert(members), {"group_id": books.group_id, "name": free, "key": key})
    names_changed(books)
    return free


def free_name(books: Books, name: str, surname: str | None = None) -> str:
    """A name that no member has: this one, with a surname or a number behind it where somebody has it."""
    held = {other.name.casefold() for other in _members(books)}
    if name.casefold() in held and surname:
        name = f"{name} {surname}"
    free, number = name, 1
    while free.casefold() in held:
        number += 1
        free = f"{name} {number}"
    return free


def add_store(books: Books, name: str) -> None:
    """Add a shop; nothing if it is known."""
    added = books.connection.execute(_ADD_STORE, {"in_group": books.group_id, "at_store": name})
    if added.rowcount:
        names_changed(books)


def add_item(books: Books, entry: int, name: str) -> None:
    """Add an item, or bring back one that was taken back; nothing if it lives."""
    found = books.connection.execute(
        select(items.c.id, items.c.live).where(items.c.group_id == books.group_id, items.c.name == name)
    ).first()
    if found is None:
        values = {"group_id": books.group_id, "name": name, "live": True, "entry_id": entry}
        books.connection.execute(insert(items), values)
    elif not found.live:
        own = (items.c.group_id == books.group_id, items.c.id == found.id)
        books.connection.execute(update(items).where(*own).values(live=True, entry_id=entry))
    else:
        return
    names_changed(books)


def add_alias(books: Books, entry: int, alias: str, item: str) -> None:
    """Give an item another name; nothing if it has that one. Raises KeyError for an unknown item."""
    values = {"group_id": books.group_id, "item_id": _item_id(books, item), "alias": alias, "live": True}
    same = [aliases.c[column] == value for column, value in values.items()]
    if books.connection.execute(select(aliases.c.id).where(*same)).first() is None:
        books.connection.execute(insert(aliases), {**values, "entry_id": entry})
        names_changed(books)


def set_price_point(books: Books, entry: int, item: str, point: PricePoint) -> None:
    """Set what an item should cost, in minor units for one. Raises KeyError for an unknown item."""
    values = {"group_id": books.group_id, "item_id": _item_id(books, item), "entry_id": entry, "live": True}
    said = {"target": point.target, "limit": point.limit}
    books.connection.execute(insert(price_points), {**values, **said})
    names_changed(books)


def price_points_in(books: Books, entry: int) -> list[tuple[str, PricePoint]]:
    """The price points that an entry has set, by item."""
    told = select(items.c.name, price_points.c.target, price_points.c.limit).join(
        items, (items.c.group_id == price_points.c.group_id) & (items.c.id == price_points.c.item_id)
    )
    own = (price_points.c.group_id == books.group_id, price_points.c.entry_id == entry)
    return [(name, PricePoint(target, limit)) for name, target, limit in books.connection.execute(told.where(*own))]


def price_point(books: Books, item: str) -> PricePoint:
    """What the item should cost, in minor units for one; an empty price point where nobody has said."""
    row = books.connection.execute(_PRICE_POINT, {"in_group": books.group_id, "of_item": item}).first()
    return PricePoint(*row) if row else PricePoint()


def _item_id(books: Books, name: str) -> int:
    own = (items.c.group_id == books.group_id, items.c.name == name, items.c.live)
    number: int | None = books.connection.execute(select(items.c.id).where(*own)).scalar()
    if number is None:
        raise KeyError(name)
    return number


def _group_row(books: Books) -> Row[*tuple[Any, ...]]:
    return books.connection.execute(select(groups).where(groups.c.id == books.group_id)).one()


def _settings(books: Books, row: Row[*tuple[Any, ...]]) -> Settings:
    """What the group was founded with, with what it has said since."""
    found = Settings(currency(row.currency), row.timezone, row.country, Rounding(row.rounding), row.tax_rate)
    for setting, value in said_settings(books).items():
        found = chosen(found, setting, value)
    return found


def _names(books: Books, table: Table) -> tuple[str, ...]:
    own = select(table.c.name).where(table.c.group_id == books.group_id).order_by(table.c.id)
    return tuple(books.connection.execute(own).scalars())


def _items(books: Books) -> tuple[Item, ...]:
    connection, group_id = books.connection, books.group_id
    living = select(items.c.id, items.c.name).where(items.c.group_id == group_id, items.c.live)
    called = select(aliases.c.item_id, aliases.c.alias).where(aliases.c.group_id == group_id, aliases.c.live)
    said = select(price_points.c.item_id, price_points.c.target, price_points.c.limit).where(
        price_points.c.group_id == group_id, price_points.c.live
    )
    names: dict[int, list[str]] = defaultdict(list)
    for number, alias in connection.execute(called.order_by(aliases.c.id)):
        names[number].append(alias)
    # The newest row of an item comes last and stays.
    points = {
        row.item_id: PricePoint(row.target, row.limit) for row in connection.execute(said.order_by(price_points.c.id))
    }
    hazards = flagged(books)
    return tuple(
        Item(name, tuple(names[number]), points.get(number, PricePoint()), hazards.get(name, frozenset()))
        for number, name in connection.execute(living.order_by(items.c.id))
    )
