"""Finding a row of the group by its name."""

from __future__ import annotations

from sqlalchemy import Table, select

from bot.storage.books import Books


def number_of(books: Books, table: Table, name: str) -> int:
    """The number of the group's row of this name in a table that has names. Raises KeyError."""
    own = (table.c.group_id == books.group_id, table.c.name == name)
    number: int | None = books.connection.execute(select(table.c.id).where(*own)).scalar()
    if number is None:
        raise KeyError(name)
    return number
