"""Words that leave it open which of a few days is meant: "the friday after next", "on the weekend", "in a few days"."""

from __future__ import annotations

from datetime import date, timedelta

from dateutil.relativedelta import relativedelta

from bot.reading.dates import day_at
from bot.reading.spans import Marked, Reach
from core.day_rules import WEEKDAYS

WEEKEND = frozenset(("weekend", "wknd"))
_SHORT_WEEKDAYS = frozenset(day[:3] for day in WEEKDAYS)
_SATURDAY = 5
_WEEK = timedelta(days=7)
_FEW = (2, 3, 4)
"""What "a few" may be, for the question how many."""
_UNITS = {"days": 1, "weeks": 7}

Days = tuple[tuple[date, ...], int]
"""The days that may be meant, and where their words end."""


def after_next(marked: Marked, index: int) -> Days | None:
    """ "The week after next"; "the friday after next" is a week after the next friday, or after that of next week."""
    at = index + (marked.text_at(index) == "the")
    if (marked.text_at(at + 1), marked.text_at(at + 2)) != ("after", "next"):
        return None
    today, unit, end = marked.today, marked.text_at(at), at + 3
    if unit == "week":
        return (today + 2 * _WEEK,), end
    if unit == "month":
        return (today + relativedelta(months=2),), end
    found = day_at(marked, at, ahead=True) if unit[:3] in _SHORT_WEEKDAYS else None
    if found is None or found[1] != at + 1:
        return None
    soon = found[0] + (_WEEK if found[0] == today else timedelta())
    of_next_week = _monday(today) + _WEEK + timedelta(days=soon.weekday())
    return tuple(sorted({soon + _WEEK, of_next_week + _WEEK})), end


def weekend(marked: Marked, index: int) -> Days | None:
    """ "On the weekend", "next weekend": one of its two days."""
    at = index + (marked.text_at(index) in ("the", "this", "next", "coming"))
    if marked.text_at(at) not in WEEKEND:
        return None
    saturday = marked.today + timedelta(days=(_SATURDAY - marked.today.weekday()) % 7)
    if marked.text_at(index) == "next":
        saturday = _monday(marked.today) + _WEEK + timedelta(days=_SATURDAY)
    return (saturday, saturday + timedelta(days=1)), at + 1


def few_days(marked: Marked, index: int) -> Days | None:
    """ "In a few days", "in several weeks"."""
    at = index + 1 + (marked.text_at(index + 1) == "a")
    unit = _UNITS.get(marked.text_at(at + 1))
    if marked.text_at(index) != "in" or marked.text_at(at) not in ("few", "several") or unit is None:
        return None
    return tuple(marked.today + timedelta(days=unit * count) for count in _FEW), at + 2


def another_errand(marked: Marked, reach: Reach, taken: frozenset[int]) -> bool:
    """Whether a further day is said with an errand or a time of its own: "... and on saturday to bring ribbon"."""
    for index in range(*reach):
        at = index + 1 + (marked.text_at(index + 1) == "on")
        found = day_at(marked, at, ahead=True) if marked.text_at(index) in ("and", "&") and at not in taken else None
        own = found and marked.text_at(at).isalpha() and marked.text_at(found[1]) in ("to", "at", "@")
        if own and not day_at(marked, index - 1, ahead=True):
            return True
    return False


def _monday(day: date) -> date:
    return day - timedelta(days=day.weekday())
