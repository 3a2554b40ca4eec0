"""One group's books within one transaction: the only door to the database."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from dataclasses import dataclass, replace
from threading import Lock

from sqlalchemy import Connection, bindparam, select
from sqlalchemy.exc import IntegrityError

from bot.storage import engines, founding, migrating
from bot.storage.tables import chats, groups
from bot.storage.trouble import DatabaseTroubleError, told
from core.group import Group

__all__ = ["Books", "Database", "DatabaseTroubleError", "NoBooksError"]

_KNOWN = select(chats.c.group_id).where(chats.c.chat == bindparam("chat"))
# The lock (PostgreSQL; SQLite has taken its own) keeps the order of one group's messages across workers.
_OPENED = (
    select(groups.c.id, groups.c.home, chats.c.silent_since)
    .join(chats, chats.c.group_id == groups.c.id)
    .where(chats.c.chat == bindparam("chat"))
    .with_for_update(of=groups)
)


class NoBooksError(KeyError):
    """The chat has no books, or has them no more."""


@dataclass(slots=True)
class Trial:
    """Whether what was tried is to be dropped."""

    is_dropped: bool = False

    def drop(self) -> None:
        """Drop it at the end."""
        self.is_dropped = True


@dataclass(frozen=True, slots=True)
class Books:
    """The books of one group, open for one transaction; ``connection`` is for storage alone.

    ``chat`` is the one in which they are spoken of now, ``home`` the one in which the clerk speaks up by itself.
    """

    group_id: int
    chat: str
    home: str
    connection: Connection
    is_silent: bool = False
    """Whether the clerk was removed from the chat."""

    @contextmanager
    def trial(self) -> Iterator[Trial]:
        """What is written inside is dropped where that turns out to be better; the rest of the transaction stays."""
        with self.connection.begin_nested() as savepoint:
            trial = Trial()
            yield trial
            if trial.is_dropped:
                savepoint.rollback()

    def at_home(self) -> Books:
        """The same books, where the clerk speaks up by itself."""
        return replace(self, chat=self.home)


class Database:
    """A database of any number of groups, by its SQLAlchemy URL; "sqlite://" lives in memory.

    Every method raises DatabaseTroubleError where the database cannot be used.
    """

    def __init__(self, url: str, *, to_read: bool = False) -> None:
        """Takes the address; connects at the first use. One only to be read is never made where there is none."""
        self._engine = engines.reader_of(url) if to_read else engines.engine_of(url)
        # SQLite lets one write at a time, and has the others look again and again; our own threads had better queue.
        self._writer: AbstractContextManager[object] = nullcontext() if self.is_served else Lock()

    def migrate(self) -> None:
        """Bring the tables up to this version; also raises DatabaseTroubleError if a newer one made them."""
        with self.transaction() as connection:
            migrating.upgrade(connection)

    def found(self, chat: str, group: Group) -> None:
        """Open the books of a new group for this chat; nothing if the chat has some."""
        try:
            with self.transaction() as connection:
                if connection.execute(_KNOWN, {"chat": chat}).first() is None:
                    founding.found(connection, chat, group)
        except IntegrityError:
            # Another worker may have founded the same chat meanwhile; any other clash is the caller's.
            if not self.knows(chat):
                raise

    def knows(self, chat: str) -> bool:
        """True if the chat has books."""
        with self.reading() as connection:
            return connection.execute(_KNOWN, {"chat": chat}).first() is not None

    @contextmanager
    def open(self, chat: str) -> Iterator[Books]:
        """The chat's books for one transaction: kept at the end, dropped on an exception.

        Raises NoBooksError for a chat without books.
        """
        with self.transaction() as connection:
            found = connection.execute(_OPENED, {"chat": chat}).first()
            if found is None:
                raise NoBooksError(chat)
            yield Books(found.id, chat, found.home, connection, found.silent_since is not None)

    @property
    def is_served(self) -> bool:
        """Whether a server keeps the database, so that several workers may use it."""
        return self._engine.dialect.name != "sqlite"

    def seat(self) -> Connection:
        """For storage alone: a connection that stays open, each of its statements by itself."""
        with self.troubles():
            return self._engine.connect().execution_options(isolation_level="AUTOCOMMIT")

    def troubles(self) -> AbstractContextManager[None]:
        """For storage alone: tells what the database does wrong inside as DatabaseTroubleError."""
        return told(self._engine.url)

    def close(self) -> None:
        """Let go of the connections."""
        self._engine.dispose()

    @contextmanager
    def transaction(self) -> Iterator[Connection]:
        """For storage alone: a transaction over all groups that may write."""
        with self._writer, told(self._engine.url), self._engine.begin() as connection:
            engines.begin(connection)
            yield connection

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """For storage alone: a transaction over all groups that only reads, and waits for no writer."""
        with told(self._engine.url), self._engine.connect() as connection:
            yield connection
