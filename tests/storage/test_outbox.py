"""The outbox: a message is taken once, a post waits until it is delivered, and an answer finds its cause."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from bot.messages import Button, Post, Queued
from bot.storage import entries, outbox, questions
from bot.storage.books import Books, Database
from bot.storage.chats import Membership, show
from bot.storage.outbox import Origin
from core.group import Group

AT = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)
POST = Post("4¢ each: a good price", (Button("Take back", "undo:7"),), "Mei", "message 9", "chart.png")


def test_a_message_is_taken_once(books: Books) -> None:
    assert outbox.take(books, "message 9")
    assert not outbox.take(books, "message 9")
    assert outbox.take(books, "message 10")


def test_a_post_waits_as_queued(database: Database) -> None:
    with database.open("harbour") as books:
        number = outbox.queue(books, POST, AT)

    assert outbox.waiting(database, "harbour") == [Queued(number, "harbour", AT, POST)]


def test_posts_wait_oldest_first(database: Database, packers: Group) -> None:
    database.found("quarry", packers)
    for chat, text in (("quarry", "first"), ("harbour", "second"), ("quarry", "third")):
        with database.open(chat) as books:
            outbox.queue(books, Post(text), AT)

    assert [queued.post.text for queued in outbox.waiting(database, None)] == ["first", "second", "third"]
    assert [queued.post.text for queued in outbox.waiting(database, "quarry")] == ["first", "third"]
    assert outbox.waiting(database, "unknown") == []


def test_a_delivered_post_waits_no_more(database: Database) -> None:
    with database.open("harbour") as books:
        outbox.queue(books, POST, AT)
        outbox.queue(books, Post("another"), AT)
    first, another = outbox.waiting(database, None)

    outbox.delivered(database, first, "post 1", AT)

    assert outbox.waiting(database, None) == [another]


def test_the_first_delivery_is_the_one_kept(database: Database) -> None:
    with database.open("harbour") as books:
        outbox.queue(books, POST, AT)
    [queued] = outbox.waiting(database, None)

    outbox.delivered(database, queued, "post 1", AT)
    outbox.delivered(database, queued, "post 2", AT + timedelta(seconds=1))

    with database.open("harbour") as books:
        assert outbox.origin(books, "post 1") == Origin(None, None, POST)
        assert outbox.origin(books, "post 2") is None


def test_a_delivered_post_knows_its_cause(database: Database) -> None:
    with database.open("harbour") as books:
        entry = entries.new_entry(books, "Mei", AT, "12 pencils")
        question = questions.ask(books, "Mei", AT, "{}")
        outbox.queue(books, POST, AT, entry=entry)
        outbox.queue(books, POST, AT, question=question)
    for queued, ref in zip(outbox.waiting(database, None), ("post 1", "post 2"), strict=True):
        outbox.delivered(database, queued, ref, AT)

    with database.open("harbour") as books:
        assert outbox.origin(books, "post 1") == Origin(entry, None, POST)
        assert outbox.origin(books, "post 2") == Origin(None, question, POST)
        assert outbox.origin(books, "post 3") is None


def test_a_later_post_of_a_split_takes_the_place_of_the_one_shown(database: Database) -> None:
    with database.open("harbour") as books:
        outbox.queue(books, Post("200 left", split=7), AT)
        outbox.queue(books, Post("other", split=8), AT)
    for queued, ref in zip(outbox.waiting(database, None), ("post 1", "post 2"), strict=True):
        outbox.delivered(database, queued, ref, AT)
    with database.open("harbour") as books:
        outbox.queue(books, Post("176 left", split=7), AT)

    [queued] = outbox.waiting(database, None)

    assert (queued.post, queued.replaces) == (Post("176 left", split=7), "post 1")


def test_a_post_is_delivered_after_its_chat_has_turned_to_other_books(database: Database, packers: Group) -> None:
    database.found("@mei", packers)
    with database.open("harbour") as books:
        harbour = Membership(books.group_id, packers.name)
    with database.open("@mei") as books:
        outbox.queue(books, POST, AT)
        show(books, harbour)
    [queued] = outbox.waiting(database, "@mei")

    outbox.delivered(database, queued, "post 1", AT)

    assert outbox.waiting(database, "@mei") == []


def test_a_post_in_doubt_is_told_to_whoever_tries_next(database: Database) -> None:
    with database.open("harbour") as books:
        outbox.queue(books, POST, AT)
    [queued] = outbox.waiting(database, "harbour")

    for _ in range(2):
        outbox.doubt(database, queued)

    [doubtful] = outbox.waiting(database, "harbour")
    assert (queued.is_doubtful, doubtful.is_doubtful, doubtful.parts) == (False, True, 0)


def test_a_post_shown_in_part_goes_on_behind_its_last_part(database: Database) -> None:
    with database.open("harbour") as books:
        outbox.queue(books, POST, AT)
    [queued] = outbox.waiting(database, "harbour")

    outbox.shown_in_part(database, queued, 2, "17")
    [begun] = outbox.waiting(database, "harbour")
    outbox.doubt(database, begun)
    [doubtful] = outbox.waiting(database, "harbour")

    assert (begun.parts, begun.is_doubtful) == (2, False)
    assert (doubtful.parts, doubtful.is_doubtful) == (2, True)
