"""Days that come every year, by rule: a date, an nth weekday, a feast, or so many days before or after one."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache

from dateutil.easter import easter
from dateutil.relativedelta import relativedelta

MONTHS = "january february march april may june july august september october november december".split()
WEEKDAYS = "monday tuesday wednesday thursday friday saturday sunday".split()
MOST_DAYS = 366
"""How many days a rule may lie before or after its feast or date."""
_NTH = {"first": 1, "second": 2, "third": 3, "fourth": 4, "last": -1}


@dataclass(frozen=True, slots=True)
class Fixed:
    """A day of a month; the 29th of February is the 28th where there is none."""

    month: int
    day: int


@dataclass(frozen=True, slots=True)
class NthWeekday:
    """The first to fourth, or last (-1), of a weekday (Monday is 0) in a month; ``then`` days after it."""

    nth: int
    weekday: int
    month: int
    then: int = 0


@dataclass(frozen=True, slots=True)
class FromEaster:
    """So many days after Western Easter Sunday, below zero before it."""

    days: int


@dataclass(frozen=True, slots=True)
class Statutory:
    """A public holiday of the group's country, under the name that the holidays package has for it."""

    name: str


Base = Fixed | NthWeekday | FromEaster | Statutory


@dataclass(frozen=True, slots=True)
class Feast:
    """A feast or holiday under its name; ``words`` are the phrases people say for it, without apostrophes.

    ``by_country`` gives the rule of a country (ISO 3166) that has one of its own, ``base`` that of all others.
    """

    name: str
    words: tuple[str, ...]
    base: Base | None
    by_country: tuple[tuple[str, Base], ...] = ()

    def in_year(self, year: int, country: str) -> date | None:
        """Its day of a year; None where the country does not keep it."""
        base = dict(self.by_country).get(country, self.base)
        return None if base is None else _day(base, year, country)


# A name here stands for the day itself. Fixed days and the rules of Easter are common knowledge; Thanksgiving, Labor
# Day, Memorial Day and Independence Day are read from the country's statutory holidays.
FEASTS: tuple[Feast, ...] = (
    Feast("New Year's Day", ("new years day", "new years", "new year"), Fixed(1, 1)),
    Feast("Valentine's Day", ("valentines day", "valentines", "valentine", "valentine day"), Fixed(2, 14)),
    Feast("St. Patrick's Day", ("st patricks day", "st patricks", "st paddys day", "saint patricks day"), Fixed(3, 17)),
    Feast("Shrove Tuesday", ("shrove tuesday", "pancake day", "mardi gras"), FromEaster(-47)),
    Feast("Ash Wednesday", ("ash wednesday",), FromEaster(-46)),
    Feast("Palm Sunday", ("palm sunday",), FromEaster(-7)),
    Feast("Good Friday", ("good friday",), FromEaster(-2)),
    Feast("Easter Monday", ("easter monday",), FromEaster(1)),
    Feast("Easter", ("easter sunday", "easter day", "easter"), FromEaster(0)),
    Feast("Pentecost", ("pentecost", "whitsun"), FromEaster(49)),
    Feast(
        "Mother's Day",
        ("mothers day", "mothering sunday"),
        NthWeekday(2, 6, 5),
        (("GB", FromEaster(-21)), ("IE", FromEaster(-21))),
    ),
    Feast(
        "Father's Day",
        ("fathers day",),
        NthWeekday(3, 6, 6),
        (("AU", NthWeekday(1, 6, 9)), ("NZ", NthWeekday(1, 6, 9))),
    ),
    Feast("Victoria Day", ("victoria day",), Statutory("Victoria Day")),
    Feast(
        "August bank holiday",
        ("august bank holiday", "summer bank holiday"),
        None,
        (("GB", NthWeekday(-1, 0, 8)), ("IE", NthWeekday(1, 0, 8))),
    ),
    Feast("Memorial Day", ("memorial day",), Statutory("Memorial Day")),
    Feast("Juneteenth", ("juneteenth",), Statutory("Juneteenth National Independence Day")),
    Feast("Canada Day", ("canada day",), Statutory("Canada Day")),
    Feast(
        "Independence Day",
        ("independence day", "fourth of july", "july 4th", "july 4", "4th of july", "july fourth"),
        Statutory("Independence Day"),
    ),
    Feast("Labor Day", ("labor day", "labour day"), Statutory("Labor Day"), (("NZ", Statutory("Labour Day")),)),
    Feast("Columbus Day", ("columbus day",), Statutory("Columbus Day")),
    Feast("Halloween", ("halloween", "hallowe en"), Fixed(10, 31)),
    Feast("Bonfire Night", ("bonfire night", "guy fawkes night", "guy fawkes"), Fixed(11, 5)),
    Feast("Veterans Day", ("veterans day",), Statutory("Veterans Day")),
    Feast("Remembrance Day", ("remembrance day",), Fixed(11, 11)),
    Feast("Thanksgiving", ("thanksgiving day", "thanksgiving"), Statutory("Thanksgiving Day")),
    Feast("Black Friday", ("black friday",), NthWeekday(4, 3, 11, then=1)),
    Feast("Christmas Eve", ("christmas eve", "xmas eve"), Fixed(12, 24)),
    Feast("Christmas", ("christmas day", "xmas day", "christmas", "xmas"), Fixed(12, 25)),
    Feast("Boxing Day", ("boxing day",), Fixed(12, 26)),
    Feast("New Year's Eve", ("new years eve",), Fixed(12, 31)),
)
NAMED = {feast.name: feast for feast in FEASTS}
_BY_WORDS = {words: feast for feast in FEASTS for words in feast.words}
PHRASES: dict[tuple[str, ...], Feast] = {
    tuple(words.split()): feast for words, feast in sorted(_BY_WORDS.items(), key=lambda pair: -len(pair[0].split()))
}
"""Every phrase for a feast, as words, the longest first."""
PHRASES_FROM: dict[str, list[tuple[str, ...]]] = {}
"""The phrases by their first word, the longest first."""
for _phrase in PHRASES:
    PHRASES_FROM.setdefault(_phrase[0], []).append(_phrase)


