"""Which numbers of messages are known: of one chat, or of several that are numbered together."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from bot.messages import Incoming, Post, Sender
from bot.storage import inbox, numbering, outbox
from bot.storage.books import Database
from core.group import Group

AT = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)
ALL, APART = "town:%", "town:apart%"


@pytest.fixture
def database(database: Database, packers: Group) -> Database:
    """Three chats of one town in which something was heard and shown; one numbers its messages by itself."""
    for chat, heard, shown in (("a", "8", "9"), ("b", "10", "part:2:12"), ("apart", "1000", "1001")):
        database.found(f"town:{chat}", packers)
        with database.open(f"town:{chat}") as books:
            outbox.take(books, heard)
            outbox.take(books, "press:77")
            outbox.queue(books, Post("noted"), AT)
        [queued] = outbox.waiting(database, f"town:{chat}")
        outbox.delivered(database, queued, shown, AT)
    return database


def test_the_newest_shown_is_the_highest_number(database: Database) -> None:
    assert [numbering.newest_shown(database, chat) for chat in ("town:a", "town:b", "harbour")] == [9, 12, 0]


def test_numbers_are_known_of_one_chat(database: Database) -> None:
    assert numbering.known_above(database, 7, "town:a") == {8, 9}
    assert numbering.known_above(database, 8, "town:a") == {9}


def test_numbers_are_known_of_chats_numbered_together(database: Database) -> None:
    assert numbering.known_above(database, 8, ALL, APART) == {9, 10, 12}


def test_what_is_not_heard_yet_is_known(database: Database) -> None:
    inbox.keep(database, [Incoming("town:a", Sender("Mei"), "hello", AT, "11", arrival=1)])

    assert numbering.known_above(database, 9, ALL, APART) == {10, 11, 12}
