"""Whose turn it is: several workers may serve one database, but only one of them a chat at a time."""

from __future__ import annotations

import hashlib
import threading
from typing import Any

from sqlalchemy import Connection, Result, TextClause, text

from bot.storage.books import Database, DatabaseTroubleError

_TRY = text("SELECT pg_try_advisory_lock(:name)")
_END = text("SELECT pg_advisory_unlock(:name)")
_SIT = text("SELECT pg_advisory_lock_shared(:name)")
_SEATED = text("SELECT pid FROM pg_locks WHERE locktype = 'advisory' AND mode = 'ShareLock' AND granted")
_WORKER = "worker"
"""The name of the lock that all workers share, by which they know of one another."""


class Turns:
    """The turns that this worker has; another gets them when it ends, however it ends.

    On PostgreSQL a turn is an advisory lock of a connection that stays open: the server lets go of it when the
    connection breaks, as after a kill. On SQLite one worker serves the file, and turns part its own threads.
    """

    def __init__(self, database: Database) -> None:
        self._database = database
        self._guard = threading.Lock()
        self._mine: set[str] = set()
        self._seat: Connection | None = None
        self._seated: frozenset[int] = frozenset()

    def take(self, name: str) -> bool:
        """Whether it is our turn now, until ``end``. Raises DatabaseTroubleError."""
        with self._guard:
            if name in self._mine or not self._tell(_TRY, name):
                return False
            self._mine.add(name)
            return True

    def end(self, name: str) -> None:
        """Our turn is over."""
        with self._guard:
            self._mine.discard(name)
            try:
                self._tell(_END, name)
            except DatabaseTroubleError:
                self._leave()  # what the server keeps for a connection ends with it

    def has_lost_worker(self) -> bool:
        """Whether a worker has ended since we asked last, or our own connection. Raises DatabaseTroubleError."""
        if not self._database.is_served:
            return False
        with self._guard:
            before, self._seated = self._seated, frozenset(self._ask(_SEATED).scalars())
            return not before <= self._seated

    def close(self) -> None:
        """All our turns are over."""
        with self._guard:
            self._mine.clear()
            self._leave()

    def _tell(self, statement: TextClause, name: str) -> bool:
        return not self._database.is_served or bool(self._ask(statement, name).scalar())

    def _ask(self, statement: TextClause, name: str = "") -> Result[Any]:
        try:
            if self._seat is None:
                self._seat = self._database.seat()
                self._ask(_SIT, _WORKER)
            with self._database.troubles():
                return self._seat.execute(statement, {"name": _number(name)} if name else {})
        except DatabaseTroubleError:
            self._leave()
            raise

    def _leave(self) -> None:
        if self._seat is not None:
            self._seat.invalidate()
            self._seat.close()
            self._seat = None


def _number(name: str) -> int:
    """The number that stands for a name among the server's locks: 64 bits, with a sign."""
    return int.from_bytes(hashlib.blake2b(name.encode(), digest_size=8).digest(), signed=True)
