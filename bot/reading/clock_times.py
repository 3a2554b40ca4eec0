"""Times of day: 6pm, 18:00, 17.30, 1730, 6 15, 5p, 5 o'clock, half past four in the afternoon, five to six, noon.

One rule for a time of which nobody says on which side of noon it is, however it is written ("6", "6:00", "6.00", "600",
"six o'clock", "half past 6"): an hour from 1 to 7 is one of the afternoon, for nobody shops at five in the morning; one
from 8 to 12 is of the morning, or noon. Any other hour (0, 13 to 24) can only be of the 24-hour clock, and so is one
with a nought before it ("06:00").
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import time

from bot.reading.numbers import number_at
from bot.reading.spans import Marked

AM, PM = "am", "pm"
HALVES = {"morning": AM, "afternoon": PM, "evening": PM, "night": PM, "tonight": PM, "nite": PM}
"""The half of the day that a part of it lies in."""
_DAY = "24"
_HOURS = 24
_NOON = 12
_MINUTES = 60
_EARLY = 7
"""The last hour that is one of the afternoon where nobody says which half of the day is meant."""
_NAMED = {"noon": (12, 0), "midday": (12, 0), "lunchtime": (12, 0), "midnight": (23, 59), "night": (20, 0)}
_PARTS = {"quarter": 15, "half": 30}
_PAST = frozenset(("past", "after"))
_TO = frozenset(("to", "till", "til"))
_LONGEST_BARE = 4
"""Digits of a time without a point: 1730."""


@dataclass(frozen=True, slots=True)
class Clock:
    """A time of day as it is said; ``minute`` is below zero for "quarter to".

    ``half`` is empty where no half of the day is said; ``firm`` is False for figures that mean a time only beside "at"
    or a day: 5, 17.30, 1730.
    """

    hour: int
    minute: int
    end: int
    half: str = ""
    firm: bool = True

    @property
    def at(self) -> time:
        """The time meant, by the rule above; midnight as an hour 24 is the end of the day."""
        if self.hour == _HOURS:
            return time(23, 59)
        late = self.half == PM if self.half else 0 < self.hour <= _EARLY
        twelve = self.half in (AM, PM) and self.hour <= _NOON
        hour = self.hour % _NOON if twelve else self.hour
        total = (hour + (_NOON if late and hour < _NOON else 0)) * _MINUTES + self.minute
        return time(total // _MINUTES % _HOURS, total % _MINUTES)


def clock_said(marked: Marked, index: int) -> Clock | None:
    """The time of day that is surely said at a token."""
    found = clock_beside(marked, index)
    return found if found and found.firm else None


def clock_beside(marked: Marked, index: int) -> Clock | None:
    """The time of day that a token begins where "at" or a day stands beside it: also 5, 17.30, 1730, 6 15, 5 to 6."""
    if named := _NAMED.get(marked.text_at(index)):
        return Clock(*named, index + 1, _DAY)
    return _past_or_to(marked, index) or _in_figures(marked, index)


def no_clock_at(marked: Marked, index: int) -> int | None:
    """Where figures end that are written as a time of day and are none: 25:00, 6:75, 13am."""
    if not marked.text_at(index).isdigit() or marked.text_at(index - 1) == ":" or clock_said(marked, index):
        return None
    end = index + 1
    if marked.text_at(end) == ":" and marked.glued(end) and _two_digits(marked, end + 1) and marked.glued(end + 1):
        return end + 2
    return end + 1 if marked.text_at(end) in (AM, PM) else None


def clock_at(marked: Marked, index: int) -> tuple[time, int] | None:
    """A time surely said, its figures taken as they are written ("7:00" is of the morning), and the index after it."""
    found = clock_said(marked, index)
    if found is None:
        return None
    written = marked.text_at(index).isdigit() and marked.text_at(index + 1) in (":", "h")
    return replace(found, half=found.half or (_DAY if written else "")).at, found.end


def hour_at(marked: Marked, index: int) -> tuple[time, int] | None:
    """A bare hour, as in "at 5", by the rule above, and the index after it."""
    hour = _number(marked, index, _NOON)
    return (Clock(hour[0], 0, hour[1]).at, hour[1]) if hour else None


def _in_figures(marked: Marked, index: int) -> Clock | None:
    found = _pointed(marked, index) or _in_one(marked, index) or _hour_and_minute(marked, index)
    if found is None or found.minute >= _MINUTES or found.hour >= _HOURS + found.firm:
        return None
    if marked.text_at(found.end) in ("oclock", "o"):
        found = replace(found, end=found.end + 1 + (marked.text_at(found.end + 1) == "clock"), firm=True)
    half, end = _half_of_day(marked, found.end)
    if not half:
        nought = marked.text_at(index).startswith("0")
        return replace(found, half=_DAY if nought or not 0 < found.hour <= _NOON else "")
    if half == AM and found.hour > _NOON:
        return None
    letter = marked.text_at(end - 1) in ("a", "p")
    return replace(found, end=end, half=half, firm=not letter or bool(found.minute))


def _pointed(marked: Marked, index: int) -> Clock | None:
    """17.30, whose point may as well be one of money."""
    hour, point, minute = marked.text_at(index).partition(".")
    if not (point and hour.isdigit() and minute.isdigit() and len(minute) == 2):
        return None
    return Clock(int(hour), int(minute), index + 1, firm=False)


def _in_one(marked: Marked, index: int) -> Clock | None:
    """1730 or 530; surely a time as "1730h"."""
    text = marked.text_at(index)
    if not text.isdigit() or not 2 < len(text) <= _LONGEST_BARE:
        return None
    hours = marked.text_at(index + 1) in ("h", "hrs", "hours")
    return Clock(int(text[:-2]), int(text[-2:]), index + 1 + hours, firm=hours)


def _hour_and_minute(marked: Marked, index: int) -> Clock | None:
    """5, 17:30, 17h30, 6 15, five thirty."""
    found = _number(marked, index, _HOURS)
    if found is None:
        return None
    hour, end = found
    if marked.text_at(end) in (":", "h") and marked.glued(end):
        if _two_digits(marked, end + 1) and marked.glued(end + 1):
            return Clock(hour, int(marked.text_at(end + 1)), end + 2)
        return Clock(hour, 0, end + (marked.text_at(end) == "h"), firm=marked.text_at(end) == "h")
    minute = _number(marked, end, _MINUTES)
    parted = minute and not (marked.glued(end) and marked.text_at(end).isdigit())
    if minute and parted and minute[0] >= 10 and (_two_digits(marked, end) or not marked.text_at(end).isdigit()):
        return Clock(hour, minute[0], minute[1], firm=False)
    return Clock(hour, 0, end, firm=False)


def _two_digits(marked: Marked, index: int) -> bool:
    text = marked.text_at(index)
    return len(text) == 2 and text.isdigit()


def _number(marked: Marked, index: int, most: int) -> tuple[int, int] | None:
    """A plain whole number up to ``most``, in digits or words, and where it ends."""
    found = number_at(marked, index)
    if found is None or found[0].whole is None or found[0].collective or found[0].other is not None:
        return None
    return (found[0].whole, found[1]) if 0 <= found[0].whole <= most else None


def _half_of_day(marked: Marked, index: int) -> tuple[str, int]:
    """ "am" or "pm", and where it ends: "pm", "p.m.", "5p", "in the afternoon", "at night"."""
    half = marked.text_at(index)
    if half in (AM, PM):
        return half, index + 1
    if half in ("a", "p") and marked.text_at(index + 1) == "." and marked.text_at(index + 2) == "m":
        return f"{half}m", index + 3 + (marked.text_at(index + 3) == ".")
    if half in ("a", "p") and marked.glued(index):
        return f"{half}m", index + 1
    if half == "in" and marked.text_at(index + 1) == "the" and (part := HALVES.get(marked.text_at(index + 2))):
        return part, index + 3
    if half == "at" and marked.text_at(index + 1) == "night":
        return PM, index + 2
    return "", index


def _past_or_to(marked: Marked, index: int) -> Clock | None:
    """ "half past four", "10 past 6", "five to nine"; also "half four", as said in Britain."""
    part = _PARTS.get(marked.text_at(index))
    minute = (part, index + 1) if part else _number(marked, index, _MINUTES - 1)
    if minute is None:
        return None
    at = minute[1] + (marked.text_at(minute[1]) in ("minutes", "mins", "min"))
    way = marked.text_at(at)
    short = way not in _PAST | _TO
    if short and marked.text_at(index) != "half":
        return None
    found = _number(marked, at if short else at + 1, _NOON)
    if found is None or not found[0]:
        return None
    half, end = _half_of_day(marked, found[1])
    firm = bool(half) if short else bool(part) or way == "past"
    return Clock(found[0], -minute[0] if way in _TO else minute[0], end, half, firm)
