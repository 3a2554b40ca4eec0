"""A reminder wanted again and again: "every tuesday", "on the 31st of every month", "daily", "on fridays"."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from dateutil.relativedelta import relativedelta

from bot.reading.dates import ORDINAL_ENDS
from bot.reading.form import Heard
from bot.reading.spans import Marked
from core.day_rules import WEEKDAYS

_UNITS = {
    "day": relativedelta(days=1),
    "week": relativedelta(weeks=1),
    "fortnight": relativedelta(weeks=2),
    "month": relativedelta(months=1),
    "year": relativedelta(years=1),
}
_OFTEN = {
    "daily": "day",
    "nightly": "day",
    "weekly": "week",
    "fortnightly": "fortnight",
    "monthly": "month",
    "yearly": "year",
    "annually": "year",
}
_PARTS = frozenset("morning afternoon evening night weekday".split())
_ORDERS = frozenset("other second third single last first".split())
_LEADS = frozenset("me us everyone all him her them on remind".split())
_SHORTEST = 3


@dataclass(frozen=True, slots=True)
class Repeat:
    """The words that ask for it again and again, and the next day as far as they tell it."""

    tokens: frozenset[int]
    on: date | None


def repeat_said(heard: Heard) -> Repeat | None:
    """What is said of coming again and again; None where it is to come once."""
    marked = heard.marked
    for index in range(*heard.reach):
        word = marked.text_at(index)
        if word in ("every", "each"):
            at = index + 1
            while marked.text_at(at) in _ORDERS or (marked.text_at(at).isdigit() and _unit(marked.text_at(at + 1))):
                at += 1
            if marked.text_at(at + 1) in ORDINAL_ENDS and marked.glued(at + 1):
                return Repeat(frozenset((index,)), None)
            if unit := _unit(marked.text_at(at)):
                start = index - (marked.text_at(index - 1) == "of")
                return Repeat(frozenset(range(start, at + 1)), _next(unit, marked.today))
        elif (word in _OFTEN or _is_plural_weekday(marked, index)) and _is_told(heard, index):
            return Repeat(frozenset((index,)), _next(_unit(word), marked.today))
    return None


def _unit(word: str) -> str:
    """A unit of time, or a weekday, that a word means; empty where it means none."""
    plain = _OFTEN.get(word, word.removesuffix("s"))
    if plain in _PARTS:
        return "day"
    if plain in _UNITS:
        return plain
    return next((day for day in WEEKDAYS if len(plain) >= _SHORTEST and day.startswith(plain)), "")


def _next(unit: str, today: date) -> date:
    if unit in _UNITS:
        return today + _UNITS[unit]
    return today + relativedelta(days=(WEEKDAYS.index(unit) - today.weekday() - 1) % 7 + 1)


def _is_plural_weekday(marked: Marked, index: int) -> bool:
    """Whether it is "fridays", and not "friday's"."""
    word = marked.text_at(index)
    return word.removesuffix("s") in WEEKDAYS and word.endswith("s") and marked.said(index, index + 1).isalpha()


def _is_told(heard: Heard, index: int) -> bool:
    """Whether it says how often to remind, and is none of the things to remind of: "the weekly list"."""
    return index + 1 >= heard.reach[1] or heard.marked.text_at(index - 1) in _LEADS
