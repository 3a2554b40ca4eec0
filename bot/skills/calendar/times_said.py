"""The time of day that a reminder is to come at, beside the day that is said or alone; a part of the day."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from bot.reading.clock_times import HALVES, PM, Clock, clock_beside, clock_said, no_clock_at
from bot.reading.dates import no_such_day
from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.spans import Marked, Reach
from bot.reading.words import Sort, singular
from core.due import MORNING, wall_clock

_PARTS = {"afternoon": (15, 18), "evening": (19, 22), "tonight": (20, 24), "night": (20, 24), "lunchtime": (12, 14)}
"""The hour at which something of a part of the day comes, and the one at which that part is over."""
_LEADS = frozenset(("at", "@", "by", "around"))
_ENDS = frozenset("to that on tomorrow today about for of please pls plz thanks because so and".split())
"""Words behind a number that make it no count of them."""
_WHOM = frozenset("me us everyone everybody all him her them remind reminder".split())
_STREETS = frozenset("street st road rd avenue ave lane ln drive court place square terrace way".split())


@dataclass(frozen=True, slots=True)
class Timed:
    """A time of day, and its words with those that lead to it; ``sure`` is False where it may as well be a count."""

    clock: Clock
    reach: Reach
    sure: bool = True


def time_said(heard: Heard, reach: Reach, day: Reach | None) -> Timed | None:
    """The first time of day outside the words of the day; one that figures alone do not tell stands beside it."""
    bare = heard.marked.bare()
    taken = range(*day) if day else range(0)
    for index in range(*reach):
        if index in taken or bare.text_at(index) == "night":
            continue
        clock = clock_said(bare, index)
        led = bare.text_at(index - 1) in _LEADS
        found = Timed(clock, (index - led, clock.end)) if clock else _beside(heard, index, day)
        if found and not any(at in taken for at in range(index, found.clock.end)):
            return found
    return None


def _beside(heard: Heard, index: int, day: Reach | None) -> Timed | None:
    """A time told by "at", "to" or the day beside it: "at 5", "friday 1730", "move it to 5"."""
    bare = heard.marked.bare()
    clock = clock_beside(bare, index)
    if clock and _counts(heard, clock.end):
        clock = replace(clock, minute=0, end=index + 1) if clock.end == index + 2 and clock.minute > 0 else None
    if clock is None or _is_address(bare, clock.end):
        return None
    ends = _is_end(bare, clock.end)
    lead = bare.text_at(index - 1)
    by_day = day is not None and (index - 2 in range(*day) or clock.end in (day[0], day[0] - 1))
    if lead in _LEADS and (by_day or (day is None and ends) or _is_whom(heard, index - 2)):
        return Timed(clock, (index - 1, clock.end))
    if lead in ("to", "till", "until") and (_is_over(bare, clock.end) or (day and clock.end == day[0])):
        return Timed(clock, (index - 1, clock.end))
    if day and index in (day[1], day[1] + (bare.text_at(day[1]) == ",")):
        one_word = clock.end == index + 1 and "." not in bare.text_at(index)
        return Timed(clock, (index, clock.end), sure=ends or not one_word)
    return None


def _counts(heard: Heard, index: int) -> bool:
    """Whether something stands there that can be counted: "5 combs"."""
    marked, word = heard.marked, heard.marked.text_at(index)
    known = (span for sort in (NameSort.ITEM, NameSort.KIT) for span in named(marked, (index, index + 1), sort))
    return any(span.start == index for span in known) or (singular(word) != word and word not in _ENDS)


def _is_address(bare: Marked, end: int) -> bool:
    return any(bare.text_at(at) in _STREETS for at in (end + 1, end + 2))


def _is_whom(heard: Heard, index: int) -> bool:
    members = named(heard.marked, (index, index + 1), NameSort.MEMBER)
    return heard.marked.text_at(index) in _WHOM or bool(members)


def _is_over(bare: Marked, index: int) -> bool:
    return index >= len(bare.tokens) or bare.tokens[index].sort is Sort.STOP


def _is_end(bare: Marked, index: int) -> bool:
    return _is_over(bare, index) or bare.tokens[index].sort is not Sort.WORD or bare.text_at(index) in _ENDS


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the day, and its words."""

    word: str
    reach: Reach

    def hour(self, now: time | None) -> time | None:
        """When something of it comes, None in the morning; at the next full hour where it is on ``now``."""
        starts, over = _PARTS.get(self.word, (0, 0))
        if not starts:
            return None
        later = now.hour + 1 if now else 0
        return time(later if starts < later < over else starts)


def part_said(heard: Heard, reach: Reach, day: Reach | None) -> Part | None:
    """The part of the day said with a day or, behind "in the", without one."""
    bare = heard.marked.bare()
    for index in range(*reach):
        word = bare.text_at(index)
        if word not in HALVES and word not in _PARTS:
            continue
        if day and day[0] <= index <= day[1]:
            return Part(word, (index, index + 1))
        led = bare.text_at(index - 2) == "in" and bare.text_at(index - 1) == "the"
        if led and (day is None or index - 2 == day[1]):
            return Part(word, (index - 2, index + 1))
        if day is None and bare.text_at(index - 1) in ("every", "each"):
            return Part(word, (index, index + 1))
    return None


def with_part(timed: Timed | None, part: Part | None) -> Timed | None:
    """The time in the half of the day that the part of it lies in: "tomorrow evening at 8"."""
    if timed is None or part is None or timed.clock.half:
        return timed
    return replace(timed, clock=replace(timed.clock, half=HALVES.get(part.word, "")))


def time_on(heard: Heard, on: date | None, timed: Timed | None, part: Part | None) -> time | None:
    """The time of day said for a day; one that is over today is that of the other half, where it may be."""
    now = now_shown(heard).time() if on == heard.marked.today else None
    if timed is None:
        return part.hour(now) if part else None
    later = replace(timed.clock, half=timed.clock.half or PM).at
    return later if now and timed.clock.at <= now < later else timed.clock.at


def next_time(heard: Heard, timed: Timed | None, part: Part | None) -> tuple[date | None, time | None]:
    """The day on which a time or a part of the day comes next, and the time; nothing where neither is said."""
    if timed is None and part is None:
        return None, None
    now = now_shown(heard).time()
    at = timed.clock.at if timed else part.hour(now) if part else None
    return heard.marked.today + timedelta(days=(at or MORNING) <= now), at


def now_shown(heard: Heard, later: timedelta = timedelta()) -> datetime:
    """What the group's own clock shows at the message, or so much later; a moment without a zone is of that clock."""
    moment = heard.marked.at + later
    return wall_clock(moment, heard.marked.settings.zone) if moment.tzinfo else moment


def no_such_time(heard: Heard) -> frozenset[int]:
    """The words of a date or a time of day that there is none of: "feb 30", "25:00"."""
    bare = heard.marked.bare()
    for index in range(*heard.reach):
        if end := no_such_day(bare, index) or no_clock_at(bare, index):
            return frozenset(range(index, end))
    return frozenset()
