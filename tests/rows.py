"""Every row that a database holds, or those of one group: for tests of what is left, and of what is not touched."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Table, select

from bot.storage.books import Database
from bot.storage.columns import metadata

Rows = dict[str, list[dict[str, Any]]]


def all_rows(database: Database) -> Rows:
    """The rows of every table, by its name."""
    with database.reading() as connection:
        return {
            table.name: [dict(row) for row in connection.execute(select(table).order_by(*table.primary_key)).mappings()]
            for table in metadata.sorted_tables
        }


def group_rows(database: Database, chat: str) -> Rows:
    """The rows of the group that a chat shows: those that carry its number, and what its home chat has sent."""
    rows = all_rows(database)
    number = next(row["group_id"] for row in rows["chats"] if row["chat"] == chat)
    return {
        name: [row for row in rows[name] if _is_of(table, row, number, chat)] for name, table in metadata.tables.items()
    }


def _is_of(table: Table, row: dict[str, Any], number: int, chat: str) -> bool:
    if "group_id" in table.c:
        return bool(row["group_id"] == number)
    return bool(row["id"] == number if table.name == "groups" else row["chat"] == chat)


def saying(rows: Rows, *words: str) -> list[tuple[str, str]]:
    """The tables and columns whose texts say one of these words, whatever its case."""
    return [
        (name, column)
        for name, found in rows.items()
        for row in found
        for column, value in row.items()
        if isinstance(value, str) and any(word.casefold() in value.casefold() for word in words)
    ]
