"""Deadlines: six, four, two and one weeks before the collection day, with what the kits lack."""

from __future__ import annotations

import pytest

from bot.messages import Post
from bot.storage.timed import Outcome
from tests.chat import Chat
from tests.posts.told import WASH_BAGS, line_of, outcome

HELLO = "what do we pay for pens?"
HEAD = "Collection day is "


def deadlines(posts: list[Post]) -> list[str]:
    """The first lines of the posts about a collection day."""
    return [post.text.splitlines()[0] for post in posts if post.text.startswith(HEAD)]


@pytest.mark.parametrize(
    ("day", "ahead", "key"),
    [
        ("2026-10-03", "in 6 weeks", "deadline:2026-11-14:6"),
        ("2026-10-17", "in 4 weeks", "deadline:2026-11-14:4"),
        ("2026-10-31", "in 2 weeks", "deadline:2026-11-14:2"),
        ("2026-11-07", "in 7 days", "deadline:2026-11-14:1"),
    ],
)
def test_each_deadline_comes_at_nine(chat: Chat, day: str, ahead: str, key: str) -> None:
    chat.says("Mei", HELLO)

    before = chat.waits(f"{day}T08:59")
    [post] = chat.waits(f"{day}T09:00")

    assert not any(line.endswith(f"{ahead}.") for line in deadlines(before))
    assert post.text.splitlines()[0] == f"{HEAD}Nov 14, {ahead}."
    assert outcome(chat, key) is Outcome.POSTED


def test_four_deadlines_come_each_year(chat: Chat) -> None:
    chat.says("Mei", HELLO)

    posts = chat.waits("2027-12-31T12:00")

    assert [line.removesuffix(".").partition(", ")[2] for line in deadlines(posts)] == [
        "in 6 weeks",
        "in 4 weeks",
        "in 2 weeks",
        "in 7 days",
    ] * 2
    assert outcome(chat, "deadline:2027-11-14:1") is Outcome.POSTED


def test_a_deadline_tells_what_is_short(chat: Chat) -> None:
    chat.says("Mei", WASH_BAGS, at="2026-10-02T10:00")
    chat.says("Mei", "packed 60 wash bags")
    chat.says("Mei", "I have 440 pencils")

    [post] = chat.waits("2026-10-03T09:00")

    # 120 pouches take 960 crayons, 720 colored pencils, 240 pens, 120 sharpeners and notebooks, 480 - 440 pencils
    assert line_of(post, "School pouches:") == (
        "School pouches: 0 of 120 packed; short of 960 crayons, 720 colored pencils, 240 pens, 120 sharpeners "
        "and 2 more items."
    )
    assert line_of(post, "Wash bags:") == "Wash bags: 60 of 80 packed; everything for the other 20 is here."


def test_a_kit_that_is_done_says_so(chat: Chat) -> None:
    chat.says("Mei", WASH_BAGS, at="2026-10-02T10:00")
    chat.says("Mei", "packed 80 wash bags")

    [post] = chat.waits("2026-10-03T09:00")

    assert line_of(post, "Wash bags:") == "Wash bags: 80 of 80 packed, all done."


def test_all_done_needs_no_deadline(chat: Chat) -> None:
    chat.says("Mei", WASH_BAGS, at="2026-10-02T10:00")
    chat.says("Mei", "packed 80 wash bags")
    chat.says("Mei", "goal 0 school pouches")

    posts = chat.waits("2026-10-03T12:00")

    assert posts == []
    assert outcome(chat, "deadline:2026-11-14:6") is Outcome.SILENT


def test_a_later_day_brings_deadlines_anew(chat: Chat) -> None:
    chat.says("Mei", "150 school pouches by december 5", at="2026-10-02T10:00")

    posts = chat.waits("2026-10-25T12:00")

    # six weeks before December 5 is October 24; the wash bags keep November 14
    assert deadlines(posts) == [
        f"{HEAD}Nov 14, in 6 weeks.",
        f"{HEAD}Nov 14, in 4 weeks.",
        f"{HEAD}Dec 5, in 6 weeks.",
    ]
    assert line_of(posts[-1], "School pouches:").startswith("School pouches: 0 of 150 packed")
    assert "Wash bags" not in posts[-1].text


def test_a_moved_day_taken_back_returns(chat: Chat) -> None:
    chat.says("Mei", "150 school pouches by december 5", at="2026-10-02T10:00")
    chat.says("Mei", "take that back")

    posts = chat.waits("2026-10-31T12:00")

    assert [line.partition(", ")[0] for line in deadlines(posts)] == [f"{HEAD}Nov 14"] * 3
