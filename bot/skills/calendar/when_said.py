"""When something is to happen: a day, or so many days before a feast, a sale or a collection day, and a time of day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from fractions import Fraction

from dateutil.relativedelta import relativedelta

from bot.reading.clock_times import clock_at, hour_at
from bot.reading.dates import day_at
from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.numbers import number_at
from bot.reading.occasions import SALES, next_sale, occasion_at
from bot.reading.spans import Marked
from bot.reading.words import Sort
from core.day_rules import WEEKDAYS, NthWeekday, next_on, rule_of
from core.due import wall_clock
from core.kits import season

_UNITS = {"day": 1, "days": 1} | dict.fromkeys(("week", "weeks", "wk", "wks"), 7) | {"fortnight": 14, "fortnights": 14}
_MONTHS = frozenset(("month", "months"))
_PARTS = {"afternoon": time(15), "evening": time(19), "tonight": time(20), "night": time(20), "lunchtime": time(12)}
"""When something of a part of the day comes."""
_MINUTES = dict.fromkeys(("minute", "minutes", "min", "mins"), 1) | dict.fromkeys(("hour", "hours", "hr", "hrs"), 60)
_DAY_PARTS = frozenset(("morning", "evening", "night"))
_BEFORE = frozenset("before ahead prior b4 bfore befor beofre befroe beforehand till until".split())
_AFTER = frozenset(("after",))
_ARTICLES = frozenset("the our this next any a an these those".split())
_DUE = frozenset("due collected collection deadline pickup ready needed".split())
_BACK = frozenset("that it then they this those".split())
_DAY_LEADS = frozenset("when day on by this next come for from to until till at @ , of is the -".split())
_LONG_NUMBER = 400
_WEEKDAY_LENGTH = 3
_WEEKDAYS = frozenset(word[:3] for word in WEEKDAYS)


@dataclass(frozen=True, slots=True)
class When:
    """A day and a time as far as they are said, the tokens that say them, and the words of a feast or sale named."""

    on: date | None
    at: time | None
    tokens: frozenset[int]
    anchor: str = ""


def when_in(heard: Heard, start: int = 0) -> When:
    """When something is to happen, as said in a stretch; else in what was said before it, from ``start`` on."""
    found = _Search(heard).when(heard.reach)
    if found.on is None and start < heard.reach[0]:
        before = _Search(heard).when((start, heard.reach[0]))
        if before.on is not None and before.on >= heard.marked.today:
            return When(before.on, found.at or before.at, found.tokens | before.tokens, before.anchor)
    return found


def reckoned_at(heard: Heard, index: int) -> tuple[int, bool] | None:
    """Where the words behind "3 days before" begin, if such words stand at a token, and whether they say a day."""
    return _Search(heard).reckoned(index)


@dataclass(frozen=True, slots=True)
class _Day:
    on: date
    end: int
    anchor: str = ""


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
        taken = frozenset(range(day[0], day[1].end)) if day else frozenset()
        clock = self._clock(reach, taken)
        clock = clock or (self._part_of_day(day) if day else None)
        tokens = taken | (frozenset(range(clock[1], clock[2])) if clock else frozenset())
        on = day[1].on if day else None
        if clock and on is None:
            on = self._today_or_tomorrow(clock[0])
        elif day and on == self._heard.marked.today and self._is_weekday(day) and not self._is_ahead(clock):
            on += timedelta(days=7)
        return When(on, clock[0] if clock else None, tokens, day[1].anchor if day else "")

    def _first(self, reach: tuple[int, int]) -> tuple[int, _Day] | None:
        places = range(*reach)
        for find in (self._shifted, self._from_now, self._nth, self._plain):
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

    def reckoned(self, index: int) -> tuple[int, bool] | None:
        """Where the words begin that days are reckoned from, and whether they say a day."""
        span = self._span(index) if self._text(index - 1) not in ("in", "within") else None
        way = self._way(span[1]) if span else None
        return (way[1], self._shifted(index) is not None) if way else None

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
        if self._text(at) in ("weekend", "wknd"):
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
        if self._is_end(at) and self._text(at) not in ("to", "that"):
            return self._nearest_before(first, at)
        known = self._kit_due(at) or self._next_sale(at) or self._occasion(at, in_part=True)
        return known or self._said_before(index, first) or self._day(at)

    def _next_sale(self, index: int) -> _Day | None:
        """ "the next sale", whichever it is."""
        if self._text(index - 1) != "next" or self._text(index) not in SALES.split("|"):
            return None
        day = next_sale(self._heard.sales, self._heard.marked.today, self._heard.marked.settings.country)
        return _Day(day, index + 1, self._bare.said(index - 1, index + 1)) if day else None

    def _occasion(self, index: int, *, in_part: bool = False) -> _Day | None:
        found = occasion_at(self._bare, index, self._heard.sales)
        if found is None and in_part:
            part = occasion_at(self._bare, index, self._heard.sales, in_part=True)
            found = part if part and self._is_end(part[1]) else None
        if found is None:
            return None
        occasion, end = found
        day = occasion.next_day(self._heard.marked.today, self._heard.marked.settings.country)
        return _Day(day, end, self._bare.said(index, end)) if day else None

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

    def _in_hours(self, reach: tuple[int, int]) -> When | None:
        """ "in 20 minutes", "in an hour", "in half an hour": from now on."""
        for index in range(*reach):
            if self._text(index) != "in":
                continue
            half = self._text(index + 1) == "half" and self._text(index + 2) in ("an", "a")
            number = number_at(self._bare, index + 1)
            at = index + 3 if half else number[1] if number else index + 2
            count = Fraction(1, 2) if half else number[0].value if number else Fraction(1)
            minutes = _MINUTES.get(self._text(at))
            if minutes is None or not (half or number or self._text(index + 1) in ("an", "a")):
                continue
            then = self._wall(self._heard.marked.at + timedelta(minutes=float(count * minutes)))
            return When(then.date(), then.time().replace(second=0, microsecond=0), frozenset(range(index, at + 1)))
        return None

    def _part_of_day(self, day: tuple[int, _Day]) -> tuple[time, int, int] | None:
        """ "tomorrow evening", "friday afternoon", "tonight": an hour of that part of the day."""
        for index in range(day[0], day[1].end + 1):
            if self._text(index) in _PARTS:
                return _PARTS[self._text(index)], index, index + 1
        return None

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
        end = occasion.end + (self._text(occasion.end) in ("starts", "start", "begins", "begin", "opens", "is", "are"))
        return _Day(occasion.on, end, occasion.anchor)

    def _is_end(self, index: int) -> bool:
        tokens = self._bare.tokens
        return index >= len(tokens) or tokens[index].sort is not Sort.WORD or self._text(index) in ("to", "that")

    def _clock(self, reach: tuple[int, int], taken: frozenset[int]) -> tuple[time, int, int] | None:
        """The first time of day outside the words of the day; a bare hour behind "at"."""
        for index in range(*reach):
            if index in taken or self._text(index) == "night":
                continue
            led = self._text(index - 1) in ("at", "@")
            found = clock_at(self._bare, index)
            if found is None and led and self._beside(index, taken):
                found = hour_at(self._bare, index)
                if found and not self._is_end(found[1]) and self._text(found[1]) not in ("on", "tomorrow", "today"):
                    found = None
            if found and not taken.intersection(range(index, found[1])):
                return found[0], index - led, found[1]
        return None

    def _beside(self, index: int, taken: frozenset[int]) -> bool:
        """Whether an hour stands right before or behind the words of a day, if there are any."""
        return not taken or {index - 2, index + 1, index + 2} & taken != set()

    def _today_or_tomorrow(self, clock: time) -> date:
        return self._heard.marked.today + timedelta(days=clock <= self._now())

    def _now(self) -> time:
        return self._wall(self._heard.marked.at).time()

    def _wall(self, moment: datetime) -> datetime:
        """What the group's own clock shows at a moment; a moment without a zone is of that clock."""
        return wall_clock(moment, self._heard.marked.settings.zone) if moment.tzinfo else moment

    def _is_weekday(self, day: tuple[int, _Day]) -> bool:
        """Whether a day is said by its weekday alone, which, said on that day, is the one of next week."""
        words = [self._text(index) for index in range(day[0], day[1].end)]
        return any(word[:3] in _WEEKDAYS for word in words) and not any(word.isdigit() for word in words)

    def _is_ahead(self, clock: tuple[time, int, int] | None) -> bool:
        return clock is not None and clock[0] > self._now()
