"""Sale windows: the days of the year on which prices drop, by rule, with their usual markdowns and what to look for."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction

from core.day_rules import NAMED, DayRule, Fixed

USUAL_MARKDOWN = Fraction(1, 2)
"""What a clearance takes off at first (common practice, no source)."""
LATER_MARKDOWN = Fraction(3, 4)
"""What it takes off for those who wait (common practice, no source)."""
_A_WEEK_LATER = 7


@dataclass(frozen=True, slots=True)
class Markdown:
    """One step of the markdowns of a sale: so many days after its start, this share off the regular price."""

    after: int
    off: Fraction


CLEARANCE = (Markdown(0, USUAL_MARKDOWN), Markdown(_A_WEEK_LATER, LATER_MARKDOWN))
SALE = (Markdown(0, USUAL_MARKDOWN),)


@dataclass(frozen=True, slots=True)
class WindowRule:
    """A sale that comes every year: its first day, its last one or its length in days, its markdowns.

    ``look_for`` are words for things worth looking for; ``called`` are the words it is asked by; ``on`` is False
    where the group does not care for it.
    """

    name: str
    starts: DayRule
    days: int = 1
    ends: DayRule | None = None
    markdowns: tuple[Markdown, ...] = SALE
    look_for: tuple[str, ...] = ()
    called: tuple[str, ...] = ()
    on: bool = True

    def in_year(self, year: int, country: str) -> SaleWindow | None:
        """The window that belongs to a year; None where the country has none. The length is never below one day."""
        first = self.starts.in_year(year, country)
        if first is None:
            return None
        last = first + timedelta(days=max(1, self.days) - 1)
        if self.ends is not None:
            said = self.ends.in_year(year, country)
            last = said if said is not None and said >= first else self.ends.in_year(year + 1, country) or last
        steps = tuple((first + timedelta(days=one.after), one.off) for one in self.markdowns)
        told = tuple((day, off) for day, off in steps if day <= last)
        return SaleWindow(self.name, first, last, told, self, year)


@dataclass(frozen=True, slots=True)
class SaleWindow:
    """The days of one sale, both included; ``steps`` are the days from which so large a share is taken off, as far as
    it is known."""

    name: str
    starts: date
    ends: date
    steps: tuple[tuple[date, Fraction], ...]
    rule: WindowRule
    year: int

    @property
    def off(self) -> Fraction | None:
        """The share of the regular price that is taken off at first; None where that is not known."""
        return self.steps[0][1] if self.steps else None

    def earlier(self, years: int, country: str) -> SaleWindow | None:
        """The same window so many years before."""
        return self.rule.in_year(self.year - years, country)


def _after(feast: str, days: int = 1) -> DayRule:
    return DayRule(NAMED[feast], days)


_SCHOOL = (
    "pencil pen crayon marker notebook folder sharpener eraser ruler glue stick scissors paper highlighter "
    "rubber felt-tip book case chalk"
).split()
_NOVELTIES = "pencil eraser sticker toy ball bubble card bag yo-yo whistle puzzle".split()
_WASH = "soap washcloth comb toothbrush brush flannel towel sock".split()


def _clearance(name: str, feast: str, days: int, look_for: Sequence[str], *called: str) -> WindowRule:
    return WindowRule(name, _after(feast), days, None, CLEARANCE, tuple(look_for), called)


_AFTER_CHRISTMAS = _clearance(
    "after-Christmas clearance",
    "Christmas",
    16,
    [*_NOVELTIES, *_WASH, "mitten", "hat"],
    "christmas",
    "xmas",
    "boxing day",
)
_AFTER_VALENTINES = _clearance(
    "Valentine's clearance", "Valentine's Day", 11, _NOVELTIES, "valentines", "valentine", "valentines day"
)
_AFTER_EASTER = _clearance("Easter clearance", "Easter", 12, [*_NOVELTIES, "chalk", "rope", "crayon"], "easter")
_AFTER_HALLOWEEN = _clearance("Halloween clearance", "Halloween", 11, _NOVELTIES, "halloween")
_FOR_ALL = (_AFTER_CHRISTMAS, _AFTER_VALENTINES, _AFTER_EASTER, _AFTER_HALLOWEEN)
_SCHOOL_CALLED = ("back to school",)


def _school(starts: Fixed, school: DayRule) -> tuple[WindowRule, WindowRule]:
    """The sales before school starts on a day, and the clearance of what is left, for about three weeks."""
    before, looked_for = replace(school, days=school.days - 1), tuple(_SCHOOL)
    return (
        WindowRule("back-to-school sales", DayRule(starts), 1, before, SALE, looked_for, _SCHOOL_CALLED),
        WindowRule("back-to-school clearance", school, 21, None, CLEARANCE, looked_for, _SCHOOL_CALLED),
    )


_NORTH_AMERICAN_SCHOOL = _school(Fixed(7, 15), _after("Labor Day"))
_USUAL: dict[str, tuple[WindowRule, ...]] = {
    "US": (
        *_NORTH_AMERICAN_SCHOOL,
        WindowRule(
            "Thanksgiving sales", _after("Thanksgiving"), 4, None, SALE, (*_WASH, "toy", "bag"), ("thanksgiving",)
        ),
        _clearance("St. Patrick's clearance", "St. Patrick's Day", 8, _NOVELTIES, "st patricks"),
        _clearance(
            "Independence Day clearance",
            "Independence Day",
            10,
            [*_NOVELTIES, "flag"],
            *("independence day", "fourth of july", "july 4th", "4th of july", "july 4"),
        ),
    ),
    "CA": (
        *_NORTH_AMERICAN_SCHOOL,
        _clearance("Thanksgiving clearance", "Thanksgiving", 8, _NOVELTIES, "thanksgiving"),
        _clearance("Canada Day clearance", "Canada Day", 10, [*_NOVELTIES, "flag"], "canada day"),
    ),
    "GB": _school(Fixed(7, 20), DayRule(Fixed(9, 5))),
    "IE": _school(Fixed(7, 15), DayRule(Fixed(9, 1))),
    "AU": _school(Fixed(12, 28), DayRule(Fixed(2, 1))),
    "NZ": _school(Fixed(1, 2), DayRule(Fixed(2, 8))),
}


def usual_windows(country: str) -> tuple[WindowRule, ...]:
    """The sale windows of a country (ISO 3166), in no order: common practice, no source."""
    return (*_FOR_ALL, *_USUAL.get(country, _school(Fixed(7, 25), DayRule(Fixed(9, 5)))))


def merged(own: Iterable[WindowRule], country: str) -> tuple[WindowRule, ...]:
    """The usual windows with what the group has said: one of its own takes the place of the usual one of that name."""
    found = {rule.name.casefold(): rule for rule in usual_windows(country)}
    for rule in own:
        found[rule.name.casefold()] = rule
    return tuple(found.values())


def windows_between(rules: Iterable[WindowRule], country: str, first: date, last: date) -> list[SaleWindow]:
    """The windows that are on at any time from one day to another, the one that starts first before the others."""
    found = [
        window
        for rule in rules
        if rule.on
        for year in range(first.year - 1, last.year + 2)
        if (window := rule.in_year(year, country)) and window.starts <= last and window.ends >= first
    ]
    return sorted(found, key=lambda window: (window.starts, window.name))


def next_windows(rules: Iterable[WindowRule], country: str, day: date) -> list[SaleWindow]:
    """Of each rule the window that is on, or comes next, the soonest first."""
    coming = (next_window(rule, country, day) for rule in rules if rule.on)
    return sorted((one for one in coming if one), key=lambda window: (window.starts, window.name))


def next_window(rule: WindowRule, country: str, day: date) -> SaleWindow | None:
    """The window of a rule that has not ended by a day and starts first."""
    coming = (rule.in_year(year, country) for year in range(day.year - 1, day.year + 3))
    return min((one for one in coming if one and one.ends >= day), key=lambda one: one.starts, default=None)


def is_worth_a_look(rule: WindowRule, names: Iterable[str]) -> bool:
    """Whether a thing of these names is one of those to look for: the name ends so, or what it is a pack or bar of.

    "colored pencil" and "box of pencil" are pencils, "pencil sharpener" is none.
    """
    wanted = {_plain(look) for look in rule.look_for}
    ends = {end for name in names for part in _plain(name).split(" of ") for end in _ends(part)}
    return bool(ends & wanted)


def _plain(name: str) -> str:
    return name.casefold().replace("-", " ")


def _ends(name: str) -> list[str]:
    """ "blue glue stick": itself, "glue stick", "stick"."""
    words = name.split()
    return [" ".join(words[at:]) for at in range(len(words))]
