"""Delivery where a chat goes on under another key."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing

import pytest

from bot import clock
from bot.delivery import MovedError, empty
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
