"""A clerk that was down: what still helps comes late and says so, what does not is dropped and noted."""

from __future__ import annotations

import pytest

from bot.storage.timed import Outcome
from tests.chat import Chat
from tests.posts.told import deals, outcome, summaries, wakes

HELLO = "what do we pay for pens?"
PENCILS = "12 pencils 0.47 at corner store"
LATE_SUMMARY = "Late, it was due Sun Aug 9, 18:00:"


def late(text: str) -> bool:
    """Whether a post says that it comes late."""
    return text.startswith("Late, it was due ")


def test_a_missed_summary_comes_late(chat: Chat) -> None:
    chat.says("Mei", HELLO)

    [post] = wakes(chat, "2026-08-10T08:00")

    first, second = post.text.splitlines()
    assert first == LATE_SUMMARY
    assert second.startswith("The week to Sun Aug 9 was quiet")
    assert outcome(chat, "summary:2026-08-09") is Outcome.LATE


def test_within_the_hour_is_not_late(chat: Chat) -> None:
    chat.says("Mei", HELLO)

    [post] = wakes(chat, "2026-08-09T19:00")

    assert summaries([post]) == ["Sun Aug 9"]
    assert outcome(chat, "summary:2026-08-09") is Outcome.POSTED


def test_of_three_missed_summaries_one_comes(chat: Chat) -> None:
    chat.says("Mei", HELLO)

    [post] = wakes(chat, "2026-08-25T12:00")

    assert "The week to Sun Aug 23" in post.text
    assert [outcome(chat, f"summary:2026-08-{day}") for day in ("09", "16", "23")] == [
        Outcome.STALE,
        Outcome.STALE,
        Outcome.LATE,
    ]


def test_the_next_summary_comes_in_time(chat: Chat) -> None:
    chat.says("Mei", HELLO)
    wakes(chat, "2026-08-25T12:00")

    [post] = chat.waits("2026-08-30T18:00")

    assert summaries([post]) == ["Sun Aug 30"]


def test_what_was_entered_stays_in_its_week(chat: Chat) -> None:
    chat.says("Mei", "24 combs 2.40 at larkmoor")
    chat.says("Mei", "10 pens 0.90 at larkmoor", at="2026-08-10T09:00")

    [post] = wakes(chat, "2026-08-10T12:00")

    assert late(post.text)
    assert "Best finds: combs 10¢ at Larkmoor Market (price point 15¢)\n" in post.text


@pytest.mark.parametrize(
    ("at", "told"),
    [
        ("2026-09-06T12:00", "Back-to-school clearance begins in 2 days"),
        ("2026-09-20T12:00", "Back-to-school clearance is on"),
        ("2026-09-28T21:00", "Back-to-school clearance is on"),
    ],
)
def test_a_sale_not_over_comes_late(chat: Chat, at: str, told: str) -> None:
    chat.says("Mei", HELLO, at="2026-09-04T10:00")

    post = wakes(chat, at)[0]

    assert late(post.text)
    assert post.text.splitlines()[1].startswith(told)
    assert outcome(chat, "window:2026:back-to-school clearance") is Outcome.LATE


def test_a_sale_that_is_over_is_dropped(chat: Chat) -> None:
    chat.says("Mei", HELLO, at="2026-09-04T10:00")

    posts = wakes(chat, "2026-09-29T08:00")

    assert all("Back-to-school clearance begins" not in post.text for post in posts)
    assert outcome(chat, "window:2026:back-to-school clearance") is Outcome.STALE


def test_a_deadline_comes_late_until_the_next(chat: Chat) -> None:
    chat.says("Mei", HELLO, at="2026-10-02T10:00")

    post = wakes(chat, "2026-10-16T12:00")[0]

    # November 14 is 29 days ahead
    assert late(post.text)
    assert post.text.splitlines()[1] == "Collection day is Nov 14, in 4 weeks."
    assert outcome(chat, "deadline:2026-11-14:6") is Outcome.LATE


