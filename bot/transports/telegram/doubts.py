"""Which posts may be shown already without the outbox's knowing it."""

from __future__ import annotations

import threading

from bot.messages import Queued
from bot.storage import outbox
from bot.storage.books import Database
from bot.storage.turns import Turns


class Doubts:
    """A post is in doubt where the outbox says so, or where a worker that is no more may have been at it.

    The latter are the posts made before it ended; of these only the first that waits in each chat, for the others
    wait for that one. A worker that is no more is also this one, in an earlier run.
    """

    def __init__(self, database: Database, turns: Turns) -> None:
        self._database = database
        self._turns = turns
        self._guard = threading.Lock()
        self._are_open = True
        self._newest = 0
        """The newest post that a worker that is no more may have been at."""
        self._begun: set[str] = set()
        """The chats whose first waiting post has been tried since."""

    def look_around(self) -> None:
        """Find out whether a worker has ended since; to be asked in each turn. Raises DatabaseTroubleError."""
        with self._guard:
            self._are_open |= self._turns.has_lost_worker()
            if self._are_open:
                self._newest = outbox.last_number(self._database)
                self._begun.clear()
                self._are_open = False

    def open(self) -> None:
        """What was shown last could not be noted."""
        with self._guard:
            self._are_open = True

    def may_be_there(self, queued: Queued) -> bool:
        """Whether a post that is about to be shown should be looked for first."""
        with self._guard:
            is_first = queued.chat not in self._begun
            self._begun.add(queued.chat)
            return queued.is_doubtful or (is_first and queued.number <= self._newest)
