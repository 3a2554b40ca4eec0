"""A chat with the clerk for the tests of all skills: real assistant, outbox and SQLite, in memory."""

from __future__ import annotations

from contextlib import AbstractContextManager
from datetime import datetime, timedelta
from itertools import count
from typing import Any

from bot.assistant import Assistant
from bot.delivery import empty
from bot.messages import Incoming, Post, Queued, Sender
from bot.storage.books import Books, Database
from bot.timekeeper import Timekeeper
from core.group import Group

START = "2026-08-03T10:15"
_migrated: list[bytes] = []
"""The file of an empty database that has taken every step, made once: the steps are the slowest part of a test."""


def in_memory() -> Database:
    """A database in memory with all its tables, and no group."""
    database = Database("sqlite://")
    if not _migrated:
        database.migrate()
    with database.reading() as connection:
        driver: Any = connection.connection.driver_connection
        if _migrated:
            driver.deserialize(_migrated[0])
        else:
            _migrated.append(driver.serialize())
    return database


class Chat:
    """One group's chat; its clock moves one minute with each call and stands open to be set.

    ``posts`` are all posts so far, the newest last; ``accounts`` the lasting keys of those who have one, by name.
    """

    def __init__(self, group: Group) -> None:
        self.group = group
        self.key = f"test:{group.name}"
        self.clock = self.moment(START)
        self.posts: list[Post] = []
        self.accounts: dict[str, str] = {}
        self.database = in_memory()
        self.database.found(self.key, group)
        self._assistant = Assistant(self.database, group)
        self._timekeeper = Timekeeper(self.database, self._assistant)
        self._refs = count(1)
        self._shown: dict[int, str] = {}

    def moment(self, written: str) -> datetime:
        """A moment on the group's own clock: "2026-08-09T18:00"."""
        return datetime.fromisoformat(written).replace(tzinfo=self.group.settings.zone)

    def says(self, name: str, text: str, at: str | None = None) -> list[Post]:
        """The posts that a message brings; ``at`` sets the clock, as in "2026-08-09T18:00"."""
        if at:
            self.clock = self.moment(at)
        return self.hears(
            Incoming(self.key, self._sender(name), text, self.clock, self._ref(), private=self.group.private)
        )

    def replies(self, name: str, text: str, to: Post) -> list[Post]:
        """The posts that a message brings which replies to a post of the clerk."""
        ref = self.ref_of(to)
        return self.hears(Incoming(self.key, self._sender(name), text, self.clock, self._ref(), answers=ref))

    def ref_of(self, post: Post) -> str:
        """Under what a post of the clerk was shown."""
        return self._shown[id(post)]

    def waits(self, until: str) -> list[Post]:
        """The posts that fall due up to a moment."""
        self.clock = self.moment(until)
        before = len(self.posts)
        self._timekeeper.play_to(self.clock)
        empty(self.database, self.key, self)
        return self.posts[before:]

    def presses(self, name: str, label: str) -> list[Post]:
        """The posts that the newest button of a label brings; AssertionError where there is none."""
        buttons = [button for post in self.posts for button in post.buttons]
        action = next((button.action for button in reversed(buttons) if button.label == label), None)
        assert action, f"no button {label!r} among {[button.label for button in buttons]}"
        return self.hears(Incoming(self.key, self._sender(name), "", self.clock, self._ref(), pressed=action))

    def books(self) -> AbstractContextManager[Books]:
        """One transaction on the group's books."""
        return self.database.open(self.key)

    def deliver(self, queued: Queued) -> str:
        """Take a post from the outbox, as a transport does."""
        self.posts.append(queued.post)
        self._shown[id(queued.post)] = f"clerk:{queued.number}"
        return f"clerk:{queued.number}"

    def run(self) -> None:
        """Nothing: the test speaks."""

    def close(self) -> None:
        """Let go of the database."""
        self.database.close()

    def hears(self, incoming: Incoming) -> list[Post]:
        """The posts that a message or a press brings, as a transport would hand it on."""
        before = len(self.posts)
        self._assistant.hear(incoming)
        empty(self.database, self.key, self)
        self.clock += timedelta(minutes=1)
        return self.posts[before:]

    def _sender(self, name: str) -> Sender:
        return Sender(name, self.accounts.get(name))

    def _ref(self) -> str:
        return str(next(self._refs))
