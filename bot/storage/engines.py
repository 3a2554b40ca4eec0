"""Engines for SQLite and PostgreSQL, set so that a committed transaction stays and writers take turns."""

from __future__ import annotations

import sqlite3
from contextlib import suppress
from typing import Any

from sqlalchemy import URL, Connection, Engine, QueuePool, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, NoSuchModuleError

from bot.storage import trouble

BUSY_SECONDS = 5
CONNECT_SECONDS = 5
PRAGMAS = (
    "PRAGMA foreign_keys = ON",
    "PRAGMA synchronous = FULL",
)


def engine_of(address: str) -> Engine:
    """The engine of a database URL. Raises DatabaseTroubleError for a URL or driver that is not known."""
    url = _url(address)
    try:
        return _sqlite(url) if url.get_backend_name() == "sqlite" else _postgresql(url)
    except ModuleNotFoundError as missing:
        raise trouble.sentence(url, trouble.NO_DRIVER, missing.name or "") from missing


def _url(address: str) -> URL:
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


def _postgresql(url: URL) -> Engine:
    query = {"connect_timeout": str(CONNECT_SECONDS), **url.query}
    return create_engine(url.set(query=query), pool_pre_ping=True)


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
