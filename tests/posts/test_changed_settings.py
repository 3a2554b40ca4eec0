"""Settings changed in the chat take hold of the posts that follow, and taking the change back restores them."""

from __future__ import annotations

import pytest

from tests.chat import Chat
from tests.posts.told import deals, summaries
from tests.skills.kept import first_lines

HELLO = "what do we pay for pens?"
PENCILS = "12 pencils 0.47 at corner store"
PENS = "10 pens 0.80 at corner store"
COMBS = "24 combs 2.40 at corner store"
SALE = "Back-to-school clearance begins "


def test_the_summary_comes_on_fridays(chat: Chat) -> None:
    chat.says("Mei", "summary on fridays at 5pm")

    early = chat.waits("2026-08-07T16:59")
    posts = chat.waits("2026-08-17T00:00")

    assert early == []
    assert summaries(posts) == ["Fri Aug 7", "Fri Aug 14"]


def test_fridays_taken_back_are_sundays(chat: Chat) -> None:
    chat.says("Mei", "summary on fridays at 5pm")
    chat.says("Mei", "take that back")

    posts = chat.waits("2026-08-17T00:00")

    assert summaries(posts) == ["Sun Aug 9", "Sun Aug 16"]


def test_no_summary_comes_after_stopping_it(chat: Chat) -> None:
    chat.says("Mei", "stop the weekly summary")

    posts = chat.waits("2026-08-31T00:00")

    assert posts == []


def test_stopping_taken_back_brings_it(chat: Chat) -> None:
    chat.says("Mei", "stop the weekly summary")
    chat.says("Mei", "take that back")

    posts = chat.waits("2026-08-10T00:00")

    assert summaries(posts) == ["Sun Aug 9"]


def test_one_alert_a_day_holds_the_second(chat: Chat) -> None:
    chat.says("Mei", "at most 1 alert a day")

    first = deals(chat.says("Mei", PENCILS))
    second = deals(chat.says("Mei", PENS))
    morning = chat.waits("2026-08-04T07:00")

    assert (len(first), second) == (1, [])
    assert deals(morning) == ["Other deals since yesterday:"]


def test_more_alerts_a_day_come_at_once(chat: Chat) -> None:
    chat.says("Mei", "at most 1 alert a day")
    chat.says("Mei", PENCILS)
    chat.says("Mei", "at most 5 alerts a day")

    assert len(deals(chat.says("Mei", PENS))) == 1


def test_alerts_without_limit_come_at_once(chat: Chat) -> None:
    chat.says("Mei", "at most 1 alert a day")
    chat.says("Mei", "no limit on alerts")

    told = [deals(chat.says("Mei", price)) for price in (PENCILS, PENS, COMBS)]

    assert [len(one) for one in told] == [1, 1, 1]


def test_one_alert_taken_back_is_three(chat: Chat) -> None:
    chat.says("Mei", "at most 1 alert a day")
    chat.says("Mei", "take that back")

    told = [deals(chat.says("Mei", price)) for price in (PENCILS, PENS, COMBS)]

    assert [len(one) for one in told] == [1, 1, 1]


def test_no_alerts_taken_back_are_some(chat: Chat) -> None:
    chat.says("Mei", "no more alerts")
    silent = deals(chat.says("Ines", PENCILS))
    chat.says("Mei", "take that back")

    assert silent == []
    assert len(deals(chat.says("Ines", PENS))) == 1


@pytest.mark.parametrize(
    ("said", "day", "told"),
    [
        ("tell us of sales 5 days ahead", "2026-09-03", "in 5 days"),
        ("tell us of sales 1 day ahead", "2026-09-07", "tomorrow"),
        ("remind us 14 days before a sale window", "2026-08-25", "in 2 weeks"),
    ],
)
def test_sales_come_days_ahead_as_said(chat: Chat, said: str, day: str, told: str) -> None:
    chat.says("Mei", said)

    before = first_lines(chat.waits(f"{day}T08:59"))
    [due] = first_lines(chat.waits(f"{day}T09:00"))

    assert not any(line.startswith(SALE) for line in before)
    assert due.startswith(f"{SALE}{told}: ")


def test_days_ahead_taken_back_are_three(chat: Chat) -> None:
    chat.says("Mei", "tell us of sales 5 days ahead", at="2026-09-01T10:00")
    chat.says("Mei", "take that back")

    early = chat.waits("2026-09-05T08:59")
    posts = chat.waits("2026-09-05T09:00")

    assert early == []
    assert first_lines(posts)[0].startswith(f"{SALE}in 3 days")


def test_fewer_days_ahead_repeat_nothing(chat: Chat) -> None:
    chat.says("Mei", HELLO, at="2026-09-01T10:00")
    chat.waits("2026-09-05T10:00")
    chat.says("Mei", "tell us of sales 1 day ahead")

    posts = chat.waits("2026-09-09T00:00")

    assert not any(line.startswith(SALE) for line in first_lines(posts))


def test_without_quiet_hours_night_is_day(chat: Chat) -> None:
    chat.says("Mei", "no quiet hours")

    posts = chat.says("Mei", PENCILS, at="2026-08-03T23:30")

    assert len(deals(posts)) == 1


def test_quiet_hours_taken_back_hold_again(chat: Chat) -> None:
    chat.says("Mei", "no quiet hours")
    chat.says("Mei", "take that back")

    night = deals(chat.says("Mei", PENCILS, at="2026-08-03T23:30"))
    morning = deals(chat.waits("2026-08-04T07:00"))

    assert (night, len(morning)) == ([], 1)


def test_longer_quiet_hours_hold_longer(chat: Chat) -> None:
    chat.says("Mei", "quiet hours 9pm to 8am")

    evening = deals(chat.says("Mei", PENCILS, at="2026-08-03T21:30"))
    seven = deals(chat.waits("2026-08-04T07:59"))
    eight = deals(chat.waits("2026-08-04T08:00"))

    assert (evening, seven, len(eight)) == ([], [], 1)


def test_quiet_hours_end_at_eight_without(chat: Chat) -> None:
    chat.says("Mei", PENCILS, at="2026-08-03T23:30")
    chat.says("Mei", "no quiet hours")

    seven = deals(chat.waits("2026-08-04T07:59"))
    eight = deals(chat.waits("2026-08-04T08:00"))

    assert (seven, len(eight)) == ([], 1)


def test_no_alerts_drop_the_held_ones(chat: Chat) -> None:
    chat.says("Mei", PENCILS, at="2026-08-03T23:30")
    chat.says("Mei", "no more alerts")

    assert deals(chat.waits("2026-08-04T12:00")) == []
