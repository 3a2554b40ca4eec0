"""What storage files do alike: find a row of the group by its name, note that its names are no longer the same."""

from __future__ import annotations

from sqlalchemy import Table, bindparam, literal, select, update

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
