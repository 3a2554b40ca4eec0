"""Engines for SQLite and PostgreSQL, set so that a committed transaction stays and writers take turns."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Engine, QueuePool, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, NoSuchModuleError

from bot.storage import trouble

BUSY_SECONDS = 5
CONNECT_SECONDS = 5
POOL_SIZE = 10
PRAGMAS = (
    "PRAGMA foreign_keys = ON",
    "PRAGMA synchronous = FULL",
)


def engine_of(address: str) -> Engine:
    """The engine of a database URL. Raises DatabaseTroubleError for a URL or driver that is not known."""
    return _engine(url_of(address), _sqlite)


def reader_of(address: str) -> Engine:
    """The same for a database that is only read: it is neither made nor changed. Raises DatabaseTroubleError."""
    return _engine(url_of(address), _sqlite_to_read)


def _engine(url: URL, sqlite: Callable[[URL], Engine]) -> Engine:
    try:
        return sqlite(url) if url.get_backend_name() == "sqlite" else _postgresql(url)
    except ModuleNotFoundError as missing:
        raise trouble.sentence(url, trouble.NO_DRIVER, missing.name or "") from missing


def url_of(address: str) -> URL:
    """The address, understood. Raises DatabaseTroubleError for one that is not known."""
    try:
        url = make_url(address)
        if url.drivername == "postgresql":
            url = url.set(drivername="postgresql+psycopg")
        backend = url.get_backend_name()
        url.get_dialect()
    except (ArgumentError, NoSuchModuleError) as fault:
        raise trouble.DatabaseTroubleError(trouble.BAD_URL.format(place=_hidden(address))) from fault
    if backend not in ("sqlite", "postgresql"):
        raise trouble.sentence(url, trouble.BAD_URL)
    return url


def _hidden(address: str) -> str:
    return address.rpartition("@")[2]


def _sqlite(url: URL) -> Engine:
    options: dict[str, Any] = {"connect_args": {"check_same_thread": False}, "poolclass": QueuePool}
    if url.database in (None, "", ":memory:"):
        # The books in memory last as long as their one connection; other threads wait for their turn.
        options |= {"pool_size": 1, "max_overflow": 0, "pool_timeout": BUSY_SECONDS}
    query = {"timeout": str(BUSY_SECONDS), **url.query}
    engine = create_engine(url.set(query=query), **options)
    event.listen(engine, "connect", _set_pragmas)
    return engine


def _sqlite_to_read(url: URL) -> Engine:
    file = Path(url.database or "")
    if not file.is_file():
        raise trouble.sentence(url, trouble.NO_FILE)

    def opened() -> sqlite3.Connection:
        # Not "mode=ro": that leaves the two files of SQLite's log beside the books.
        place = f"{file.absolute().as_uri()}?mode=rw"
        connection = sqlite3.connect(place, BUSY_SECONDS, isolation_level=None, uri=True)
        connection.execute("PRAGMA query_only = ON")
        return connection

    return create_engine(url, creator=opened)


def _postgresql(url: URL) -> Engine:
    query = {"connect_timeout": str(CONNECT_SECONDS), **url.query}
    return create_engine(url.set(query=query), pool_pre_ping=True, pool_size=POOL_SIZE, max_overflow=POOL_SIZE)


def _set_pragmas(connection: sqlite3.Connection, _record: object) -> None:
    connection.isolation_level = None
    for pragma in PRAGMAS:
        connection.execute(pragma)
    with suppress(sqlite3.OperationalError):
        # Refused while another worker switches the same file; it is the file that is switched, and for good.
        connection.execute("PRAGMA journal_mode = WAL")


def begin(connection: Connection) -> None:
    """Open the transaction; SQLite's takes the write lock at once: one that has read cannot wait for it."""
    if connection.dialect.name == "sqlite":
        connection.connection.cursor().execute("BEGIN IMMEDIATE")


def begin_snapshot(connection: Connection) -> None:
    """Open a transaction that sees what the database holds at its first look, and keeps no writer waiting."""
    if connection.dialect.name == "sqlite":
        connection.connection.cursor().execute("BEGIN")
    else:
        connection.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
