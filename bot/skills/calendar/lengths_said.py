"""Lengths of time by which a reminder comes before or after something, from now on, or later than it did."""

from __future__ import annotations

from datetime import datetime

from dateutil.relativedelta import relativedelta

from bot.reading.durations import hours_at
from bot.reading.form import Heard
from bot.reading.numbers import number_at
from bot.reading.spans import Marked, Reach
from bot.skills.calendar.times_said import now_shown

ARTICLES = frozenset("the our this next any a an these those".split())
_UNITS = {"day": 1, "days": 1} | dict.fromkeys(("week", "weeks", "wk", "wks"), 7) | {"fortnight": 14, "fortnights": 14}
_MONTHS = frozenset(("month", "months"))
_DAY_PARTS = frozenset(("morning", "evening", "night"))
_EARLIER = frozenset(("earlier", "sooner"))
_FORWARD = frozenset(("bring", "forward"))
_LONG_NUMBER = 400


def days_at(marked: Marked, index: int) -> tuple[relativedelta, int] | None:
    """ "3 days", "a week", "the day", "a couple of weeks": how long, and where it ends."""
    number, at = _number(marked, index)
    unit = marked.text_at(at)
    if number is None or marked.text_at(index - 1).isdigit():
        return None
    if unit in _DAY_PARTS and marked.text_at(at + 1) in ("after", "before"):
        return relativedelta(days=number), at + 1
    if unit in ("hour", "hours", "hrs", "hr") and number % 24 == 0:
        return relativedelta(days=number // 24), at + 1
    if unit in _UNITS:
        return relativedelta(days=number * _UNITS[unit]), at + 1
    return (relativedelta(months=number), at + 1) if unit in _MONTHS else None


def _number(marked: Marked, index: int) -> tuple[int | None, int]:
    word = marked.text_at(index)
    if word in _UNITS and marked.text_at(index - 1) not in ARTICLES:
        return 1, index
    if word in ("a", "an", "the", "one") and marked.text_at(index + 1) in (*_UNITS, *_MONTHS, *_DAY_PARTS):
        return 1, index + 1
    if word == "a" and marked.text_at(index + 1) == "couple":
        return 2, index + 2 + (marked.text_at(index + 2) == "of")
    found = number_at(marked, index)
    if found is None or found[0].whole is None or found[0].other is not None or found[0].whole > _LONG_NUMBER:
        return None, index
    return found[0].whole, found[1]


def soon_said(heard: Heard, reach: Reach) -> tuple[datetime, Reach] | None:
    """What the group's clock shows "in 20 minutes", "in an hour and a half", "half an hour from now", and the words."""
    bare = heard.marked.bare()
    for index in range(*reach):
        led = bare.text_at(index - 1) in ("in", "within")
        if found := hours_at(bare, index):
            length, end = found
            trailed = (bare.text_at(end), bare.text_at(end + 1)) == ("from", "now")
            if led or trailed:
                then = now_shown(heard, length).replace(second=0, microsecond=0)
                return then, (index - led, end + 2 * trailed)
    return None


def step_in(heard: Heard) -> tuple[relativedelta, frozenset[int]] | None:
    """By how much something is put off, and its words: "by a day", "2 hours later"; "a day earlier" is below zero."""
    bare, said = heard.marked.bare(), set(heard.said)
    for index in range(*heard.reach):
        if found := _step(bare, index):
            sign = -1 if _EARLIER & said or said >= _FORWARD else 1
            return found[0] * sign, frozenset(range(index, found[1]))
    return None


def _step(bare: Marked, index: int) -> tuple[relativedelta, int] | None:
    if bare.text_at(index) in ("the", "next", *_UNITS, *_MONTHS) or bare.text_at(index - 1) == "in":
        return None
    if hours := hours_at(bare, index):
        return relativedelta(seconds=int(hours[0].total_seconds())), hours[1]
    return days_at(bare, index + (bare.text_at(index) == "another"))
