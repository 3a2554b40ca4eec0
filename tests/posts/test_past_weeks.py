"""Weeks that are over: what was entered between two summaries, and nothing of what is open now."""

from __future__ import annotations

import pytest

from bot.messages import TAKE_BACK
from tests.chat import Chat
from tests.posts.told import WASH_BAGS, has_line, line_of, summaries

FINDS = "Best finds:"


@pytest.fixture
def two_weeks(chat: Chat) -> Chat:
    """A chat on Tuesday 2026-08-18, with combs in one week, pens and ten wash bags in the next."""
    chat.says("Mei", "24 combs 2.40 at larkmoor")
    chat.waits("2026-08-12T10:00")
    chat.says("Mei", "10 pens 0.90 at larkmoor")
    chat.says("Mei", WASH_BAGS)
    chat.says("Mei", "packed 10 wash bags")
    chat.waits("2026-08-18T10:00")
    return chat


def test_last_week_tells_its_own_days(two_weeks: Chat) -> None:
    [post] = two_weeks.says("Mei", "last week's summary")

    assert summaries([post]) == ["Sun Aug 16"]
    assert line_of(post, FINDS) == "Best finds: pens 9¢ at Larkmoor Market (price point 10¢)"
    assert line_of(post, "Wash bags:").startswith("Wash bags: 10 of 80 by Nov 14 (+10)")


@pytest.mark.parametrize("asked", ["summary for the week of aug 3", "summary from two weeks ago please"])
def test_an_earlier_week_stands_as_then(two_weeks: Chat, asked: str) -> None:
    [post] = two_weeks.says("Mei", asked)

    assert summaries([post]) == ["Sun Aug 9"]
    assert line_of(post, FINDS) == "Best finds: combs 10¢ at Larkmoor Market (price point 15¢)"
    assert line_of(post, "Wash bags:").startswith("Wash bags: 0 of 80 by Nov 14, ")


def test_a_past_week_leaves_out_now(two_weeks: Chat) -> None:
    two_weeks.says("Tobias", "i can get 144 combs for 14.40, who wants some?")

    [post] = two_weeks.says("Mei", "last week's summary")

    assert not any(has_line(post, start) for start in ("Open cases:", "Owed:", "Most short:", "On now:", "Next sale:"))


def test_what_is_taken_back_is_gone(two_weeks: Chat) -> None:
    for _ in range(3):
        two_weeks.says("Mei", "undo")
        two_weeks.presses("Mei", TAKE_BACK)

    [post] = two_weeks.says("Mei", "last week's summary")

    assert "was quiet" in post.text


def test_an_entry_after_six_is_next_week(chat: Chat) -> None:
    chat.says("Mei", "24 combs 2.40 at larkmoor")
    chat.waits("2026-08-09T18:30")
    chat.says("Mei", "10 pens 0.90 at larkmoor")
    chat.waits("2026-08-10T10:00")

    [last] = chat.says("Mei", "last week's summary")
    [due] = chat.waits("2026-08-16T18:00")

    assert line_of(last, FINDS) == "Best finds: combs 10¢ at Larkmoor Market (price point 15¢)"
    assert line_of(due, FINDS) == "Best finds: pens 9¢ at Larkmoor Market (price point 10¢)"


def test_the_last_week_of_a_year(chat: Chat) -> None:
    chat.says("Mei", "24 combs 2.40 at larkmoor", at="2026-12-28T10:00")
    chat.says("Mei", "got 12 combs 1.08 at larkmoor", at="2027-01-01T10:00")
    chat.waits("2027-01-05T10:00")

    [last] = chat.says("Mei", "last week's summary")
    [named] = chat.says("Mei", "summary for the week of december 28")
    [before] = chat.says("Mei", "summary for the week of dec 21")

    # 108 / 12 = 9 cents a comb
    assert line_of(last, FINDS) == "Best finds: combs 9¢ at Larkmoor Market (price point 15¢)"
    assert line_of(last, "Spent") == "Spent $1.08, $1.08 this season"
    assert named.text == last.text
    assert summaries([last, before]) == ["Sun Jan 3", "Sun Dec 27 2026"]


def test_a_week_to_come_is_told_so(chat: Chat) -> None:
    [post] = chat.says("Mei", "summary for the week of 2026-08-17")

    assert "is still to come" in post.text


def test_a_week_before_the_books_was_quiet(chat: Chat) -> None:
    [post] = chat.says("Mei", "summary for the week of july 20")

    assert summaries([post]) == ["Sun Jul 26"]
    assert "was quiet" in post.text


def test_weeks_end_on_the_day_said(chat: Chat) -> None:
    chat.says("Mei", "summary on fridays at 5pm")
    chat.says("Mei", "24 combs 2.40 at larkmoor")
    chat.waits("2026-08-12T10:00")

    [post] = chat.says("Mei", "last week's summary")

    assert summaries([post]) == ["Fri Aug 7"]
    assert line_of(post, FINDS).startswith("Best finds: combs 10¢")


def test_the_collection_week_tells_its_season(chat: Chat) -> None:
    chat.says("Mei", WASH_BAGS, at="2026-11-10T10:00")
    chat.says("Mei", "packed 80 wash bags")

    [post] = chat.waits("2026-11-15T18:00")

    # the bags of the season that ended the day before, not those of the next one
    assert line_of(post, "Wash bags:").startswith("Wash bags: 80 of 80")