def feast_called(words: str) -> Feast | None:
    """The feast that people call so, without regard to case, full stops and apostrophes."""
    return _BY_WORDS.get(_plain(words))


def _plain(words: str) -> str:
    return " ".join(re.sub("['’.]", "", words.casefold()).split())


@dataclass(frozen=True, slots=True)
class DayRule:
    """A day of every year: ``base`` or a feast, and so many days after it (below zero before it)."""

    base: Base | Feast
    days: int = 0

    def in_year(self, year: int, country: str) -> date | None:
        """The day that belongs to a year; None where the country, or the month, has none.

        The day after the Christmas of 2026 belongs to 2026; so does the 7th day after it, which is 2027-01-01.
        """
        base = self.base
        day = base.in_year(year, country) if isinstance(base, Feast) else _day(base, year, country)
        return None if day is None else day + timedelta(days=self.days)


def _day(base: Base, year: int, country: str) -> date | None:
    match base:
        case Fixed(month, day):
            return date(year, month, 1) + relativedelta(day=day)
        case NthWeekday():
            return _nth_weekday(year, base) + timedelta(days=base.then)
        case FromEaster(days):
            return easter(year) + timedelta(days=days)
        case Statutory(name):
            return next((day for day, named in statutory(country, year) if named == name), None)


def _nth_weekday(year: int, base: NthWeekday) -> date:
    first = date(year, base.month, 1)
    if base.nth < 0:
        last = first + relativedelta(day=31)
        return last - timedelta(days=(last.weekday() - base.weekday) % 7)
    return first + timedelta(days=(base.weekday - first.weekday()) % 7 + 7 * (base.nth - 1))


@lru_cache(maxsize=256)
def statutory(country: str, year: int) -> tuple[tuple[date, str], ...]:
    """The public holidays of a country in a year by name, from the holidays package; none for a country it lacks.

    A holiday that is kept on another day, since its own falls on a weekend, is listed a second time under its name
    with " (observed)" behind it.
    """
    import holidays  # it takes a tenth of a second to load

    if country not in holidays.list_supported_countries():
        return ()
    supported = set(getattr(holidays, country).supported_categories)
    found = holidays.country_holidays(
        country, years=year, language="en_US", categories=tuple(supported & {"public", "government", "optional"})
    )
    return tuple((day, name) for day, names in sorted(found.items()) for name in names.split("; "))


