"""Another time zone said in the chat: nothing comes twice or is lost; the tests' own clock stays that of Chicago."""

from __future__ import annotations

import pytest

from bot.storage.timed import Outcome
from tests.chat import Chat
from tests.posts.told import deals, outcome, summaries
from tests.skills.kept import first_lines

HELLO = "what do we pay for pens?"
DENVER, NEW_YORK, AUCKLAND, HONOLULU = "America/Denver", "America/New_York", "Pacific/Auckland", "Pacific/Honolulu"
WIND = "Reminder for all (from Mei): wind the clock"


def moves(chat: Chat, zone: str, at: str) -> None:
    """Say another time zone at a moment, with all that fell due before it done."""
    chat.waits(at)
    [post] = chat.says("Mei", f"set the time zone to {zone}")
    assert post.text.startswith(f"Time zone: {zone} (was ")


def test_west_before_the_summary_comes_later(chat: Chat) -> None:
    chat.says("Mei", HELLO)
    moves(chat, DENVER, "2026-08-09T17:30")

    early = chat.waits("2026-08-09T18:59")
    due = chat.waits("2026-08-09T19:00")

    # 18:00 in Denver is 19:00 in Chicago
    assert (early, summaries(due)) == ([], ["Sun Aug 9"])
    assert chat.waits("2026-08-16T18:59") == []
    assert summaries(chat.waits("2026-08-16T19:00")) == ["Sun Aug 16"]


@pytest.mark.parametrize("zone", [DENVER, HONOLULU])
def test_west_after_the_summary_doubles_nothing(chat: Chat, zone: str) -> None:
    chat.says("Mei", HELLO)
    moves(chat, zone, "2026-08-09T18:30")

    after = chat.waits("2026-08-16T12:00")
    following = chat.waits("2026-08-17T12:00")

    assert (after, summaries(following)) == ([], ["Sun Aug 16"])


@pytest.mark.parametrize(("zone", "at"), [(NEW_YORK, "17:30"), (NEW_YORK, "17:00"), (AUCKLAND, "11:30")])
def test_east_before_the_summary_loses_nothing(chat: Chat, zone: str, at: str) -> None:
    chat.says("Mei", HELLO)
    moves(chat, zone, f"2026-08-09T{at}")

    posts = chat.waits("2026-08-10T12:00")

    # 18:00 has gone by in New York from 17:00 in Chicago on, in Auckland from 01:00
    assert ["The week to Sun Aug 9" in post.text for post in posts] == [True]
    assert outcome(chat, "summary:2026-08-09") in (Outcome.POSTED, Outcome.LATE)


def test_east_after_the_summary_comes_earlier(chat: Chat) -> None:
    chat.says("Mei", HELLO)
    moves(chat, NEW_YORK, "2026-08-09T18:30")

    after = chat.waits("2026-08-16T16:59")
    following = chat.waits("2026-08-16T17:00")

    # 18:00 in New York is 17:00 in Chicago
    assert (after, summaries(following)) == ([], ["Sun Aug 16"])


@pytest.mark.parametrize(
    ("zone", "at"),
    [
        *((zone, "2026-08-09T18:30") for zone in (DENVER, NEW_YORK, AUCKLAND, HONOLULU)),
        *((zone, "2026-08-09T12:00") for zone in (DENVER, NEW_YORK, HONOLULU)),
        (AUCKLAND, "2026-08-09T12:00"),
    ],
)
def test_there_and_back_brings_one(chat: Chat, zone: str, at: str) -> None:
    chat.says("Mei", HELLO)
    moves(chat, zone, at)
    chat.waits(f"{at[:-2]}45")
    chat.says("Mei", "take that back")

    chat.waits("2026-08-10T23:00")

    told = [post for post in chat.posts if "The week to Sun Aug 9" in post.text]
    assert len(told) == 1


@pytest.mark.parametrize(("zone", "early", "due"), [(DENVER, "09:59", "10:00"), (NEW_YORK, "07:59", "08:00")])
def test_a_reminder_keeps_its_hour(chat: Chat, zone: str, early: str, due: str) -> None:
    chat.says("Mei", "remind us on friday at 9:00 to wind the clock")
    moves(chat, zone, "2026-08-05T12:00")

    before = chat.waits(f"2026-08-07T{early}")
    posts = chat.waits(f"2026-08-07T{due}")

    assert (before, first_lines(posts)) == ([], [WIND])


def test_a_reminder_that_came_stays_away(chat: Chat) -> None:
    chat.says("Mei", "remind us on friday at 9:00 to wind the clock")
    moves(chat, DENVER, "2026-08-07T09:30")

    posts = chat.waits("2026-08-08T12:00")

    assert posts == []


def test_a_sale_is_told_once(chat: Chat) -> None:
    chat.says("Mei", HELLO, at="2026-09-04T12:00")
    moves(chat, DENVER, "2026-09-05T09:30")
    chat.waits("2026-09-06T12:00")

    told = [post for post in chat.posts if post.text.startswith("Back-to-school clearance begins")]

    assert len(told) == 1


@pytest.mark.parametrize(("zone", "early", "due"), [(DENVER, "07:59", "08:00"), (NEW_YORK, "05:59", "06:00")])
def test_a_held_deal_has_a_new_morning(chat: Chat, zone: str, early: str, due: str) -> None:
    chat.says("Mei", "12 pencils 0.47 at corner store", at="2026-08-03T23:30")
    moves(chat, zone, "2026-08-03T23:40")

    night = chat.waits(f"2026-08-04T{early}")
    morning = chat.waits(f"2026-08-04T{due}")

    # 07:00 in Denver is 08:00 in Chicago, 07:00 in New York is 06:00
    assert (night, len(deals(morning))) == ([], 1)


def test_an_hour_shown_again_is_served(chat: Chat) -> None:
    chat.says("Mei", "remind us at 10:30 to count the pens")
    moves(chat, DENVER, "2026-08-03T10:50")
    chat.says("Mei", "remind us at 10:10 to wind the clock")

    # 10:10 in Denver is 11:10 in Chicago
    posts = chat.waits("2026-08-03T12:00")

    assert first_lines(posts) == [WIND]
