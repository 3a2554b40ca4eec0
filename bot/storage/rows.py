"""What storage files do alike: find a row of the group by its name, keep what is said, find what stands of it."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Table, bindparam, insert, literal, select, update

from bot.storage.books import Books
from bot.storage.columns import Number
from bot.storage.tables import groups

_CHANGED = (
    update(groups)
    .where(groups.c.id == bindparam("in_group", type_=Number))
    .values(names_version=groups.c.names_version + literal(1))
)


def number_of(books: Books, table: Table, name: str) -> int:
    """The number of the group's row of this name in a table that has names. Raises KeyError."""
    own = (table.c.group_id == books.group_id, table.c.name == name)
    number: int | None = books.connection.execute(select(table.c.id).where(*own)).scalar()
    if number is None:
        raise KeyError(name)
    return number


def names_changed(books: Books) -> None:
    """What ``load_group`` answers is no longer the same."""
    books.connection.execute(_CHANGED, {"in_group": books.group_id})


def say(books: Books, table: Table, entry: int | None, values: dict[str, Any]) -> None:
    """Keep what an entry says of the group (None: what came with it), in a table whose newest living row counts."""
    books.connection.execute(insert(table), {"group_id": books.group_id, "entry_id": entry, "live": True, **values})
    names_changed(books)


def living(books: Books, table: Table, told: Any) -> list[Any]:
    """The living rows of the group in such a table, the newest last."""
    own = told.where(table.c.group_id == books.group_id, table.c.live).order_by(table.c.id)
    return list(books.connection.execute(own).all())
