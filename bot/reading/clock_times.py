"""Times of day: 6pm, 18:00, 7.30am, 5 o'clock, half past four in the afternoon, ten at night, noon."""

from __future__ import annotations

from datetime import time

from bot.reading.numbers import number_at
from bot.reading.spans import Marked

_TIMES = {
    "noon": time(12),
    "midday": time(12),
    "lunchtime": time(12),
    "midnight": time(23, 59),
    "night": time(20),
}
_HOURS = 24
_NOON = 12
_EARLY = 7
"""An hour up to this one, said without am or pm, is one of the afternoon: nobody shops at five in the morning."""
_PARTS = {"quarter": 15, "half": 30, "ten": 10, "twenty": 20, "five": 5}
_DAY_PARTS = {"morning": "am", "afternoon": "pm", "evening": "pm", "night": "pm"}


def clock_at(marked: Marked, index: int) -> tuple[time, int] | None:
    """The time of day that is surely said at a token, and the index after it; midnight is the end of the day."""
    word = marked.text_at(index)
    if word in _TIMES:
        return _TIMES[word], index + 1
    return _past_or_to(marked, index) or _in_figures(marked, index)


def hour_at(marked: Marked, index: int) -> tuple[time, int] | None:
    """A bare hour, as in "at 5": of the afternoon up to 7, else as said."""
    number = number_at(marked, index)
    if number is None or number[0].whole is None or not 0 < number[0].whole <= _NOON:
        return None
    hour = number[0].whole
    return time(hour + _NOON if hour <= _EARLY else hour), number[1]


def _in_figures(marked: Marked, index: int) -> tuple[time, int] | None:
    found = _hour_and_minute(marked, index)
    if found is None:
        return None
    hour, minute, end, marked_as_time = found
    half, end = _half_of_day(marked, end)
    if half:
        return (time(hour % _NOON + (_NOON if half == "pm" else 0), minute), end) if hour <= _NOON else None
    if marked.text_at(end) in ("oclock", "o"):
        late = time(hour if hour > _EARLY else hour + _NOON, minute)
        return late, end + 1 + (marked.text_at(end + 1) == "clock")
    return (time(hour, minute), end) if marked_as_time else None


def _hour_and_minute(marked: Marked, index: int) -> tuple[int, int, int, bool] | None:
    """Hour, minute, where they end, and whether they are written as a time."""
    text = marked.text_at(index)
    hours, point, minutes = text.partition(".")
    if point and hours.isdigit() and len(minutes) == 2 and minutes.isdigit() and int(hours) < _HOURS:
        return (int(hours), int(minutes), index + 1, False) if int(minutes) < 60 else None
    number = number_at(marked, index)
    if number is None or number[0].whole is None or not 0 <= number[0].whole < _HOURS:
        return None
    hour, end = number[0].whole, number[1]
    if marked.text_at(end) not in (":", "h") or not marked.glued(end):
        return hour, 0, end, False
    minutes = marked.text_at(end + 1)
    if minutes.isdigit() and len(minutes) == 2 and marked.glued(end + 1):
        return (hour, int(minutes), end + 2, True) if int(minutes) < 60 else None
    return hour, 0, end + 1, True


def _half_of_day(marked: Marked, index: int) -> tuple[str, int]:
    """ "am" or "pm", and where it ends: "pm", "p.m.", "in the afternoon", "at night"."""
    half = marked.text_at(index)
    if half in ("am", "pm"):
        return half, index + 1
    if half in ("a", "p") and marked.text_at(index + 1) == "." and marked.text_at(index + 2) == "m":
        return f"{half}m", index + 3 + (marked.text_at(index + 3) == ".")
    if half == "in" and marked.text_at(index + 1) == "the" and (part := _DAY_PARTS.get(marked.text_at(index + 2))):
        return part, index + 3
    if half == "at" and marked.text_at(index + 1) == "night":
        return "pm", index + 2
    return "", index


def _past_or_to(marked: Marked, index: int) -> tuple[time, int] | None:
    """ "half past four", "quarter to nine"; also "half four", as said in Britain."""
    minutes = _PARTS.get(marked.text_at(index))
    way = marked.text_at(index + 1)
    at = index + 2 if way in ("past", "to", "after") else index + 1
    if minutes is None or (at == index + 1 and marked.text_at(index) != "half"):
        return None
    number = number_at(marked, at)
    if number is None or number[0].whole is None or not 0 < number[0].whole <= _NOON:
        return None
    half, end = _half_of_day(marked, number[1])
    if at == index + 1 and not half:
        return None
    hour = number[0].whole % _NOON
    late = half == "pm" or (not half and number[0].whole <= _EARLY)
    total = (hour + (_NOON if late else 0)) * 60 + (-minutes if way == "to" else minutes)
    return time(total // 60 % _HOURS, total % 60), end
