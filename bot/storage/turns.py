"""Whose turn it is: several workers may serve one database, but only one of them a chat at a time."""

from __future__ import annotations

import hashlib
import threading

from sqlalchemy import Connection, TextClause, text

from bot.storage.books import Database, DatabaseTroubleError

_TRY = text("SELECT pg_try_advisory_lock(:name)")
_END = text("SELECT pg_advisory_unlock(:name)")


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

    def close(self) -> None:
        """All our turns are over."""
        with self._guard:
            self._mine.clear()
            self._leave()

    def _tell(self, statement: TextClause, name: str) -> bool:
        if not self._database.is_served:
            return True
        try:
            if self._seat is None:
                self._seat = self._database.seat()
            with self._database.troubles():
                return bool(self._seat.execute(statement, {"name": _number(name)}).scalar())
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
