"""What a setting changed today makes of days gone by: nothing falls due that was not, nothing is lost that was."""

from __future__ import annotations

import pytest

from tests.chat import Chat
from tests.posts.told import deals, summaries
from tests.skills.kept import first_lines

HELLO = "what do we pay for pens?"


@pytest.mark.parametrize(
    ("said", "at"),
    [
        ("summary on saturdays at 5pm", "2026-08-09T10:00"),
        ("summary on mondays at 9am", "2026-08-04T10:00"),
    ],
)
def test_a_new_day_makes_no_summary_late(chat: Chat, said: str, at: str) -> None:
    chat.says("Mei", HELLO, at="2026-08-03T08:00")
    chat.waits(at)
    chat.says("Mei", said)

    assert first_lines(chat.waits(f"{at[:10]}T16:00")) == []


def test_fridays_taken_back_on_monday(chat: Chat) -> None:
    chat.says("Mei", "summary on fridays at 5pm")
    chat.waits("2026-08-10T10:00")
    chat.says("Mei", "take that back")

    assert chat.waits("2026-08-10T12:00") == []


def test_a_summary_started_again_looks_ahead(chat: Chat) -> None:
    chat.says("Mei", "stop the weekly summary")
    chat.waits("2026-08-18T10:00")
    chat.says("Mei", "summary on sundays at 6pm")

    posts = chat.waits("2026-08-23T18:00")

    assert len(posts) == 1
    assert summaries(posts) == ["Sun Aug 23"]


def test_more_days_ahead_lose_no_sale(chat: Chat) -> None:
    chat.says("Mei", HELLO, at="2026-08-31T10:00")
    chat.waits("2026-09-01T10:00")
    chat.says("Mei", "tell us of sales 10 days ahead")

    chat.waits("2026-09-09T10:00")

    told = [post for post in chat.posts if "Back-to-school clearance begins" in post.text]
    assert len(told) == 1


def test_a_sale_added_late_is_told(chat: Chat) -> None:
    chat.says("Mei", "add a window: broom sale on august 5", at="2026-08-03T10:00")

    chat.waits("2026-08-05T12:00")

    told = [post for post in chat.posts if "Broom sale begins" in post.text or "Broom sale is on" in post.text]
    assert len(told) == 1


def test_a_longer_night_loses_no_deal(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.47 at corner store", at="2026-08-03T23:00")
    chat.waits("2026-08-04T07:10")
    chat.says("Mei", "quiet hours 9pm to 8am")
    chat.says("Mei", "10 pens 0.80 at corner store")

    posts = chat.waits("2026-08-05T12:00")

    assert deals(posts) == ["pens 8¢ each at corner store (10 for $0.80)."]