def observed(feast: Feast, year: int, country: str) -> date | None:
    """The day on which a feast is kept where it is a public holiday: 2026-07-03 for the Independence Day of 2026,
    which is a Saturday. Of one that falls on New Year's Day that may be the last day of the year before."""
    own = feast.in_year(year, country)
    names = {f"{name} (observed)" for day, name in statutory(country, year) if day == own}
    around = (*statutory(country, year - 1), *statutory(country, year))
    near = timedelta(days=7)
    kept = (day for day, name in around if own is not None and name in names and abs(day - own) < near)
    return next(kept, own)


def written(rule: DayRule) -> str:
    """The rule in words that ``rule_of`` reads: "first saturday of october", "1 day after Easter"."""
    base = rule.base
    match base:
        case Feast(name):
            words = name
        case Fixed(month, day):
            words = f"{MONTHS[month - 1]} {day}"
        case NthWeekday(nth, weekday, month):
            which = next(word for word, value in _NTH.items() if value == nth)
            words = f"{which} {WEEKDAYS[weekday]} of {MONTHS[month - 1]}"
        case FromEaster() | Statutory():
            raise ValueError(f"{base} is said by the name of its feast")
    if not rule.days:
        return words
    days = abs(rule.days)
    return f"{days} {'day' if days == 1 else 'days'} {'after' if rule.days > 0 else 'before'} {words}"


_SHIFT = re.compile(r"(?:the )?(?:(\d{1,3}|a|one|two|three) )?(day|days|week|weeks) (after|before) (.+)")
_NTH_OF = re.compile(r"(?:the )?(first|second|third|fourth|last|1st|2nd|3rd|4th) (\w+) (?:of|in) (\w+)")
_MONTH_DAY = re.compile(r"(?:the )?([a-z]+)\.? (\d{1,2})(?:st|nd|rd|th)?")
_DAY_MONTH = re.compile(r"(?:the )?(\d{1,2})(?:st|nd|rd|th)?(?: of)? ([a-z]+)\.?")
_SMALL = {"a": 1, "one": 1, "two": 2, "three": 3, None: 1}


def rule_of(text: str) -> DayRule | None:
    """The rule that words say; None where they say none: "first saturday of october", "day after easter", "nov 1"."""
    words = " ".join(text.casefold().split())
    if shifted := _SHIFT.fullmatch(words):
        inner = rule_of(shifted[4])
        if inner is None:
            return None
        number = int(shifted[1]) if shifted[1] and shifted[1].isdigit() else _SMALL[shifted[1]]
        days = inner.days + number * (7 if shifted[2].startswith("week") else 1) * (1 if shifted[3] == "after" else -1)
        return replace(inner, days=days) if abs(days) <= MOST_DAYS else None
    # "july 4" is a date, though some call a feast so: a rule must come back as it was written down.
    if dated := _nth_of(words) or _dated(words):
        return dated
    feast = feast_called(words)
    return DayRule(feast) if feast else None


def _nth_of(words: str) -> DayRule | None:
    said = _NTH_OF.fullmatch(words)
    if not said:
        return None
    nth = _NTH.get(said[1]) or int(said[1][0])
    weekday, month = _starting(said[2].removesuffix("s"), WEEKDAYS), _starting(said[3], MONTHS)
    return None if weekday is None or month is None else DayRule(NthWeekday(nth, weekday, month + 1))


def _dated(words: str) -> DayRule | None:
    if said := _MONTH_DAY.fullmatch(words):
        month, day = _starting(said[1], MONTHS), int(said[2])
    elif said := _DAY_MONTH.fullmatch(words):
        month, day = _starting(said[2], MONTHS), int(said[1])
    else:
        return None
    leap_year = 2000
    if month is None or not 0 < day <= (date(leap_year, month + 1, 1) + relativedelta(day=31)).day:
        return None
    return DayRule(Fixed(month + 1, day))


def month_called(word: str) -> int | None:
    """The month (1 to 12) that a word names or begins with at least three letters: 9 for "sept"."""
    found = _starting(word, MONTHS)
    return None if found is None else found + 1


def _starting(word: str, names: list[str]) -> int | None:
    """The place of the only name that a word is, or begins with at least three letters."""
    shortest = 3
    found = [index for index, name in enumerate(names) if len(word) >= shortest and name.startswith(word)]
    return found[0] if len(found) == 1 else 8 if word == "sept" and names is MONTHS else None


def next_on(rule: DayRule, country: str, day: date) -> date | None:
    """The first day of a rule on or after a day; None where it never comes."""
    coming = (rule.in_year(year, country) for year in range(day.year - 2, day.year + 4))
    return min((one for one in coming if one is not None and one >= day), default=None)
