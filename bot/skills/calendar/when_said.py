"""When something is to happen: a day, or so many days before a feast, a sale or a collection day, and a time of day."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, time, timedelta

from dateutil.relativedelta import relativedelta

from bot.reading.dates import ORDINAL_ENDS, day_at
from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.occasions import SALE_NOUNS, next_sale, occasion_at
from bot.reading.spans import Marked
from bot.reading.words import Sort
from bot.skills.calendar.lengths_said import ARTICLES, days_at, soon_said
from bot.skills.calendar.open_days import WEEKEND, after_next, few_days, weekend
from bot.skills.calendar.times_said import Timed, next_time, now_shown, part_said, time_on, time_said, with_part
from core.day_rules import WEEKDAYS, NthWeekday, next_on, rule_of
from core.kits import season

_BEFORE = frozenset("before ahead prior b4 bfore befor beofre befroe beforehand till until".split())
_AFTER = frozenset(("after",))
_DUE = frozenset("due collected collection deadline pickup ready needed".split())
_BACK = frozenset("that it then they this those".split())
_DAY_LEADS = frozenset("when day on by this next come for from to until till at @ , of is the -".split())
_BEGINS = frozenset("starts start begins begin opens is are".split())
_ENDS = frozenset("ends end ending finishes finish closes close over".split())
_JOINTS = frozenset((",", "and", "&", "or", "/", "n"))
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


def reckoned_at(heard: Heard, index: int) -> tuple[int, bool] | None:
    """Where the words behind "3 days before" begin, if such words stand at a token, and whether they say a day."""
    return _Search(heard).reckoned(index)


@dataclass(frozen=True, slots=True)
class _Day:
    on: date
    end: int
    anchor: str = ""
    either: tuple[date, ...] = ()


def _one_of(found: tuple[tuple[date, ...], int] | None) -> _Day | None:
    """A day that may be one of several."""
    if found is None:
        return None
    days, end = found
    return _Day(days[0], end, either=days if len(days) > 1 else ())


class _Search:
    """A look for a day through the words of a message."""

    def __init__(self, heard: Heard) -> None:
        self._heard = heard
        self._bare: Marked = heard.marked.bare()

    def when(self, reach: tuple[int, int]) -> When:
        """The first day said in a stretch, those reckoned from another one before plain ones; and the first time."""
        if soon := soon_said(self._heard, reach):
            moment, words = soon
            return When(moment.date(), moment.time(), frozenset(range(*words)))
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
            on, at = next_time(self._heard, sure, part)
            return When(on, at, tokens, dated=False)
        weekday = self._is_weekday(day)
        at = time_on(self._heard, None if weekday else day[1].on, sure, part)
        days = [self._ahead(one, at, weekday) for one in (day[1].on, *more)]
        found = When(days[0], at, tokens, day[1].anchor, doubted=None if sure else timed)
        if day[1].either or joint == "or":
            return replace(found, either=day[1].either or tuple(days))
        return replace(found, more=tuple(days[1:]))

    def _ahead(self, on: date, at: time | None, weekday: bool) -> date:
        """A day; one said by its weekday on that day itself is that of next week, unless its time is ahead."""
        ahead = at is not None and at > now_shown(self._heard).time()
        return on + timedelta(days=7 * (weekday and not ahead and on == self._heard.marked.today))

    def _first(self, reach: tuple[int, int]) -> tuple[int, _Day] | None:
        places = range(*reach)
        finders = (self._after_next, self._shifted, self._nth, self._from_now, self._edge, self._plain)
        for find in (*finders, self._open):
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
        return days_at(self._bare, index)

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
        if self._text(at) in WEEKEND:
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
        while self._text(at) in ARTICLES and not (self._text(at) in _BACK and self._is_end(at + 1)):
            at += 1
        known = self._kit_due(at) or self._next_sale(at) or self._occasion(at, in_part=True)
        found = known or self._said_before(index, first) or self._day(at)
        ends = self._is_end(at) and self._text(at) not in ("to", "that")
        return found or (self._nearest_before(first, at) if ends else None)

    def _next_sale(self, index: int) -> _Day | None:
        """ "the next sale", whichever it is."""
        if self._text(index - 1) != "next" or self._text(index) not in SALE_NOUNS:
            return None
        day = next_sale(self._heard.sales, self._heard.marked.today, self._heard.marked.settings.country)
        return _Day(day, index + 1, self._bare.said(index - 1, index + 1)) if day else None

    def _occasion(self, index: int, *, last: bool = False, in_part: bool = False) -> _Day | None:
        """The first day of a sale, or the feast; the ``last`` one also where it is said to end."""
        found = occasion_at(self._bare, index, self._heard.sales)
        if found is None and in_part:
            part = occasion_at(self._bare, index, self._heard.sales, in_part=True)
            found = part if part and self._is_end(part[1]) else None
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
        """ "the first saturday of september", "the 3rd saturday", "the last friday of next month"."""
        at = index + (self._text(index) == "the")
        is_figure = self._text(at).isdigit() and self._text(at + 1) in ORDINAL_ENDS
        nth, at = self._bare.said(at, at + 1 + is_figure), at + 1 + is_figure
        of_some_month = self._text(at + 1) in ("of", "in")
        if of_some_month and (day := self._next_by(f"{nth} {self._text(at)} of {self._text(at + 2)}")):
            return _Day(day, at + 3)
        end, whose, of_month = at + 1, self._text(at + 2), (self._text(at + 1), self._text(at + 3)) == ("of", "month")
        months = [self._heard.marked.today + relativedelta(months=step) for step in (0, 1)]
        if of_month and whose in ("the", "this", "each", "next"):
            end, months = end + 3, months[whose == "next" :]
        days = [self._next_by(f"{nth} {self._text(at)} of {one:%B}") for one in months]
        first = min((day for day in days if day is not None), default=None)
        return _Day(first, end) if first else None

    def _next_by(self, words: str) -> date | None:
        """The next day of a rule for an nth weekday."""
        rule, marked = rule_of(words), self._heard.marked
        return (
            next_on(rule, marked.settings.country, marked.today) if rule and isinstance(rule.base, NthWeekday) else None
        )

    def _edge(self, index: int) -> _Day | None:
        """ "the last day of the back to school sales", and the first."""
        at = index + (self._text(index) == "the")
        phrase = (self._text(at + 1), self._text(at + 2))
        if self._text(at) not in ("first", "last", "final") or phrase != ("day", "of"):
            return None
        start = at + 3
        while self._text(start) in ARTICLES:
            start += 1
        return self._occasion(start, last=self._text(at) != "first")

    def _after_next(self, index: int) -> _Day | None:
        return _one_of(after_next(self._bare, index))

    def _open(self, index: int) -> _Day | None:
        return _one_of(weekend(self._bare, index) or few_days(self._bare, index))

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

    def _is_weekday(self, day: tuple[int, _Day]) -> bool:
        """Whether a day is said by its weekday alone, which, said on that day, is the one of next week."""
        words = [self._text(index) for index in range(day[0], day[1].end)]
        return any(word[:3] in _WEEKDAYS for word in words) and not any(word.isdigit() for word in words)
