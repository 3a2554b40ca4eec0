"""The times of day that a message gives for the quiet hours and for the weekly summary."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import time

from bot.reading.clock_times import clock_at, hour_at
from bot.reading.form import Heard
from bot.reading.spans import Marked
from bot.skills.house.runs_said import is_off, is_on
from core.choices import OFF, ON
from core.day_rules import WEEKDAYS

_WEEKDAY_STARTS = {day[:3]: day for day in WEEKDAYS}
_NOON = 12
_DAY = 24
_DEAD_OF_NIGHT = 3
"""An hour at which quiet hours are on, where their halves of the day are not said."""
_LONGEST = 14
"""Hours of quiet in one day, beyond which another half of the day is meant."""
_BEFORE_AN_HOUR = frozenset("from between and to till til until at - hours hrs after before past by summary".split())
_STARTING = frozenset("after from past since between start starts starting begin begins beginning".split())
_ENDING = frozenset("before until till til untill by end ends ending over finish finishes".split())
_HALVES = frozenset("am pm morning mornings afternoon evening night noon midday midnight".split())
_NAMED = frozenset("hours hour hrs night".split())
"""Words that tell the quiet hours from a quiet evening."""
_DEMANDS = frozenset("no not nothing dont do never stop be stay keep silence shush hush mute make set disturb".split())
"""Words that demand quiet: "nice and quiet from 9 to 5" does not."""
_POSTS = frozenset(
    "notifications mute msg msgs message messages messaging texts post posts posting pings alerts".split()
)
_WRITING = frozenset("bother disturb text texting ping pinging write writing buzz send".split())
_LATE = frozenset("afternoon afternoons evening evenings night nights".split())
_DAY_PARTS = {"morning": time(9), "lunchtime": time(12), "afternoon": time(15), "evening": time(19)}
"""When a summary of a part of the day comes, where no hour is said."""


@dataclass(frozen=True, slots=True)
class _Hour:
    """A time of day, whether its half of the day is sure, and whether it is the end of something."""

    at: time
    sure: bool
    index: int
    ends: bool | None = None


def quiet_hours(heard: Heard) -> str | None:
    """ "22:00-07:00"; with one end said "22:00-" or "-07:00"; "on" or "off" where no time is said."""
    times = _times(heard)
    if not (_NAMED if not times else _NAMED | _DEMANDS) & set(heard.said):
        return None
    if not times:
        return ON if is_on(heard) else OFF if is_off(heard) else None
    if len(times) == 1:
        return _half(times[0]) if _tells_one_end(set(heard.said)) else None
    first, second = times[:2]
    if first.ends and second.ends is False:
        first, second = second, first
    starts, ends = _span(first, second)
    return f"{_clock(starts)}-{_clock(ends)}"


def _tells_one_end(said: set[str]) -> bool:
    """Whether one end of the quiet hours is told: "no messages after 9", "dont text us after 9"."""
    return bool(said & (_NAMED | _POSTS) or (said & _WRITING and "us" in said)) and "off" not in said


def _half(hour: _Hour) -> str | None:
    """One end of the quiet hours; None where it is open which."""
    if hour.ends is None:
        return None
    if hour.ends:
        return f"-{_clock(hour.at if hour.sure else _other(hour.at, late=False))}"
    small = _early(hour.at) % _NOON
    return f"{_clock(hour.at if hour.sure else _other(hour.at, late=small > _DEAD_OF_NIGHT + 1))}-"


def _span(first: _Hour, second: _Hour) -> tuple[time, time]:
    """Both ends, in the halves of the day that make a night of them, or else the shortest time."""
    if not first.sure and second.sure and second.at.hour >= _NOON > _early(second.at) > _early(first.at):
        return _other(first.at, late=True), second.at
    pairs = [(starts, ends) for starts in _readings(first) for ends in _readings(second) if starts != ends]
    return min(pairs or [(first.at, second.at)], key=lambda pair: (not _is_night(*pair), _length(*pair)))


def _readings(hour: _Hour) -> list[time]:
    return [hour.at] if hour.sure else [_other(hour.at, late=late) for late in (False, True)]


def _early(at: time) -> int:
    return at.hour % _NOON


def _other(at: time, *, late: bool) -> time:
    """The same figures of the clock in one half of the day."""
    return at.replace(hour=_early(at) + (_NOON if late else 0))


def _length(starts: time, ends: time) -> float:
    """Hours from one time to the next such other."""
    return ((ends.hour - starts.hour) + (ends.minute - starts.minute) / 60) % _DAY


def _is_night(starts: time, ends: time) -> bool:
    return _length(starts, time(_DEAD_OF_NIGHT)) < _length(starts, ends) <= _LONGEST


def _clock(at: time) -> str:
    return "00:00" if at == time(23, 59) else f"{at:%H:%M}"


def _times(heard: Heard) -> list[_Hour]:
    """The times of day said."""
    bare = heard.marked.bare()
    found: list[_Hour] = []
    index = heard.reach[0]
    while index < heard.reach[1]:
        here = clock_at(bare, index) or _bare_hour(bare, index)
        if here and bare.text_at(index) != "night":
            found.append(_Hour(here[0], _is_sure(bare, index, here[1]), index, _ends(heard, index)))
        index = here[1] if here else index + 1
    return found


def _bare_hour(bare: Marked, index: int) -> tuple[time, int] | None:
    """An hour without a sign that it is one: "at 5", the 22 of "from 22 to 6", "10-8", "9.30"."""
    spanned = bare.glued(index + 1) and bare.text_at(index + 1).isdigit()
    if not (spanned or bare.glued(index) or bare.text_at(index - 1) in _BEFORE_AN_HOUR):
        return None
    word = bare.text_at(index)
    if word.isdigit() and (_NOON < int(word) < _DAY or int(word) == 0):
        return time(int(word)), index + 1
    hours, _, minutes = word.partition(".")
    if hours.isdigit() and minutes.isdigit() and len(minutes) == 2 and int(hours) < _DAY and int(minutes) < 60:
        return time(int(hours), int(minutes)), index + 1
    return hour_at(bare, index)


def _is_sure(bare: Marked, start: int, end: int) -> bool:
    """Whether the half of the day is said, or the hour is one of twenty-four."""
    words = [bare.text_at(index) for index in range(start, end)]
    figures = words[0].partition(".")[0]
    of_24 = figures.isdigit() and (not 0 < int(figures) <= _NOON or figures.startswith("0"))
    return of_24 or bool(_HALVES & set(words))


def _ends(heard: Heard, index: int) -> bool | None:
    """Whether the nearest word before a time says that something ends there, or begins; None where none does."""
    before = reversed(heard.said[: index - heard.reach[0]])
    return next((word in _ENDING for word in before if word in _STARTING | _ENDING), None)


def summary_time(heard: Heard) -> str | None:
    """ "friday 16:30", "friday", "16:30", "on" or "off"."""
    words = heard.said
    refused = {words[at + 2] for at in range(len(words) - 2) if words[at] == "not" and words[at + 1] in ("on", "at")}
    refused |= {words[at + 1] for at in range(len(words) - 1) if words[at] == "not"}
    told = [word for word in words if word not in refused]
    day = next((found for word in told if (found := weekday(word))), None)
    at = _summary_hour(heard)
    if day or at:
        return " ".join([*([day] if day else []), *([_clock(at)] if at else [])])
    return ON if is_on(heard) else OFF if is_off(heard) else None


def _summary_hour(heard: Heard) -> time | None:
    """The hour that is said, in the half of the day that is named beside it; else that of a part of the day."""
    times = _times(heard)
    if times:
        late = not times[0].sure and bool(_LATE & set(heard.said))
        return _other(times[0].at, late=True) if late else times[0].at
    parts = (_DAY_PARTS.get(word.removesuffix("s")) for word in heard.said)
    return next((at for at in parts if at), time(20) if _LATE & set(heard.said) else None)


def weekday(word: str) -> str | None:
    """The weekday that a word is: "friday", "fridays", "fri", "tues"."""
    day = _WEEKDAY_STARTS.get(word[:3])
    shorts = {day[:3], f"{day[:3]}s", day[:4], day[:5]} if day else set()
    return day if day and (word.removesuffix("s") == day or word in shorts) else None
