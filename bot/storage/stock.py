"""Stock: what came to whom, and went."""

from __future__ import annotations

from sqlalchemy import Integer, Text, bindparam, func, insert, literal, select, true

from bot.storage.books import Books
from bot.storage.columns import Number
from bot.storage.tables import items, members, stock_moves

_GROUP = bindparam("in_group", type_=Number)
_MOVE = insert(stock_moves).from_select(
    ["group_id", "item_id", "member_id", "entry_id", "units", "live"],
    select(
        items.c.group_id,
        items.c.id,
        members.c.id,
        bindparam("under_entry", type_=Number),
        bindparam("so_many", type_=Integer),
        true(),
    )
    .join(members, members.c.group_id == items.c.group_id)
    .where(
        items.c.group_id == _GROUP,
        items.c.name == bindparam("of_item", type_=Text),
        members.c.name == bindparam("to_member", type_=Text),
    ),
)
_UNITS = func.coalesce(func.sum(stock_moves.c.units), literal(0))
_HELD = (
    select(members.c.name, _UNITS)
    .select_from(stock_moves)
    .join(items, (items.c.group_id == stock_moves.c.group_id) & (items.c.id == stock_moves.c.item_id))
    .join(members, (members.c.group_id == stock_moves.c.group_id) & (members.c.id == stock_moves.c.member_id))
    .where(stock_moves.c.group_id == _GROUP, stock_moves.c.live, items.c.name == bindparam("of_item", type_=Text))
    .group_by(members.c.name)
    .having(_UNITS != 0)
)


def move(books: Books, entry: int, item: str, member: str, units: int) -> None:
    """Add units of a known item to what a member holds, or (below zero) take them away."""
    values = {"under_entry": entry, "so_many": units, "of_item": item, "to_member": member}
    books.connection.execute(_MOVE, {"in_group": books.group_id, **values})


def held(books: Books, item: str) -> dict[str, int]:
    """How many units of an item each member holds."""
    rows = books.connection.execute(_HELD, {"in_group": books.group_id, "of_item": item})
    return {name: int(units) for name, units in rows}
