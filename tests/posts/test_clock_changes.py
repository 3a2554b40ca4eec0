"""The nights on which the clock leaps ahead or goes back: nothing is lost, nothing comes twice."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from tests.chat import Chat
from tests.posts.told import outcome, started_again, summaries, ticks, wakes
from tests.skills.kept import first_lines

SPRING, AUTUMN = "2027-03-14", "2026-11-01"
HELLO = "what do we pay for pens?"
WIND = "to wind the clock"
WOUND = ["Reminder for all (from Mei): wind the clock"]


def every_quarter(chat: Chat, start: str, hours: int) -> list[tuple[datetime, str]]:
    """When and what is posted where the clerk looks at its clock every quarter of an hour; times are in UTC."""
    first = datetime.fromisoformat(f"{start}+00:00")
    found: list[tuple[datetime, str]] = []
    for quarter in range(hours * 4 + 1):
        now = first + timedelta(minutes=15 * quarter)
        found += [(now, line) for line in first_lines(ticks(chat, now))]
    return found


def test_a_reminder_in_the_gap_comes(chat: Chat) -> None:
    chat.says("Mei", f"remind us at 02:30 on {SPRING} {WIND}", at="2027-03-13T12:00")

    before = chat.waits(f"{SPRING}T01:59")
    [post] = chat.waits(f"{SPRING}T03:30")
    after = chat.waits(f"{SPRING}T12:00")

    # 02:30 is leapt over by an hour: 03:30
    assert (before, after) == ([], [])
    assert first_lines([post]) == WOUND


def test_the_gap_is_an_hour_less(chat: Chat) -> None:
    chat.says("Mei", f"remind us at 01:45 on {SPRING} {WIND}", at="2027-03-13T12:00")
    chat.says("Mei", f"remind us at 03:15 on {SPRING} to fetch bread")

    first, second = (post for until in ("01:45", "03:15") for post in chat.waits(f"{SPRING}T{until}"))

    assert first_lines([first, second]) == [*WOUND, "Reminder for all (from Mei): fetch bread"]


def test_a_reminder_in_the_doubled_hour(chat: Chat) -> None:
    chat.says("Mei", f"remind us at 01:30 on {AUTUMN} {WIND}", at="2026-10-31T12:00")

    # 01:30 is 06:30 in UTC, and once more 07:30
    posts = every_quarter(chat, f"{AUTUMN}T05:00", hours=6)

    assert [(f"{now:%H:%M}", line) for now, line in posts] == [("06:30", WOUND[0])]


def test_after_the_doubled_hour_in_time(chat: Chat) -> None:
    chat.says("Mei", f"remind us at 01:30 on {AUTUMN} {WIND}", at="2026-10-31T12:00")
    chat.says("Mei", f"remind us at 02:15 on {AUTUMN} {WIND}")

    posts = every_quarter(chat, f"{AUTUMN}T05:00", hours=6)

    # 02:15 is 08:15 in UTC once the clock has gone back
    assert [f"{now:%H:%M}" for now, _ in posts] == ["06:30", "08:15"]


@pytest.mark.parametrize(("sunday", "hour"), [(SPRING, "02:30"), (AUTUMN, "01:30")])
def test_a_summary_of_the_night_comes_once(chat: Chat, sunday: str, hour: str) -> None:
    chat.says("Mei", f"summary on sundays at {hour}", at=f"{sunday}T00:05")

    posts = every_quarter(chat, f"{sunday}T06:15", hours=5)

    assert sum("The week to Sun" in line for _, line in posts) == 1


@pytest.mark.parametrize(("sunday", "utc"), [(SPRING, 23), (AUTUMN, 24)])
def test_the_evening_summary_keeps_its_hour(chat: Chat, sunday: str, utc: int) -> None:
    chat.says("Mei", HELLO, at=f"{sunday}T00:05")

    early = summaries(chat.waits(f"{sunday}T17:59"))
    late = summaries(chat.waits(f"{sunday}T18:00"))

    # 18:00 is 23:00 in UTC in summer, 24:00 in winter
    assert (early, len(late)) == ([], 1)
    assert chat.clock.timestamp() == datetime.fromisoformat(f"{sunday}T00:00+00:00").timestamp() + utc * 3600


@pytest.mark.parametrize(
    ("day", "night", "morning"),
    [
        (SPRING, "2027-03-13T23:00", f"{SPRING}T07:00"),
        (AUTUMN, "2026-10-31T23:00", f"{AUTUMN}T07:00"),
    ],
)
def test_a_deal_waits_through_the_night(chat: Chat, day: str, night: str, morning: str) -> None:
    chat.says("Mei", "12 pencils 0.47 at corner store", at=night)

    early = chat.waits(f"{day}T06:59")
    [post] = chat.waits(morning)

    assert early == []
    assert post.text.startswith("Deal: pencils")


def test_two_clerks_in_the_doubled_hour(chat: Chat) -> None:
    chat.says("Mei", f"remind us at 01:30 on {AUTUMN} {WIND}", at="2026-10-31T12:00")
    first = wakes(chat, f"{AUTUMN}T01:30")

    second = started_again(chat).tick(datetime.fromisoformat(f"{AUTUMN}T07:30+00:00"))

    assert first_lines(first) == WOUND
    assert second == []
    assert outcome(chat, f"reminder:1:{AUTUMN}T01:30") is not None


def test_leapt_over_is_not_late(chat: Chat) -> None:
    chat.says("Mei", f"remind us at 02:30 on {SPRING} {WIND}", at="2027-03-13T12:00")

    posts = wakes(chat, f"{SPRING}T03:31")

    assert first_lines(posts) == WOUND


def test_asked_for_in_the_second_hour(chat: Chat) -> None:
    chat.says("Mei", f"remind us at 01:30 on {AUTUMN} {WIND}", at="2026-10-31T12:00")
    ticks(chat, datetime.fromisoformat(f"{AUTUMN}T06:30+00:00"))
    ticks(chat, datetime.fromisoformat(f"{AUTUMN}T07:05+00:00"))
    chat.says("Mei", "remind us at 01:20 to fetch bread")

    # 01:20 comes once more, at 07:20 in UTC
    posts = every_quarter(chat, f"{AUTUMN}T07:15", hours=4)

    assert [line for _, line in posts] == ["Reminder for all (from Mei): fetch bread"]
