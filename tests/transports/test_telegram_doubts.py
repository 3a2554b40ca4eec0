"""Which posts are looked for before they are sent."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from bot.group_file import default_group
from bot.messages import Post, Queued
from bot.storage import outbox
from bot.storage.books import Database
from bot.storage.turns import Turns
from bot.transports.telegram.doubts import Doubts

AT = datetime(2026, 8, 3, 15, 15, tzinfo=UTC)


@pytest.fixture
def left_over(database: Database) -> list[Queued]:
    """Two posts that an earlier run has left in one chat."""
    database.found("harbour", default_group())
    return [queued(database), queued(database)]


def queued(database: Database) -> Queued:
    with database.open("harbour") as books:
        outbox.queue(books, Post("noted"), AT)
    return outbox.waiting(database, "harbour")[-1]


def test_of_what_an_earlier_run_has_left_the_first_is_in_doubt(database: Database, left_over: list[Queued]) -> None:
    doubts = Doubts(database, Turns(database))

    doubts.look_around()

    assert [doubts.may_be_there(post) for post in (*left_over, queued(database))] == [True, False, False]


def test_what_is_made_since_is_in_no_doubt(database: Database, left_over: list[Queued]) -> None:
    doubts = Doubts(database, Turns(database))
    doubts.look_around()
    for post in left_over:
        outbox.delivered(database, post, "7", AT)

    assert not doubts.may_be_there(queued(database))


def test_what_the_outbox_doubts_is_in_doubt(database: Database, left_over: list[Queued]) -> None:
    doubts = Doubts(database, Turns(database))
    doubts.look_around()
    outbox.doubt(database, left_over[1])

    posts = outbox.waiting(database, "harbour")

    assert [doubts.may_be_there(post) for post in posts] == [True, True]


def test_after_trouble_the_first_is_in_doubt_again(database: Database, left_over: list[Queued]) -> None:
    doubts = Doubts(database, Turns(database))
    doubts.look_around()
    doubts.may_be_there(left_over[0])

    doubts.open()
    doubts.look_around()

    assert [doubts.may_be_there(post) for post in left_over] == [True, False]
