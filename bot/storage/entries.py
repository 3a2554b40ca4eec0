"""Entries: what one message put into the books, and taking it back."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import Executable, Table, Text, bindparam, exists, func, insert, literal, select, union_all, update

from bot.storage.books import Books
from bot.storage.calendar_tables import alerts, reminder_times, reminders, settings_said, window_rules
from bot.storage.columns import Moment, Number
from bot.storage.ledger import reverse
from bot.storage.rows import names_changed
from bot.storage.shares import reopen
from bot.storage.stock_tables import (
    budgets,
    hazards,
    kit_ages,
    kit_contents,
    kit_costs,
    kit_goals,
    not_packed,
    packings,
    reservations,
    stock_moves,
)
from bot.storage.tables import (
    aliases,
    claims,
    entries,
    items,
    members,
    notes,
    parts,
    postings,
    price_points,
    purchases,
    sightings,
    splits,
)
from core.entries import Entry

_GROUP = bindparam("in_group", type_=Number)
_MEMBER = bindparam("by_member", type_=Text)
_OF_ITEMS = (
    sightings,
    purchases,
    notes,
    price_points,
    aliases,
    splits,
    stock_moves,
    kit_contents,
    reservations,
    hazards,
)
_HELD = (
    *_OF_ITEMS,
    claims,
    parts,
    kit_goals,
    kit_ages,
    kit_costs,
    packings,
    not_packed,
    budgets,
    settings_said,
    window_rules,
    reminders,
    reminder_times,
    alerts,
)

_ROWS = union_all(
    *(
        select(literal(table.name), func.count())
        .select_from(table)
        .where(table.c.group_id == _GROUP, table.c.entry_id == bindparam("number"))
        for table in (*_HELD, postings)
    )
)
"""How many rows of each table an entry holds."""

_NEW = (
    insert(entries)
    .from_select(
        ["group_id", "member_id", "made_at", "summary"],
        select(
            members.c.group_id,
            members.c.id,
            bindparam("at_moment", type_=Moment),
            bindparam("in_words", type_=Text),
        ).where(members.c.group_id == _GROUP, members.c.name == _MEMBER),
    )
    .returning(entries.c.id)
)
_MAKER, _UNDOER = members.alias("maker"), members.alias("undoer")
_ENTRY = (
    select(entries.c.id, _MAKER.c.name, entries.c.made_at, entries.c.summary, _UNDOER.c.name, entries.c.undone_at)
    .join(_MAKER, (_MAKER.c.group_id == entries.c.group_id) & (_MAKER.c.id == entries.c.member_id))
    .outerjoin(_UNDOER, (_UNDOER.c.group_id == entries.c.group_id) & (_UNDOER.c.id == entries.c.undone_by))
    .where(entries.c.group_id == _GROUP)
)
_NUMBERED = _ENTRY.where(entries.c.id == bindparam("number"))
_STANDING = _ENTRY.where(entries.c.undone_at.is_(None)).order_by(entries.c.id.desc())
_LAST = _STANDING.limit(1)
_MEMBER_ID = select(members.c.id).where(members.c.group_id == _GROUP, members.c.name == _MEMBER)
_LAST_OF_MEMBER = _LAST.where(entries.c.member_id == _MEMBER_ID.scalar_subquery())


def new_entry(books: Books, by: str, at: datetime, summary: str) -> int:
    """Open an entry of a member; its number. Raises KeyError for an unknown member."""
    values = {"in_group": books.group_id, "by_member": by, "at_moment": at, "in_words": summary}
    number: int | None = books.connection.execute(_NEW, values).scalar()
    if number is None:
        raise KeyError(by)
    return number


def entry(books: Books, number: int) -> Entry | None:
    """The entry of this number, taken back or not."""
    return _entry(books, _NUMBERED, number=number)


def rows_of(books: Books, number: int) -> dict[str, int]:
    """How many rows an entry holds, by the table they stand in; those taken back count as well."""
    rows = books.connection.execute(_ROWS, {"in_group": books.group_id, "number": number})
    return {table: count for table, count in rows if count}


def held_by(books: Books, number: int) -> dict[str, list[str]]:
    """What an entry says, table by table, so that two entries which say the same hold the same."""
    tables = {table.name: table for table in (*_HELD, postings)}
    return {name: _said(books, tables[name], number) for name in rows_of(books, number) if name != alerts.name}


def _said(books: Books, table: Table, number: int) -> list[str]:
    told = [column for column in table.c if column.name not in _OF_ROWS]
    own = (table.c.group_id == books.group_id, table.c.entry_id == number)
    return sorted(str(tuple(row)) for row in books.connection.execute(select(*told).where(*own)))


_OF_ROWS = frozenset(("id", "entry_id", "live", "reminder_id", "split_id", "purchase_id"))
"""Columns that tell rows apart, not what they say."""


def last_entry(books: Books, by: str | None) -> Entry | None:
    """The newest entry not taken back, of this member or of anyone."""
    return _entry(books, _LAST) if by is None else _entry(books, _LAST_OF_MEMBER, by_member=by)


def last_entries(books: Books, most: int) -> list[Entry]:
    """The newest entries not taken back, at most so many, newest first."""
    rows = books.connection.execute(_STANDING.limit(most), {"in_group": books.group_id})
    return [Entry(*row) for row in rows]


def _entry(books: Books, statement: Executable, **values: object) -> Entry | None:
    row = books.connection.execute(statement, {"in_group": books.group_id, **values}).first()
    return Entry(*row) if row else None


def undo(books: Books, number: int, by: str, at: datetime) -> Entry | None:
    """Take an entry back with all its rows; None if there is none or somebody has done so already.

    An item that the entry brought stays while other entries use it. Raises KeyError for an unknown member.
    """
    values = {"in_group": books.group_id, "by_member": by}
    undoer = books.connection.execute(_MEMBER_ID, values).scalar()
    if undoer is None:
        raise KeyError(by)
    stamped = books.connection.execute(
        update(entries)
        .where(entries.c.group_id == books.group_id, entries.c.id == number, entries.c.undone_at.is_(None))
        .values(undone_by=undoer, undone_at=at)
    )
    if not stamped.rowcount:
        return None
    for table in _HELD:
        own = (table.c.group_id == books.group_id, table.c.entry_id == number)
        books.connection.execute(update(table).where(*own).values(live=False))
    reverse(books, number)
    reopen(books, number)
    _drop_unused_items(books)
    names_changed(books)
    return entry(books, number)


def _drop_unused_items(books: Books) -> None:
    """Let go of items whose entry was taken back, now or before, and that nothing living uses any more."""
    undone = exists().where(
        entries.c.group_id == items.c.group_id,
        entries.c.id == items.c.entry_id,
        entries.c.undone_at.is_not(None),
    )
    used = [
        exists().where(table.c.group_id == items.c.group_id, table.c.item_id == items.c.id, table.c.live)
        for table in _OF_ITEMS
    ]
    unused = (undone, *(~use for use in used))
    books.connection.execute(
        update(items).where(items.c.group_id == books.group_id, items.c.live, *unused).values(live=False)
    )