def test_of_missed_deadlines_the_last_comes(chat: Chat) -> None:
    chat.says("Mei", HELLO, at="2026-10-02T10:00")

    posts = wakes(chat, "2026-11-08T12:00")

    told = [post.text for post in posts if "Collection day is" in post.text]
    assert len(told) == 1
    assert [outcome(chat, f"deadline:2026-11-14:{weeks}") for weeks in (6, 4, 2, 1)] == [
        Outcome.STALE,
        Outcome.STALE,
        Outcome.STALE,
        Outcome.LATE,
    ]


def test_a_deadline_after_its_day_is_dropped(chat: Chat) -> None:
    chat.says("Mei", HELLO, at="2026-11-06T10:00")

    posts = wakes(chat, "2026-11-14T08:00")

    assert all("Collection day is" not in post.text for post in posts)
    assert outcome(chat, "deadline:2026-11-14:1") is Outcome.STALE


def test_a_reminder_comes_however_late(chat: Chat) -> None:
    chat.says("Mei", "remind me tomorrow at 5pm: ring the hall")

    posts = wakes(chat, "2027-08-25T12:00")

    told = [post for post in posts if "ring the hall" in post.text]
    assert [(post.text, post.to) for post in told] == [
        ("Late, it was due Tue Aug 4 2026, 17:00:\nMei, a reminder: ring the hall", "Mei")
    ]
    assert outcome(chat, "reminder:1:2026-08-04T17:00") is Outcome.LATE


def test_late_posts_keep_their_order(chat: Chat) -> None:
    chat.says("Mei", "remind us on august 9 at 5pm to bring bags")
    chat.says("Mei", "remind us on august 9 at 7pm to fetch bags")

    posts = wakes(chat, "2026-08-10T12:00")

    assert ["bring bags" in posts[0].text, "The week to" in posts[1].text, "fetch bags" in posts[2].text] == [True] * 3


def test_a_held_deal_comes_late(chat: Chat) -> None:
    chat.says("Mei", PENCILS, at="2026-08-03T23:00")

    [post] = wakes(chat, "2026-08-05T12:00")

    assert late(post.text)
    assert "Deal: pencils 4¢ each at corner store (12 for $0.47), seen Aug 3." in post.text
    assert len(post.buttons) == 3


def test_a_held_deal_goes_stale(chat: Chat) -> None:
    chat.says("Mei", PENCILS, at="2026-08-03T23:00")

    posts = wakes(chat, "2026-08-12T12:00")

    assert all("Deal" not in post.text for post in posts)
    assert deals(chat.waits("2026-08-15T12:00")) == []


def test_a_second_start_finds_nothing_left(chat: Chat) -> None:
    chat.says("Mei", "remind me tomorrow at 5pm: ring the hall")
    wakes(chat, "2026-08-25T12:00")

    assert wakes(chat, "2026-08-25T12:00") == []
    assert wakes(chat, "2026-08-25T12:05") == []


def test_a_late_post_names_its_day(chat: Chat) -> None:
    chat.says("Mei", HELLO)

    [post] = wakes(chat, "2026-08-09T20:00")

    assert post.text.splitlines()[0] == "Late, it was due today, 18:00:"


def test_a_late_sale_keeps_quiet_hours(chat: Chat) -> None:
    chat.says("Mei", HELLO, at="2026-09-04T10:00")

    night = wakes(chat, "2026-09-06T03:00")
    morning = chat.waits("2026-09-06T07:00")

    assert night == []
    assert any("Back-to-school clearance begins" in post.text for post in morning)


def test_a_late_deal_keeps_quiet_hours(chat: Chat) -> None:
    chat.says("Mei", PENCILS, at="2026-08-03T23:00")

    night = wakes(chat, "2026-08-05T03:00")
    morning = chat.waits("2026-08-05T07:00")

    assert night == []
    assert any("Deal: pencils" in post.text for post in morning)
