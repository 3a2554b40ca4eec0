"""The leap day and the turn of the year: sales that go over it, weeks in two years, dates with their year."""

from __future__ import annotations

import pytest

from bot.storage.timed import Outcome
from tests.chat import Chat
from tests.posts.told import line_of, outcome, summaries, wakes
from tests.skills.kept import first_lines

HELLO = "what do we pay for pens?"
CHRISTMAS = "After-Christmas clearance"


def test_the_christmas_sale_goes_over_the_turn(chat: Chat) -> None:
    chat.says("Mei", HELLO, at="2026-12-22T10:00")

    [post] = chat.waits("2026-12-23T09:00")

    assert first_lines([post]) == [
        f"{CHRISTMAS} begins in 3 days: Dec 26 to Jan 10 2027, usually 50% off, 75% after 7 days."
    ]
    assert outcome(chat, "window:2026:after-Christmas clearance") is Outcome.POSTED


def test_it_is_not_told_again_in_january(chat: Chat) -> None:
    chat.says("Mei", HELLO, at="2026-12-22T10:00")

    posts = chat.waits("2027-12-22T09:00")

    assert sum(post.text.startswith(CHRISTMAS) for post in posts) == 1
    assert outcome(chat, "window:2027:after-Christmas clearance") is None


def test_it_comes_late_in_january(chat: Chat) -> None:
    chat.says("Mei", HELLO, at="2026-12-22T10:00")

    post = wakes(chat, "2027-01-09T12:00")[0]

    assert post.text.splitlines()[0] == "Late, it was due Wed Dec 23 2026, 09:00:"
    assert post.text.splitlines()[1].startswith(f"{CHRISTMAS} is on: Dec 26 2026 to Jan 10, ")


def test_after_its_last_day_it_is_dropped(chat: Chat) -> None:
    chat.says("Mei", HELLO, at="2026-12-22T10:00")

    posts = wakes(chat, "2027-01-11T08:00")

    assert all(CHRISTMAS not in post.text.splitlines()[0] for post in posts)
    assert outcome(chat, "window:2026:after-Christmas clearance") is Outcome.STALE


@pytest.mark.parametrize(
    ("day", "due", "key"),
    [
        ("january 1", "2026-12-29T09:00", "window:2027:broom sale"),
        ("january 2", "2026-12-30T09:00", "window:2027:broom sale"),
        ("january 5", "2027-01-02T09:00", "window:2027:broom sale"),
        ("december 31", "2026-12-28T09:00", "window:2026:broom sale"),
    ],
)
def test_a_sale_near_the_turn(chat: Chat, day: str, due: str, key: str) -> None:
    chat.says("Mei", f"add a window: broom sale {day}", at="2026-12-24T10:00")

    posts = chat.waits(due)

    assert posts[-1].text.startswith("Broom sale begins in 3 days")
    assert outcome(chat, key) is Outcome.POSTED


def test_weeks_go_on_over_the_turn(chat: Chat) -> None:
    chat.says("Mei", HELLO, at="2026-12-20T19:00")

    posts = chat.waits("2027-01-10T18:00")

    assert summaries(posts) == ["Sun Dec 27", "Sun Jan 3", "Sun Jan 10"]


def test_a_week_in_two_years_is_whole(chat: Chat) -> None:
    chat.says("Mei", "got 24 combs 2.40 at larkmoor", at="2026-12-28T10:00")
    chat.says("Mei", "got 10 pens 0.90 at larkmoor", at="2027-01-02T10:00")

    [post] = chat.waits("2027-01-03T18:00")

    # 2.40 + 0.90 = 3.30
    assert line_of(post, "Spent") == "Spent $3.30, $3.30 this season"
    assert "combs 10¢" in line_of(post, "Best finds:")
    assert "pens 9¢" in line_of(post, "Best finds:")


def test_a_year_of_53_weeks_has_53_summaries(chat: Chat) -> None:
    chat.says("Mei", "summary on thursdays at 6pm", at="2025-12-31T10:00")

    posts = chat.waits("2027-01-01T00:00")

    # 2026 begins and ends on a Thursday
    told = summaries(posts)
    assert len(told) == 53
    assert (told[0].removesuffix(" 2026"), told[-1]) == ("Thu Jan 1", "Thu Dec 31")


def test_a_reminder_at_midnight_of_the_turn(chat: Chat) -> None:
    chat.says("Mei", "remind us at 00:00 on 2027-01-01 to open the new book", at="2026-12-30T10:00")

    before = chat.waits("2026-12-31T23:59")
    [post] = chat.waits("2027-01-01T00:00")

    assert before == []
    assert post.text == "Reminder for all (from Mei): open the new book"


def test_a_deal_held_over_the_turn(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.47 at corner store", at="2026-12-31T23:30")

    early = chat.waits("2027-01-01T06:59")
    [post] = chat.waits("2027-01-01T07:00")

    assert early == []
    assert post.text.startswith("Deal: pencils")
    assert outcome(chat, "alerts:2027-01-01T07:00") is Outcome.POSTED


def test_the_leap_day_has_its_reminder(chat: Chat) -> None:
    chat.says("Mei", "remind us on feb 29 to count the combs", at="2028-02-28T10:00")

    [post] = chat.waits("2028-02-29T09:00")

    assert post.text == "Reminder for all (from Mei): count the combs"


def test_the_leap_day_ends_a_week(chat: Chat) -> None:
    chat.says("Mei", "summary on tuesdays at 6pm", at="2028-02-23T10:00")

    posts = chat.waits("2028-03-07T18:00")

    assert summaries(posts) == ["Tue Feb 29", "Tue Mar 7"]


def test_a_sale_of_the_leap_day(chat: Chat) -> None:
    chat.says("Mei", "add a window: leap sale on february 29", at="2027-02-20T10:00")

    chat.waits("2028-02-26T09:00")

    # three days before 2027-02-28, where there is no 29th, and before 2028-02-29
    assert outcome(chat, "window:2027:leap sale") is Outcome.POSTED
    assert outcome(chat, "window:2028:leap sale") is Outcome.POSTED
    assert chat.posts[-1].text.startswith("Leap sale begins in 3 days: Feb 29")


def test_a_deadline_may_fall_on_leap_day(chat: Chat) -> None:
    chat.says("Mei", "150 school pouches by march 14", at="2028-02-28T10:00")

    [post] = chat.waits("2028-02-29T09:00")

    assert post.text.splitlines()[0] == "Collection day is Mar 14, in 2 weeks."
