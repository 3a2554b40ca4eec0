"""Delivery where a chat goes on under another key, or where the clerk was put out."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing

import pytest

from bot import clock
from bot.delivery import GoneError, MovedError, empty
from bot.group_file import default_group
from bot.messages import Post, Queued
from bot.storage.books import Database
from bot.storage.outbox import queue, waiting
from tests.chat import in_memory


class Moved:
    """A transport that has another key for the chat "old"."""

    def deliver(self, queued: Queued) -> str:
        """Show it, unless the chat has moved."""
        if queued.chat == "old":
            raise MovedError("new")
        return "1"

    def run(self) -> None:
        """Nothing: the test speaks."""

    def close(self) -> None:
        """Nothing was taken."""


class PutOut(Moved):
    """A transport of a clerk that is in no chat; what is ``meanwhile`` is said while it tries the first post."""

    def __init__(self, database: Database, meanwhile: str = "") -> None:
        self._database = database
        self._meanwhile = meanwhile

    def deliver(self, queued: Queued) -> str:
        """Never."""
        if self._meanwhile:
            with self._database.open(queued.chat) as books:
                queue(books, Post(self._meanwhile), clock.now())
            self._meanwhile = ""
        raise GoneError("the bot was kicked")


@pytest.fixture
def database() -> Iterator[Database]:
    """A group in the chat "old", in whose outbox two posts wait."""
    with closing(in_memory()) as database:
        database.found("old", default_group())
        with database.open("old") as books:
            for text in ("first", "second"):
                queue(books, Post(text), clock.now())
        yield database


def test_what_waits_goes_where_its_chat_has_moved_to(database: Database) -> None:
    blocked = empty(database, "old", Moved())

    assert blocked == {"old": 0, "new": 0}
    assert [queued.chat for queued in waiting(database, None)] == ["new", "new"]


def test_what_cannot_follow_is_passed_over(database: Database) -> None:
    database.found("new", default_group())

    assert empty(database, "old", Moved()) == {}
    assert waiting(database, None) == []


def test_where_the_clerk_was_put_out_nothing_waits(database: Database) -> None:
    empty(database, "old", PutOut(database))

    assert waiting(database, None) == []
    with database.open("old") as books:
        assert books.is_silent


def test_what_was_made_while_a_post_was_refused_is_tried_too(database: Database) -> None:
    empty(database, "old", PutOut(database, meanwhile="third"))

    assert [queued.post.text for queued in waiting(database, None)] == ["second", "third"]
    with database.open("old") as books:
        assert not books.is_silent
