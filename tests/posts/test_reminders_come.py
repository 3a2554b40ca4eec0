"""Reminders asked for in the chat: whom they reach, when, and what becomes of those moved, dropped or taken back."""

from __future__ import annotations

import pytest

from bot.storage.timed import Outcome
from tests.chat import Chat
from tests.posts.told import outcome
from tests.skills.kept import first_lines

BAGS = "remind us friday to bring bags"
FRIDAY = "2026-08-07T09:00"


def test_a_reminder_for_all_comes_at_nine(chat: Chat) -> None:
    chat.says("Mei", BAGS)

    early = chat.waits("2026-08-07T08:59")
    [post] = chat.waits(FRIDAY)
    later = chat.waits("2026-08-08T20:00")

    assert (early, later) == ([], [])
    assert (post.text, post.to) == ("Reminder for all (from Mei): bring bags", None)
    assert outcome(chat, "reminder:1:2026-08-07T09:00") is Outcome.POSTED


@pytest.mark.parametrize(
    ("said", "to", "text"),
    [
        ("remind me on friday at 5pm: post the receipts", "Mei", "Mei, a reminder: post the receipts"),
        (
            "remind Tobias on friday at 5pm to bring the table back",
            "Tobias",
            "Tobias, a reminder (from Mei): bring the table back",
        ),
    ],
)
def test_a_reminder_for_one_reaches_one(chat: Chat, said: str, to: str, text: str) -> None:
    chat.says("Mei", said)

    early = chat.waits("2026-08-07T16:59")
    [post] = chat.waits("2026-08-07T17:00")

    assert early == []
    assert (post.to, post.text) == (to, text)


def test_a_reminder_comes_in_quiet_hours(chat: Chat) -> None:
    chat.says("Mei", "remind me today at 11:30pm to lock the hall")

    [post] = chat.waits("2026-08-03T23:30")

    assert post.text == "Mei, a reminder: lock the hall"


def test_two_of_one_moment_both_come(chat: Chat) -> None:
    chat.says("Mei", BAGS)
    chat.says("Ines", "remind us friday to count combs")

    posts = chat.waits(FRIDAY)

    assert first_lines(posts) == [
        "Reminder for all (from Mei): bring bags",
        "Reminder for all (from Ines): count combs",
    ]


def test_a_moved_reminder_comes_once(chat: Chat) -> None:
    chat.says("Mei", BAGS)
    chat.says("Ines", "move the bags reminder to saturday 10am")

    friday = chat.waits("2026-08-08T09:59")
    [saturday] = chat.waits("2026-08-08T10:00")

    assert friday == []
    assert saturday.text == "Reminder for all (from Mei): bring bags"


def test_moving_taken_back_restores_the_day(chat: Chat) -> None:
    chat.says("Mei", BAGS)
    chat.says("Mei", "move the bags reminder to saturday 10am")
    chat.says("Mei", "take that back")

    posts = chat.waits("2026-08-08T12:00")

    assert len(posts) == 1
    assert outcome(chat, "reminder:1:2026-08-07T09:00") is Outcome.POSTED


@pytest.mark.parametrize("said", ["drop the bags reminder", "take that back"])
def test_a_reminder_no_longer_wanted_stays_away(chat: Chat, said: str) -> None:
    chat.says("Mei", BAGS)
    chat.says("Mei", said)

    posts = chat.waits("2026-08-08T12:00")

    assert posts == []
    assert outcome(chat, "reminder:1:2026-08-07T09:00") is None


def test_dropping_taken_back_brings_it(chat: Chat) -> None:
    chat.says("Mei", BAGS)
    chat.says("Mei", "drop the bags reminder")
    chat.says("Mei", "take that back")

    [post] = chat.waits(FRIDAY)

    assert post.text == "Reminder for all (from Mei): bring bags"


def test_one_that_came_may_be_moved_no_more(chat: Chat) -> None:
    chat.says("Mei", BAGS)
    chat.waits("2026-08-07T12:00")

    [answer] = chat.says("Mei", "move the bags reminder to saturday")
    posts = chat.waits("2026-08-08T12:00")

    assert answer.text.startswith("No reminders are set.")
    assert posts == []


def test_a_day_before_a_sale_is_reckoned(chat: Chat) -> None:
    chat.says("Mei", "remind us 3 days before the easter clearance to bring the big bags", at="2027-03-20T10:00")

    posts = chat.waits("2027-03-26T09:00")

    # Easter is March 28 2027, the clearance starts on March 29: both posts come three days before
    heads = first_lines(posts)
    assert "Reminder for all (from Mei): bring the big bags" in heads
    assert any(head.startswith("Easter clearance begins in 3 days") for head in heads)


def test_a_reminder_years_ahead_comes(chat: Chat) -> None:
    chat.says("Mei", "remind us on 2028-02-29 at 5pm to oil the hinges")

    chat.waits("2028-02-29T16:59")
    [post] = chat.waits("2028-02-29T17:00")

    assert post.text == "Reminder for all (from Mei): oil the hinges"


def test_a_new_hour_alone_leaves_the_day(chat: Chat) -> None:
    chat.says("Mei", "remind us sat at 2pm to hem curtains")
    chat.says("Mei", "move the curtains reminder to 5pm")

    early = chat.waits("2026-08-08T16:59")
    posts = chat.waits("2026-08-08T17:00")

    assert early == []
    assert [post.text for post in posts] == ["Reminder for all (from Mei): hem curtains"]


def test_once_more_is_of_what_came_last(chat: Chat) -> None:
    chat.says("Mei", BAGS)
    chat.waits(FRIDAY)

    [again] = chat.says("Ines", "remind me again tomorrow", at="2026-08-07T12:00")

    assert again.text == "Reminder set: Sat Aug 8, 09:00, for Ines: bring bags"


@pytest.mark.parametrize(
    ("said", "line"),
    [
        ("remind us tonight to lock up", "today, 21:00, for all: lock up"),
        ("remind us this evening to lock up", "today, 21:00, for all: lock up"),
        ("remind us tonight at 9 to lock up", "today, 21:00, for all: lock up"),
        ("remind us in the morning to lock up", "Tue Aug 4, 09:00, for all: lock up"),
    ],
)
def test_a_part_of_the_day_that_has_begun_is_still_ahead(chat: Chat, said: str, line: str) -> None:
    [post] = chat.says("Mei", said, at="2026-08-03T20:30")

    assert post.text == f"Reminder set: {line}"


def test_of_many_reminders_a_few_are_offered(chat: Chat) -> None:
    for day in range(10, 20):
        chat.says("Mei", f"remind us on august {day} to bring bags")

    [asked] = chat.says("Mei", "drop the bags reminder")
    [dropped] = chat.says("Mei", "drop the bags reminder on august 19")
    [listed] = chat.says("Mei", "reminders")

    assert asked.text == "Which of 10 reminders? Say a word of it, or press one"
    assert len(asked.buttons) == 6
    assert dropped.text == "Dropped the reminder: bring bags."
    assert listed.text.endswith("\n9. Tue Aug 18, 09:00, for all: bring bags")
