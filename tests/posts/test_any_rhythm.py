"""However often the clerk looks at its clock, and however late, each post is made once and none is lost."""

from __future__ import annotations

from contextlib import closing
from datetime import date, timedelta

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from bot.group_file import read_group
from core.day_rules import WEEKDAYS
from tests.chat import Chat
from tests.conftest import HARBOUR_LANE
from tests.posts.told import outcome, ticks

DAYS = [date(2026, 8, day) for day in range(4, 31)]
END = "2026-08-31T12:00"
REMINDERS = ("fetch bread", "count combs", "wind clocks")
STEPS = st.lists(st.timedeltas(timedelta(minutes=1), timedelta(days=9)), min_size=1, max_size=8)
HOURS = st.sampled_from(["at 6am", "at 9am", "at 6pm", "at 11pm"])
SUMMARIES = st.sampled_from(["tuesday", "wednesday", "friday", "sunday"])
SAID = st.tuples(SUMMARIES, HOURS, st.lists(st.integers(4, 30), min_size=3, max_size=3))


def started(said: tuple[str, str, list[int]]) -> Chat:
    """A chat that has said its day of the summary and three reminders, and seen a price in the night."""
    weekday, hour, days = said
    chat = Chat(read_group(HARBOUR_LANE))
    chat.says("Mei", "at most 3 alerts a day")
    chat.says("Mei", f"summary on {weekday}s {hour}")
    for what, day in zip(REMINDERS, days, strict=True):
        chat.says("Mei", f"remind us on august {day} to {what}")
    chat.says("Mei", "12 pencils 0.47 at corner store", at="2026-08-03T23:30")
    return chat


@settings(max_examples=8, deadline=None, phases=(Phase.reuse, Phase.generate))
@given(SAID, STEPS)
def test_waiting_in_parts_changes_nothing(said: tuple[str, str, list[int]], steps: list[timedelta]) -> None:
    with closing(started(said)) as whole, closing(started(said)) as parted:
        end = whole.clock + sum(steps, timedelta())

        whole.waits(end.isoformat())
        for step in steps:
            parted.waits((parted.clock + step).isoformat())

        assert [post.text for post in parted.posts] == [post.text for post in whole.posts]


@settings(max_examples=8, deadline=None, phases=(Phase.reuse, Phase.generate))
@given(SAID, STEPS)
def test_late_looks_lose_and_double_nothing(said: tuple[str, str, list[int]], steps: list[timedelta]) -> None:
    with closing(started(said)) as chat:
        before, now, end = len(chat.posts), chat.clock, chat.moment(END)

        for step in steps:
            now = min(now + step, end)
            ticks(chat, now)
        ticks(chat, end)

        made = [post.text for post in chat.posts[before:]]
        assert [sum(text.endswith(what) for text in made) for what in REMINDERS] == [1, 1, 1]
        ends = [day for day in DAYS if WEEKDAYS[day.weekday()] == said[0]]
        assert [day for day in ends if outcome(chat, f"summary:{day}") is None] == []
        assert sum("The week to" in text for text in made) <= len(ends)
        assert sum("Deal: pencils" in text for text in made) <= 1
