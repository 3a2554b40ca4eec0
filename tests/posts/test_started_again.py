"""Several clerks on one database, one after the other or at once, and several groups: each post is made once."""

from __future__ import annotations

from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path
from threading import Thread

import pytest

from bot.assistant import Assistant
from bot.delivery import empty
from bot.messages import Incoming, Post, Sender
from bot.storage.books import Database
from bot.storage.outbox import waiting
from bot.timekeeper import Timekeeper
from core.group import Group
from tests.chat import Chat
from tests.posts.told import deals, started_again, summaries, ticks, wakes
from tests.skills.kept import first_lines

PENCILS = "12 pencils 0.47 at corner store"
BAGS = "remind us friday to bring bags"
REMINDED = "Reminder for all (from Mei): bring bags"
SUNDAY = "2026-08-09T18:00"


class Office:
    """A database in a file, at which a clerk can be started anew."""

    def __init__(self, path: Path, group: Group) -> None:
        self.url, self.group = f"sqlite:///{path / 'books.db'}", group
        with closing(Database(self.url)) as database:
            database.migrate()

    def moment(self, written: str) -> datetime:
        """A moment on the group's own clock."""
        return datetime.fromisoformat(written).replace(tzinfo=self.group.settings.zone)

    def hears(self, text: str, at: str, chat: str = "lane") -> None:
        """A clerk starts, takes one message and ends."""
        with closing(Database(self.url)) as database:
            Assistant(database, self.group).hear(Incoming(chat, Sender("Mei"), text, self.moment(at), text))

    def looks(self, at: str) -> list[str]:
        """A clerk starts, looks at its clock and ends; the chats with new posts."""
        with closing(Database(self.url)) as database:
            return Timekeeper(database, Assistant(database, self.group)).tick(self.moment(at))

    def waiting(self, chat: str = "lane") -> list[Post]:
        """The posts that nobody has shown yet."""
        with closing(Database(self.url)) as database:
            return [queued.post for queued in waiting(database, chat)]


@pytest.fixture
def office(tmp_path: Path, packers: Group) -> Office:
    """An office without any books yet."""
    return Office(tmp_path, packers)


def test_a_second_clerk_posts_nothing_twice(chat: Chat) -> None:
    chat.says("Mei", BAGS)

    first = chat.waits(SUNDAY)
    second = wakes(chat, SUNDAY)

    assert len(first) == 2
    assert second == []


def test_clerks_that_take_turns_post_once(chat: Chat) -> None:
    chat.says("Mei", BAGS)
    now, end = chat.clock, chat.moment("2026-08-24T12:00")

    posts = []
    while now < end:
        now += timedelta(hours=7)
        posts += ticks(chat, now)

    assert sum(REMINDED in post.text for post in posts) == 1
    assert sum("The week to Sun" in post.text for post in posts) == 3


def test_a_new_start_keeps_what_waits(office: Office) -> None:
    office.hears(PENCILS, "2026-08-03T23:00")
    office.hears(BAGS, "2026-08-03T23:01")

    chats = office.looks("2026-08-04T07:00")
    again = office.looks("2026-08-04T07:00")

    assert (chats, again) == (["lane"], [])
    assert len(deals(office.waiting())) == 1


def test_a_post_not_shown_is_shown_later(chat: Chat) -> None:
    chat.says("Mei", "what do we pay for pens?")
    started_again(chat).tick(chat.moment(SUNDAY))
    before = list(chat.posts)

    started_again(chat).tick(chat.moment("2026-08-09T18:05"))
    empty(chat.database, chat.key, chat)

    assert summaries(before) == []
    assert summaries(chat.posts) == ["Sun Aug 9"]


def test_what_was_turned_down_stays_so(chat: Chat) -> None:
    chat.says("Mei", PENCILS)
    chat.presses("Ines", "Not for us")

    again = Incoming(chat.key, Sender("Ines"), PENCILS, chat.moment("2026-08-31T12:00"), "again")
    Assistant(chat.database, chat.group).hear(again)
    empty(chat.database, chat.key, chat)

    assert len(deals(chat.posts)) == 1


def test_settings_outlast_a_new_start(office: Office) -> None:
    office.hears("summary on fridays at 5pm", "2026-08-03T10:00")

    office.looks("2026-08-07T17:00")
    office.looks(SUNDAY)

    assert summaries(office.waiting()) == ["Fri Aug 7"]


def test_clerks_at_once_post_once(office: Office) -> None:
    office.hears(BAGS, "2026-08-03T10:00")
    office.hears(PENCILS, "2026-08-03T23:00")

    threads = [Thread(target=office.looks, args=("2026-08-09T18:00",)) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    posts = office.waiting()
    assert sum(REMINDED in post.text for post in posts) == 1
    assert sum("Deal: pencils" in post.text for post in posts) == 1
    assert summaries(posts) == ["Sun Aug 9"]


def test_each_group_has_its_own_posts(office: Office) -> None:
    office.hears("what do we pay for pens?", "2026-08-03T10:00", "lane")
    office.hears("summary on fridays at 5pm", "2026-08-03T10:00", "street")
    office.hears("stop the weekly summary", "2026-08-03T10:00", "road")

    friday = office.looks("2026-08-07T17:00")
    sunday = office.looks(SUNDAY)

    assert (friday, sunday) == (["street"], ["lane"])
    assert [summaries(office.waiting(chat)) for chat in ("lane", "street", "road")] == [
        ["Sun Aug 9"],
        ["Fri Aug 7"],
        [],
    ]


def test_a_deal_is_told_to_its_group(office: Office) -> None:
    office.hears("what do we pay for pens?", "2026-08-03T23:00", "lane")
    office.hears(PENCILS, "2026-08-03T23:00", "street")

    chats = office.looks("2026-08-04T07:00")

    assert chats == ["street"]
    assert deals(office.waiting("lane")) == []
    assert first_lines(office.waiting("street"))[-1].startswith("Deal: pencils")
