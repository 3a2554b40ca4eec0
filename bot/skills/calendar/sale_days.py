"""The days of a yearly sale as people say them: "may 9 to may 10", "sept 10-13", "aug 20 for 3 days"."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

from bot.reading.numbers import number_at
from bot.reading.spans import Found, Marked, Reach
from bot.reading.words import Sort
from core.day_rules import WEEKDAYS, DayRule, Fixed, NthWeekday, next_on, rule_of
from core.windows import WindowRule, next_window

_MOST_DAY_WORDS = 9
_MOST_LENGTH_WORDS = 5
_JOINTS = frozenset("to until till through thru - finishes ends".split())
_LONGEST_MONTH = 31
LONGEST_SALE = 180
"""Days; one said to last longer has its days the wrong way round."""
_UNITS = {"day": 1, "days": 1, "week": 7, "weeks": 7}


@dataclass(frozen=True, slots=True)
class Days:
    """The rules of the first and, if said, the last day, or the length in days."""

    first: DayRule
    last: DayRule | None = None
    length: int | None = None

    def coming(self, marked: Marked) -> tuple[date, date] | None:
        """The next first day and the last one that belongs to it; None where they never come."""
        country = marked.settings.country
        starts = next_on(self.first, country, marked.today)
        ends = next_on(self.last, country, starts) if starts and self.last else starts
        if starts is None or ends is None:
            return None
        return starts, starts + timedelta(days=self.length - 1) if self.length else ends

    def of(self, rule: WindowRule, country: str, day: date) -> WindowRule:
        """The sale on these days, switched on; it lasts as long as it did where only a first day is said."""
        before = next_window(rule, country, day)
        lasted = 1 if self.last or before is None else (before.ends - before.starts).days + 1
        return replace(rule, starts=self.first, ends=self.last, days=self.length or lasted, on=True)


def days_in(bare: Marked, reach: Reach) -> Found[Days] | None:
    """The first days said in a stretch; a length said before or behind them belongs to them."""
    found = _dates_in(bare, reach)
    if found is None or found.value.last is not None:
        return found
    if behind := _length(bare, found.end):
        return Found(found.start, behind[1], replace(found.value, length=behind[0]))
    from_ = found.start - (bare.text_at(found.start - 1) in ("from", "on"))
    for index in range(max(reach[0], from_ - _MOST_LENGTH_WORDS), from_):
        ahead = _length(bare, index)
        if ahead and ahead[1] == from_:
            return Found(index, found.end, replace(found.value, length=ahead[0]))
    return found


def _length(bare: Marked, index: int) -> tuple[int, int] | None:
    """How many days a sale lasts, and where that ends: "for 3 days", "lasts a week", "3 days long", "3 days from"."""
    at = index + (bare.text_at(index) == ",")
    led = bare.text_at(at) in ("for", "lasts", "lasting", "runs")
    number = _count(bare, at + led)
    unit = _UNITS.get(bare.text_at(number[1])) if number else None
    if number is None or unit is None or not 0 < number[0] * unit <= LONGEST_SALE:
        return None
    end = number[1] + 1
    if not led and bare.text_at(end) not in ("long", "from", "on"):
        return None
    return number[0] * unit, end + (bare.text_at(end) == "long")


def _count(bare: Marked, index: int) -> tuple[int, int] | None:
    if bare.text_at(index) in ("a", "one"):
        return 1, index + 1
    found = number_at(bare, index)
    return (found[0].whole, found[1]) if found and found[0].whole is not None else None


def _dates_in(bare: Marked, reach: Reach) -> Found[Days] | None:
    """The days of the sale: "may 9 to may 10", "sept 10-13", "1 to 9 may", "third friday of june to the sunday"."""
    first = _rule_in(bare, reach)
    if first is None:
        return None
    rule, start, end = first
    if early := _day_before(bare, (reach[0], start), rule):
        return Found(early[1], end, Days(early[0], rule))
    for index in range(end, min(reach[1], end + _MOST_DAY_WORDS)):
        if bare.text_at(index) in _JOINTS or (index == end and bare.glued(index)):
            at = index + (bare.text_at(index) in _JOINTS)
            at += bare.text_at(at) == "the"
            if found := _rule_in(bare, (at, min(reach[1], at + _MOST_DAY_WORDS))):
                return Found(start, found[2], Days(rule, found[0]))
            if last := _same_month(bare, at, rule) or _weekday_after(bare, at, rule):
                return Found(start, at + 1, Days(rule, last))
    return Found(start, end, Days(rule))


def _day_before(bare: Marked, reach: Reach, last: DayRule) -> tuple[DayRule, int] | None:
    """The first day where the month is said behind the last: the 1 of "1 to 9 may", "the 28 and 29 november"."""
    at = reach[1] - 1
    while at >= reach[0] and bare.text_at(at) in (*_JOINTS, "and", "the"):
        at -= 1
    day = bare.text_at(at)
    joined = reach[0] <= at < reach[1] - 1 or (at == reach[1] - 1 and bare.glued(reach[1]))
    if not (joined and day.isdigit() and isinstance(last.base, Fixed) and 0 < int(day) < last.base.day):
        return None
    return DayRule(Fixed(last.base.month, int(day))), at


def _same_month(bare: Marked, index: int, first: DayRule) -> DayRule | None:
    """The last day where the month is said before the first: the 13 of "sept 10-13"."""
    day = bare.text_at(index)
    if isinstance(first.base, Fixed) and day.isdigit() and first.base.day < int(day) <= _LONGEST_MONTH:
        return DayRule(Fixed(first.base.month, int(day)))
    return None


def _weekday_after(bare: Marked, index: int, first: DayRule) -> DayRule | None:
    """The weekday that follows the first day: "third friday of september to the sunday after"."""
    weekday = _WEEKDAYS.get(bare.text_at(index)[:3])
    if weekday is None or not isinstance(first.base, NthWeekday):
        return None
    return DayRule(first.base, first.days + (weekday - first.base.weekday) % 7)


def _rule_in(bare: Marked, reach: Reach) -> tuple[DayRule, int, int] | None:
    """The first rule of a day in a stretch, the longest at its place, and where it begins and ends."""
    for index in range(*reach):
        for end in range(min(reach[1], index + _MOST_DAY_WORDS), index, -1):
            if rule := rule_of(_words(bare, index, end)):
                return rule, index, end
    return None


def _words(bare: Marked, start: int, end: int) -> str:
    """The words of a stretch; a suffix glued to its number stays so."""
    told = ""
    for index in range(start, end):
        token = bare.tokens[index]
        told += token.text if token.glued and index > start and token.sort is Sort.WORD else f" {token.text}"
    return told.strip()


_WEEKDAYS = {day[:3]: number for number, day in enumerate(WEEKDAYS)}
