"""Moves the books of all groups from one database to another, all or none, and counts what arrived."""

from __future__ import annotations

from collections.abc import Generator, Iterator
from contextlib import closing, contextmanager
from typing import Any

from sqlalchemy import Connection, Table, func, insert, select, text
from sqlalchemy.exc import DataError, IntegrityError

from bot.storage import engines, migrating, trouble
from bot.storage.books import Database
from bot.storage.columns import metadata
from bot.storage.tables import groups, members, postings

BATCH = 1_000
"""How many rows are held in memory at once."""
_ANY_GROUP = select(groups.c.id).limit(1)
_BALANCES = (
    select(members.c.id, members.c.balance, func.sum(postings.c.amount))
    .outerjoin(postings, (postings.c.group_id == members.c.group_id) & (postings.c.member_id == members.c.id))
    .group_by(members.c.id, members.c.balance)
)


def move(source: str, target: str) -> dict[str, int]:
    """Copy the whole database at one URL into the empty one at another; the rows of each table.

    The source stays as it is. Raises DatabaseTroubleError, and then the target stays as it is, too.
    """
    if engines.url_of(source) == engines.url_of(target):
        raise trouble.sentence(engines.url_of(source), trouble.SAME)
    with _snapshot(source) as given:
        migrating.check(given)
        if given.execute(_ANY_GROUP).first() is None:
            raise trouble.sentence(given.engine.url, trouble.NO_BOOKS)
        with closing(Database(target)) as database, database.transaction() as kept:
            _make_ready(kept)
            for table in metadata.sorted_tables:
                _copy(table, given, kept)
            counts = _verified(given, kept)
            _count_on(kept)
            return counts


@contextmanager
def _snapshot(address: str) -> Iterator[Connection]:
    """Everything that a database holds at one moment, to be read alone."""
    engine = engines.reader_of(address)
    try:
        with trouble.told(engine.url), engine.connect() as connection:
            engines.begin_snapshot(connection)
            yield connection
    finally:
        engine.dispose()


def _make_ready(kept: Connection) -> None:
    migrating.upgrade(kept)
    if kept.dialect.name == "postgresql":
        # A clerk that already serves this database founds no group until the move has ended.
        kept.execute(text("LOCK TABLE groups IN SHARE ROW EXCLUSIVE MODE"))
    if kept.execute(_ANY_GROUP).first() is not None:
        raise trouble.sentence(kept.engine.url, trouble.NOT_EMPTY)


def _copy(table: Table, given: Connection, kept: Connection) -> None:
    with closing(_batches(table, given)) as batches:
        for batch in batches:
            try:
                kept.execute(insert(table), batch)
            except (DataError, IntegrityError) as fault:
                # One database takes what another refuses: a character of code zero, a number beyond its column.
                reason = f"{table.name}: {str(fault.orig).splitlines()[0]}"
                raise trouble.sentence(kept.engine.url, trouble.UNFIT, reason) from fault


def _batches(table: Table, given: Connection) -> Generator[list[dict[str, Any]], None, None]:
    # The oldest first, as they were made: a row may refer to an older one of its own table.
    rows = select(table).order_by(*table.primary_key).execution_options(yield_per=BATCH)
    with trouble.told(given.engine.url), given.execute(rows) as found:
        for batch in found.mappings().partitions():
            yield [dict(row) for row in batch]


def _verified(given: Connection, kept: Connection) -> dict[str, int]:
    """The rows of each table. Raises DatabaseTroubleError where they, or the members' balances, are not the same."""
    counts = {}
    for table in metadata.sorted_tables:
        counts[table.name], arrived = _count(table, given), _count(table, kept)
        if arrived != counts[table.name]:
            reason = f"{arrived:,} of {counts[table.name]:,} rows in {table.name}"
            raise trouble.sentence(kept.engine.url, trouble.UNEQUAL, reason)
    if set(given.execute(_BALANCES)) != set(kept.execute(_BALANCES)):
        raise trouble.sentence(kept.engine.url, trouble.UNEQUAL, "the members' balances are not the same")
    return counts


def _count(table: Table, connection: Connection) -> int:
    return connection.execute(select(func.count()).select_from(table)).scalar_one()


def _count_on(kept: Connection) -> None:
    """Let PostgreSQL number the next row of each table after the highest; SQLite looks for itself."""
    if kept.dialect.name != "postgresql":
        return
    for table in metadata.sorted_tables:
        number = table.autoincrement_column
        if number is not None:
            own = func.pg_get_serial_sequence(table.name, number.name)
            kept.execute(select(func.setval(own, func.max(number))))
