"""Of which days somebody asks: "right now", "this week", "in september", "next month"."""

from __future__ import annotations

from datetime import date, timedelta

from dateutil.relativedelta import relativedelta

from bot.reading.dates import day_at
from bot.reading.form import Heard
from bot.reading.numbers import number_at
from bot.reading.spans import Marked
from core.day_rules import month_called

UNTIL = frozenset("before until till by".split())
_NOW = frozenset("now today rn currently tonight".split())
_MINUTE = frozenset(("minute", "second", "moment"))
_DOUBTFUL = frozenset(("may", "march", "mar"))
"""Months that are other words as well."""
_LEADS = frozenset("in for during of this next on".split())
_DAYS = {"day": 1, "week": 7}


def stretch_in(heard: Heard) -> tuple[date, date] | None:
    """The first and the last day asked about; None where no time is said. It never begins before today."""
    bare = heard.marked.bare()
    found = [days for index in range(*heard.reach) if (days := _at(bare, index))]
    if not found:
        return None
    return max(min(first for first, _ in found), bare.today), max(last for _, last in found)


def _at(bare: Marked, index: int) -> tuple[date, date] | None:
    if bare.text_at(index - 1) in UNTIL:
        return None
    finds = (_until, _month, _now, _calendar, _ahead, _day)
    return next((found for find in finds if (found := find(bare, index))), None)


def _until(bare: Marked, index: int) -> tuple[date, date] | None:
    """All days up to one: "before christmas", "until sept 5"."""
    found = day_at(bare, index + 1, ahead=True) if bare.text_at(index) in UNTIL else None
    return (bare.today, found[0] - timedelta(days=bare.text_at(index) == "before")) if found else None


def _month(bare: Marked, index: int) -> tuple[date, date] | None:
    """A month by its name, the next to come or the one that is."""
    word, before = bare.text_at(index), bare.text_at(index - 1)
    month = month_called(word)
    if month is None or (word in _DOUBTFUL and before not in _LEADS) or bare.text_at(index + 1).isdigit():
        return None
    today = bare.today
    first = date(today.year + (month < today.month), month, 1)
    return first, first + relativedelta(day=31)


def _now(bare: Marked, index: int) -> tuple[date, date] | None:
    word, before = bare.text_at(index), bare.text_at(index - 1)
    if (word in _NOW and before != "from") or (word in _MINUTE and before in _VERY):
        return bare.today, bare.today
    return None


_VERY = frozenset(("this", "very", "the"))


def _calendar(bare: Marked, index: int) -> tuple[date, date] | None:
    """This or the next week, weekend, month or year."""
    which = bare.text_at(index - 1)
    if which not in ("this", "next"):
        return None
    today, steps = bare.today, int(which == "next")
    monday = today - timedelta(days=today.weekday()) + timedelta(weeks=steps)
    match bare.text_at(index):
        case "week":
            return monday, monday + timedelta(days=6)
        case "weekend" | "wknd":
            return monday + timedelta(days=5), monday + timedelta(days=6)
        case "month":
            first = today.replace(day=1) + relativedelta(months=steps)
            return first, first + relativedelta(day=31)
        case "year" | "yr":
            return date(today.year + steps, 1, 1), date(today.year + steps, 12, 31)
        case _:
            return None


def _ahead(bare: Marked, index: int) -> tuple[date, date] | None:
    """ "in the next two weeks", "in the next 10 days"."""
    number = number_at(bare, index) if bare.text_at(index - 1) == "next" else None
    unit = bare.text_at(number[1]).removesuffix("s") if number else ""
    if number is None or number[0].whole is None or unit not in (*_DAYS, "month"):
        return None
    count = number[0].whole
    step = relativedelta(months=count) if unit == "month" else relativedelta(days=count * _DAYS[unit])
    return bare.today, bare.today + step


def _day(bare: Marked, index: int) -> tuple[date, date] | None:
    """A day: "on saturday", "tomorrow", "on sept 5"."""
    found = day_at(bare, index, ahead=True)
    if found is None or (bare.text_at(index).isdigit() and found[1] == index + 1) or found[0] < bare.today:
        return None
    return found[0], found[0]
