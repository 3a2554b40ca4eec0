"""When something is to happen: a day, or so many days before a feast, a sale or a collection day, and a time of day."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from dateutil.relativedelta import relativedelta

from bot.reading.clock_times import PM, no_clock_at
from bot.reading.dates import day_at, no_such_day
from bot.reading.durations import hours_at
from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.numbers import number_at
from bot.reading.occasions import occasion_at
from bot.reading.spans import Marked
from bot.reading.words import Sort
from bot.skills.calendar.times_said import Part, Timed, part_said, time_said, with_part
from core.day_rules import WEEKDAYS, NthWeekday, next_on, rule_of
from core.due import MORNING, wall_clock
from core.kits import season

_UNITS = {"day": 1, "days": 1} | dict.fromkeys(("week", "weeks", "wk", "wks"), 7) | {"fortnight": 14, "fortnights": 14}
_MONTHS = frozenset(("month", "months"))
_DAY_PARTS = frozenset(("morning", "evening", "night"))
_BEFORE = frozenset("before ahead prior b4 bfore befor beofre befroe beforehand till until".split())
_AFTER = frozenset(("after",))
_ARTICLES = frozenset("the our this next any a an these those".split())
_DUE = frozenset("due collected collection deadline pickup ready needed".split())
_BACK = frozenset("that it then they this those".split())
_DAY_LEADS = frozenset("when day on by this next come for from to until till at @ , of is the -".split())
_BEGINS = frozenset("starts start begins begin opens is are".split())
_ENDS = frozenset("ends end ending finishes finish closes close over".split())
_JOINTS = frozenset((",", "and", "&", "or", "/", "n"))
_WEEKEND = frozenset(("weekend", "wknd"))
_SATURDAY = 5
_FEW = (2, 3, 4)
"""What "a few" may be, for the question how many."""
_EARLIER = frozenset(("earlier", "sooner"))
_LONG_NUMBER = 400
_WEEKDAY_LENGTH = 3
_WEEKDAYS = frozenset(word[:3] for word in WEEKDAYS)


@dataclass(frozen=True, slots=True)
class When:
    """A day and a time as far as they are said, the tokens that say them, and the words of a feast or sale named.

    ``dated`` is False where the day is only reckoned from the time. ``more`` are further days said with the first one
    ("tuesday and thursday"), ``either`` all those among which it is open which is meant ("on the weekend"), ``doubted``
    a time that may as well be a count ("friday 5 call the hall").
    """

    on: date | None
    at: time | None
    tokens: frozenset[int]
    anchor: str = ""
    dated: bool = True
    more: tuple[date, ...] = ()
    either: tuple[date, ...] = ()
    doubted: Timed | None = None


def when_in(heard: Heard, start: int = 0) -> When:
    """When something is to happen, as said in a stretch; else in what was said before it, from ``start`` on."""
    found = _Search(heard).when(heard.reach)
    if found.on is None and start < heard.reach[0]:
        before = _Search(heard).when((start, heard.reach[0]))
        if before.on is not None and before.on >= heard.marked.today:
            return replace(before, at=found.at or before.at, tokens=found.tokens | before.tokens)
    return found


def no_such_time(heard: Heard) -> frozenset[int]:
    """The words of a date or a time of day that there is none of: "feb 30", "25:00"."""
    bare = heard.marked.bare()
    for index in range(*heard.reach):
        if end := no_such_day(bare, index) or no_clock_at(bare, index):
            return frozenset(range(index, end))
    return frozenset()


def step_in(heard: Heard) -> tuple[relativedelta, frozenset[int]] | None:
    """By how much something is put off, and its words: "by a day", "2 hours later"; "a day earlier" is below zero."""
    search = _Search(heard)
    for index in range(*heard.reach):
        if found := search.step(index):
            step, end = found
            sign = -1 if _EARLIER & set(heard.said) or {"bring", "forward"} <= set(heard.said) else 1
            return step * sign, frozenset(range(index, end))
    return None


@dataclass(frozen=True, slots=True)
class _Day:
    on: date
    end: int
    anchor: str = ""
    either: tuple[date, ...] = ()


class _Search:
    """A look for a day through the words of a message."""

    def __init__(self, heard: Heard) -> None:
        self._heard = heard
        self._bare: Marked = heard.marked.bare()

    def when(self, reach: tuple[int, int]) -> When:
        """The first day said in a stretch, those reckoned from another one before plain ones; and the first time."""
        if soon := self._in_hours(reach):
            return soon
        day = self._first(reach)
        more, joint, end = self._listed(day[1].end) if day else ([], "", 0)
        span = (day[0], end) if day else None
        part = part_said(self._heard, reach, span)
        if span and part and part.reach[0] == span[1]:
            span = (span[0], part.reach[1])
        timed = with_part(time_said(self._heard, reach, span), part)
        sure = timed if timed and timed.sure else None
        said = (span, sure and sure.reach, part and part.reach)
        tokens = frozenset(at for one in said if one for at in range(*one))
        if day is None:
            return self._without_day(sure, part, tokens)
        weekday = self._is_weekday(day)
        at = self._time_of(day[1].on, sure, part, weekday)
        days = [self._ahead(one, at, weekday) for one in (day[1].on, *more)]
        found = When(days[0], at, tokens, day[1].anchor, doubted=None if sure else timed)
        if day[1].either or joint == "or":
            return replace(found, either=day[1].either or tuple(days))
        return replace(found, more=tuple(days[1:]))

    def _time_of(self, on: date, timed: Timed | None, part: Part | None, weekday: bool) -> time | None:
        """The time of day on a day; one that is over today is that of the other half, where it may be."""
        today = on == self._heard.marked.today
        if timed is None:
            return part.hour(self._now() if today else None) if part else None
        later = replace(timed.clock, half=timed.clock.half or PM).at
        passed = today and not weekday and timed.clock.at <= self._now() < later
        return later if passed else timed.clock.at

    def _without_day(self, timed: Timed | None, part: Part | None, tokens: frozenset[int]) -> When:
        """The next time that a time or a part of the day comes, where no day is said."""
        if timed is None and part is None:
            return When(None, None, tokens)
        at = timed.clock.at if timed else part.hour(self._now()) if part else None
        on = self._heard.marked.today + timedelta(days=(at or MORNING) <= self._now())
        return When(on, at, tokens, dated=False)

    def _ahead(self, on: date, at: time | None, weekday: bool) -> date:
        """A day; one said by its weekday on that day itself is that of next week, unless its time is ahead."""
        ahead = at is not None and at > self._now()
        return on + timedelta(days=7 * (weekday and not ahead and on == self._heard.marked.today))

    def _first(self, reach: tuple[int, int]) -> tuple[int, _Day] | None:
        places = range(*reach)
        finders = (self._after_next, self._shifted, self._from_now, self._edge, self._nth, self._plain)
        for find in (*finders, self._weekend, self._few):
            for index in places:
                if (found := find(index)) and found.end <= reach[1]:
                    return self._lead(index, reach[0]), found
        return None

    def _lead(self, index: int, start: int) -> int:
        """Where the small words begin that lead to a day: "on the", "by"."""
        while index > start and self._text(index - 1) in _DAY_LEADS:
            index -= 1
        return index

    def _text(self, index: int) -> str:
        return self._bare.text_at(index)

    def _shifted(self, index: int) -> _Day | None:
        """ "3 days before the easter clearance", "the day after thanksgiving", "the monday before that"."""
        span = self._span(index)
        if span is None:
            return self._weekday_before(index)
        step, at = span
        way = self._way(at)
        if way is None:
            return None
        sign, end = way
        anchor = self._anchor(end, index)
        if anchor is None and self._text(at) in ("ahead", "prior", "beforehand"):
            anchor = self._nearest_before(index, end)
        return _Day(anchor.on + sign * step, anchor.end, anchor.anchor) if anchor else None

    def _span(self, index: int) -> tuple[relativedelta, int] | None:
        """ "3 days", "a week", "the day", "a couple of weeks": how long, and where it ends."""
        number, at = self._number(index)
        unit = self._text(at)
        if number is None or self._text(index - 1).isdigit():
            return None
        if unit in _DAY_PARTS and self._text(at + 1) in ("after", "before"):
            return relativedelta(days=number), at + 1
        if unit in ("hour", "hours", "hrs", "hr") and number % 24 == 0:
            return relativedelta(days=number // 24), at + 1
        if unit in _UNITS:
            return relativedelta(days=number * _UNITS[unit]), at + 1
        return (relativedelta(months=number), at + 1) if unit in _MONTHS else None

    def _number(self, index: int) -> tuple[int | None, int]:
        word = self._text(index)
        if word in _UNITS and self._text(index - 1) not in _ARTICLES:
            return 1, index
        if word in ("a", "an", "the", "one") and self._text(index + 1) in (*_UNITS, *_MONTHS, *_DAY_PARTS):
            return 1, index + 1
        if word == "a" and self._text(index + 1) == "couple":
            return 2, index + 2 + (self._text(index + 2) == "of")
        found = number_at(self._bare, index)
        if found is None or found[0].whole is None or found[0].other is not None or found[0].whole > _LONG_NUMBER:
            return None, index
        return found[0].whole, found[1]

    def _way(self, index: int) -> tuple[int, int] | None:
        """Before or after, and where it ends."""
        word = self._text(index)
        if word == "b" and self._text(index + 1) == "4":
            return -1, index + 2
        if word in _BEFORE:
            return -1, index + 1 + (self._text(index + 1) in ("of", "to"))
        if word == "out" and self._text(index + 1) in ("from", "of"):
            return -1, index + 2
        if word in _AFTER:
            return 1, index + 1
        return None

    def _weekday_before(self, index: int) -> _Day | None:
        """ "the monday before that"."""
        at = index + (self._text(index) == "the")
        if self._text(at) in _WEEKEND:
            way = self._way(at + 1)
            anchor = self._anchor(way[1], index) if way else None
            if way is None or anchor is None:
                return None
            days = (anchor.on.weekday() - 5) % 7 or 7
            return _Day(anchor.on - timedelta(days=days), anchor.end, anchor.anchor)
        if self._text(at) == "eve" and self._text(at + 1) == "of":
            anchor = self._anchor(at + 2, index)
            return _Day(anchor.on - timedelta(days=1), anchor.end, anchor.anchor) if anchor else None
        found = day_at(self._bare, at, ahead=True)
        if found is None or found[1] != at + 1 or len(self._text(at)) < _WEEKDAY_LENGTH or self._text(at).isdigit():
            return None
        way = self._way(at + 1)
        anchor = self._anchor(way[1], index) if way else None
        if way is None or anchor is None:
            return None
        days = (anchor.on.weekday() - found[0].weekday()) % 7 or 7
        moved = anchor.on - timedelta(days=days) if way[0] < 0 else anchor.on + timedelta(days=7 - days % 7)
        return _Day(moved, anchor.end, anchor.anchor)

    def _anchor(self, index: int, first: int) -> _Day | None:
        """What days are reckoned from: kits that are due, a feast or sale, a day said before, or a plain day.

        ``first`` is where the words begin that reckon from it.
        """
        at = index
        while self._text(at) in _ARTICLES and not (self._text(at) in _BACK and self._is_end(at + 1)):
            at += 1
        found = self._kit_due(at) or self._occasion(at) or self._said_before(index, first) or self._day(at)
        ends = self._is_end(at) and self._text(at) not in ("to", "that")
        return found or (self._nearest_before(first, at) if ends else None)

    def _occasion(self, index: int, *, last: bool = False) -> _Day | None:
        """The first day of a sale, or the feast; the ``last`` one also where it is said to end."""
        found = occasion_at(self._bare, index, self._heard.sales)
        if found is None:
            return None
        occasion, end = found
        today, country = self._heard.marked.today, self._heard.marked.settings.country
        ends = end + (self._text(end) in ("is", "are"))
        over = self._text(ends) in _ENDS
        day = occasion.last_day(today, country) if last or over else occasion.next_day(today, country)
        return _Day(day, ends + 1 if over else end, self._bare.said(index, end)) if day else None

    def _kit_due(self, index: int) -> _Day | None:
        """ "the wash bags fall due", "collection day", "the deadline"."""
        heard = self._heard
        kits = [span for span in named(heard.marked, (index, index + 1), NameSort.KIT) if span.start == index]
        at = kits[0].end if kits else index
        while self._text(at) in ("are", "r", "is", "fall", "falls", "get", "have", "to", "be"):
            at += 1
        if self._text(at) not in _DUE:
            return None
        end = at + 1 + (self._text(at + 1) in ("day", "date"))
        days = [
            day
            for kit, day in heard.collected.items()
            if not kits or kit in (kits[0].value.name, *kits[0].value.rivals)
        ]
        if not days:
            return None
        return _Day(min(season(day, heard.marked.today).end for day in days), end, self._bare.said(index, end))

    def _said_before(self, index: int, first: int) -> _Day | None:
        """The day said last before this: "remind us a week before that", "the day before they start"."""
        if self._text(index) not in _BACK:
            return None
        end = index + 1
        while self._text(end) in ("start", "starts", "begin", "begins", "is", "are", "due", "opens", "day", "date"):
            end += 1
        return self._nearest_before(first, end)

    def _nearest_before(self, first: int, end: int) -> _Day | None:
        """The day said last before a token, as one that ends where ``end`` says."""
        for place in range(first - 1, -1, -1):
            found = self._occasion(place) or self._kit_due(place) or self._day(place)
            if found and found.end <= first:
                return _Day(found.on, end, found.anchor)
        return None

    def _day(self, index: int) -> _Day | None:
        """A plain day, looking ahead: no bare number, and no word that only sometimes is a day."""
        found = day_at(self._bare, index, ahead=True)
        if found is None or self._is_no_day(index, found[1]):
            return None
        if self._text(found[1]) == "the" and found[1] == index + 1 and self._text(index).isalpha():
            found = day_at(self._bare, found[1], ahead=True) or found  # "wednesday the 25th"
        return _Day(*found)

    def _is_no_day(self, index: int, end: int) -> bool:
        """Whether what could be a day is a number of another thing, or a small word."""
        word = self._text(index)
        if end == index + 1 and word in ("one", "second", "first", "third", "may", "march", "the"):
            return True
        lone = word.isdigit() and end == index + 1
        return lone and not (self._text(index - 1) == "the" or self._text(index - 2) == "the")

    def _from_now(self, index: int) -> _Day | None:
        """ "in two weeks", "a week today", "friday week", "a week on friday", "10 days from now"."""
        today = self._heard.marked.today
        if span := self._span(index):
            step, at = span
            if self._text(index - 1) in ("in", "within"):
                return _Day(today + step, at + 2 * (self._text(at) == "from"))
            if self._text(at) in ("from", "today", "on", "tomorrow"):
                start = at + (self._text(at) in ("from", "on"))
                from_day = _Day(today, start + 1) if self._text(start) == "now" else self._day(start)
                return _Day(from_day.on + step, from_day.end) if from_day else None
        if self._text(index) in ("month", "months") and self._text(index + 1) == "end":
            return _Day(today + relativedelta(day=31), index + 2)
        if self._text(index) == "next" and self._text(index + 1) in ("week", "month"):
            step = relativedelta(weeks=1) if self._text(index + 1) == "week" else relativedelta(months=1)
            return _Day(today + step, index + 2)
        found = self._day(index)
        if found and self._text(found.end) == "week" and self._text(found.end - 1).isalpha():
            return _Day(found.on + timedelta(days=7), found.end + 1)
        return None

    def _nth(self, index: int) -> _Day | None:
        """ "the first saturday of september"."""
        for end in (index + 5, index + 4):
            rule = rule_of(" ".join(self._text(at) for at in range(index, end)))
            day = next_on(rule, self._heard.marked.settings.country, self._heard.marked.today) if rule else None
            if rule and day and isinstance(rule.base, NthWeekday):
                return _Day(day, end)
        return None

    def _edge(self, index: int) -> _Day | None:
        """ "the last day of the back to school sales", and the first."""
        at = index + (self._text(index) == "the")
        phrase = (self._text(at + 1), self._text(at + 2))
        if self._text(at) not in ("first", "last", "final") or phrase != ("day", "of"):
            return None
        start = at + 3
        while self._text(start) in _ARTICLES:
            start += 1
        return self._occasion(start, last=self._text(at) != "first")

    def _after_next(self, index: int) -> _Day | None:
        """ "the week after next", "the friday after next": of next week's friday, or of the next friday to come."""
        at = index + (self._text(index) == "the")
        if [self._text(at + 1), self._text(at + 2)] != ["after", "next"]:
            return None
        today, end = self._heard.marked.today, at + 3
        if self._text(at) in ("week", "month"):
            return _Day(today + (relativedelta(weeks=2) if self._text(at) == "week" else relativedelta(months=2)), end)
        found = day_at(self._bare, at, ahead=True)
        if found is None or not self._is_weekday((at, _Day(found[0], at + 1))):
            return None
        soon = found[0] + timedelta(days=7 * (found[0] == today))
        next_ = today + timedelta(days=7 - today.weekday() + soon.weekday())
        days = sorted({soon + timedelta(days=7), next_ + timedelta(days=7)})
        return _Day(days[0], end, either=tuple(days) if len(days) > 1 else ())

    def _weekend(self, index: int) -> _Day | None:
        """ "on the weekend", "next weekend": one of its two days."""
        at = index + (self._text(index) in ("the", "this", "next", "coming"))
        if self._text(at) not in _WEEKEND:
            return None
        today = self._heard.marked.today
        saturday = today + timedelta(days=(_SATURDAY - today.weekday()) % 7)
        if self._text(index) == "next":
            saturday = today + timedelta(days=7 - today.weekday() + _SATURDAY)
        return _Day(saturday, at + 1, either=(saturday, saturday + timedelta(days=1)))

    def _few(self, index: int) -> _Day | None:
        """ "in a few days", "in several weeks"."""
        at = index + 1 + (self._text(index + 1) == "a")
        unit = _UNITS.get(self._text(at + 1))
        if self._text(index) != "in" or self._text(at) not in ("few", "several") or unit is None:
            return None
        days = tuple(self._heard.marked.today + timedelta(days=unit * count) for count in _FEW)
        return _Day(days[0], at + 2, either=days)

    def _listed(self, end: int) -> tuple[list[date], str, int]:
        """The days said beside one that ends here, "and" or "or" as it joins them, and where the last one ends."""
        found: list[date] = []
        joint, last = "", end
        while self._text(last) in _JOINTS:
            at = last + 1 + (self._text(last + 1) in ("and", "or"))
            joint = self._text(at - 1)
            at += self._text(at) == "on"
            day = self._day(at)
            if day is None:
                break
            found.append(day.on)
            last = day.end
            if joint != ",":
                return found, joint, last
        return [], "", end

    def _in_hours(self, reach: tuple[int, int]) -> When | None:
        """ "in 20 minutes", "in an hour and a half", "half an hour from now"."""
        for index in range(*reach):
            led = self._text(index - 1) in ("in", "within")
            found = hours_at(self._bare, index)
            if found is None:
                continue
            length, end = found
            trailed = self._text(end) == "from" and self._text(end + 1) == "now"
            if led or trailed:
                then = self._wall(self._heard.marked.at + length)
                tokens = frozenset(range(index - led, end + 2 * trailed))
                return When(then.date(), then.time().replace(second=0, microsecond=0), tokens)
        return None

    def step(self, index: int) -> tuple[relativedelta, int] | None:
        """A length of time by which something is put off, and where it ends."""
        if self._text(index) in ("the", "next", *_UNITS, *_MONTHS) or self._text(index - 1) == "in":
            return None
        if hours := hours_at(self._bare, index):
            return relativedelta(seconds=int(hours[0].total_seconds())), hours[1]
        index += self._text(index) == "another"
        return self._span(index)

    def _plain(self, index: int) -> _Day | None:
        """A day, or a feast or sale on or at whose start something is to be."""
        found = occasion_at(self._bare, index, self._heard.sales)
        if found is None or (found[0].feast is not None and not found[0].sale):
            day = self._day(index)
            if day is not None:
                return day
        starts = self._text(index - 1) in ("when", "on", "for", "of", "until", "till", "at") or (
            self._text(index - 1) == "the" and self._text(index - 2) in ("when", "on", "for", "of", "at", "day")
        )
        occasion = self._occasion(index) if found and starts else None
        if occasion is None:
            return self._kit_due(index) if self._text(index - 1) == "when" else None
        return replace(occasion, end=occasion.end + (self._text(occasion.end) in _BEGINS))

    def _is_end(self, index: int) -> bool:
        tokens = self._bare.tokens
        return index >= len(tokens) or tokens[index].sort is not Sort.WORD or self._text(index) in ("to", "that")

    def _now(self) -> time:
        return self._wall(self._heard.marked.at).time()

    def _wall(self, moment: datetime) -> datetime:
        """What the group's own clock shows at a moment; a moment without a zone is of that clock."""
        return wall_clock(moment, self._heard.marked.settings.zone) if moment.tzinfo else moment

    def _is_weekday(self, day: tuple[int, _Day]) -> bool:
        """Whether a day is said by its weekday alone, which, said on that day, is the one of next week."""
        words = [self._text(index) for index in range(day[0], day[1].end)]
        return any(word[:3] in _WEEKDAYS for word in words) and not any(word.isdigit() for word in words)
