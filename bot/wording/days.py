"""Days as people say them."""

from __future__ import annotations

from datetime import date, datetime

_MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split()
_MONTH_FIRST = frozenset(("US", "FM", "MH", "PW"))
_DAYS_TOLD_IN_DAYS = 13
_DAYS_TOLD_IN_WEEKS = 60


def day(when: date, today: date, country: str) -> str:
    """A day near or far: "today", "Aug 3" (or "3 Aug"), with the year where it is another one."""
    return "today" if when == today else dated(when, today, country)


def dated(when: date, today: date, country: str) -> str:
    """A day by its date, be it today: "Aug 3" (or "3 Aug"), with the year where it is another one."""
    month = _MONTHS[when.month - 1]
    short = f"{month} {when.day}" if country in _MONTH_FIRST else f"{when.day} {month}"
    return short if when.year == today.year else f"{short} {when.year}"


def clock_time(at: datetime, today: date, country: str) -> str:
    """A time of the group's own clock: "Fri Aug 14, 09:00", "today, 17:00"."""
    when = day(at.date(), today, country)
    return f"{when if at.date() == today else f'{at:%a} {when}'}, {at:%H:%M}"


def by_day(when: date | None, today: date, country: str) -> str:
    """By when, with a blank before it: " by Nov 14"; empty where no day is known."""
    return f" by {day(when, today, country)}" if when else ""


def in_days(when: date, today: date) -> str:
    """How far ahead a day is: "today", "tomorrow", "in 5 days", "in 3 weeks", "in 4 months"."""
    days = (when - today).days
    if days <= 0:
        return "today"
    if days == 1:
        return "tomorrow"
    if days <= _DAYS_TOLD_IN_DAYS:
        return f"in {days} days"
    if days <= _DAYS_TOLD_IN_WEEKS:
        return f"in {round(days / 7)} weeks"
    return f"in {round(days / 30.4)} months"


def month(when: date) -> str:
    """A month with its year: "Aug 2025"."""
    return f"{_MONTHS[when.month - 1]} {when.year}"


def ago(when: date, today: date) -> str:
    """How long ago a day was: "today", "3 days ago", "5 weeks ago", "4 months ago"."""
    days = (today - when).days
    if days <= 0:
        return "today"
    if days == 1:
        return "yesterday"
    if days <= _DAYS_TOLD_IN_DAYS:
        return f"{days} days ago"
    if days <= _DAYS_TOLD_IN_WEEKS:
        return f"{days // 7} weeks ago"
    return f"{round(days / 30.4)} months ago"
