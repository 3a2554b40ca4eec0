"""``add_window``: someone tells of a sale that comes every year."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.occasions import SALES
from bot.reading.offers import Unclear
from bot.reading.spans import Marked
from bot.reading.words import Sort
from bot.skills.answering import Answer, Desk
from bot.skills.calendar import wording
from core.day_rules import WEEKDAYS, DayRule, Fixed, NthWeekday, next_on, rule_of
from core.money import Currency
from core.windows import WindowRule, next_window

_MOST_DAY_WORDS = 9
_JOINTS = frozenset("to until till through thru - finishes ends".split())
_LONGEST_MONTH = 31
_LONGEST_SALE = 180
"""Days; one said to last longer has its days the wrong way round."""


@dataclass(frozen=True, slots=True)
class AddWindow:
    """A sale's name, the rules of its first and last day, and the days they next fall on."""

    name: str
    first: DayRule
    starts: date
    last: DayRule | None = None
    ends: date | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``add_window``."""
        del currency
        slots: dict[str, object] = {"window": self.name, "starts": self.starts.isoformat()}
        if self.ends:
            slots["ends"] = self.ends.isoformat()
        return slots


def _add(heard: Heard) -> Sequence[AddWindow | Unclear]:
    bare = heard.marked.bare()
    start = _name_start(heard)
    days = _days_in(bare, (start, heard.reach[1]))
    if days is None:
        name = _name(bare, start, heard.reach[1])
        hole = f"add a window: {name} {{}}" if name else None
        return [Unclear(wording.NO_DAY_OF_WINDOW, (), hole, words=True)] if _is_told(heard) else []
    name = _name(bare, start, days.start) or _name(bare, days.end, heard.reach[1])
    starts = next_on(days.first, bare.settings.country, bare.today)
    if not name or starts is None:
        return []
    ends = next_on(days.last, bare.settings.country, starts) if days.last else None
    if ends is not None and (ends - starts).days > _LONGEST_SALE:
        return [Unclear(wording.NO_DAY_OF_WINDOW, (), f"add a window: {name} {{}}", words=True)]
    return [AddWindow(name, days.first, starts, days.last, ends)]


@dataclass(frozen=True, slots=True)
class _Days:
    """The first and, if said, the last day, and the words that say them."""

    first: DayRule
    last: DayRule | None
    start: int
    end: int


def _days_in(bare: Marked, reach: tuple[int, int]) -> _Days | None:
    """The days of the sale: "may 9 to may 10", "sept 10-13", "1 to 9 may", "third friday of june to the sunday"."""
    first = _rule_in(bare, reach)
    if first is None:
        return None
    rule, start, end = first
    if early := _day_before(bare, (reach[0], start), rule):
        return _Days(early[0], rule, early[1], end)
    for index in range(end, min(reach[1], end + _MOST_DAY_WORDS)):
        if bare.text_at(index) in _JOINTS or (index == end and bare.glued(index)):
            at = index + (bare.text_at(index) in _JOINTS)
            at += bare.text_at(at) == "the"
            if found := _rule_in(bare, (at, min(reach[1], at + _MOST_DAY_WORDS))):
                return _Days(rule, found[0], start, found[2])
            if last := _same_month(bare, at, rule) or _weekday_after(bare, at, rule):
                return _Days(rule, last, start, at + 1)
    return _Days(rule, None, start, end)


def _day_before(bare: Marked, reach: tuple[int, int], last: DayRule) -> tuple[DayRule, int] | None:
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


def _is_told(heard: Heard) -> bool:
    """Whether it is surely a sale to be added: "add a window: ..."."""
    return bool({"window", "windows"} & set(heard.said))


def _name_start(heard: Heard) -> int:
    """Where the name may begin: behind the colon or "called", or behind the words of the request."""
    marked = heard.marked
    for index in range(*heard.reach):
        if marked.text_at(index) in (":", "called", "named"):
            return index + 1
    start = heard.reach[0]
    told = [index for index in range(*heard.reach) if marked.text_at(index) in _REQUEST]
    if told:
        start = told[-1] + 1 if told[-1] < heard.reach[1] - _SHORTEST else told[0] + 1
    comma = next(
        (index for index in range(start, min(start + _NEAR, heard.reach[1])) if marked.text_at(index) == ","), None
    )
    return comma + 1 if told and comma is not None else start


_SHORTEST = 4
_NEAR = 6
_REQUEST = frozenset("add new window windows windwo calendar annual yearly record enter note annually".split())


def _rule_in(bare: Marked, reach: tuple[int, int]) -> tuple[DayRule, int, int] | None:
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


def _name(bare: Marked, start: int, end: int) -> str:
    while start < end and bare.text_at(start) in _HEAD:
        start += 1
    while end > start and bare.text_at(end - 1) in _TAIL:
        end -= 1
    return bare.said(start, end).lower()


_TAIL = frozenset(
    "the a an , : - is on from every each year years yearly yr in of for starts statrs begins comes always as to its it"
    " please pls put and".split()
)
_HEAD = _TAIL | frozenset(("sale", "sales", "follow", "more", "all"))


_WEEKDAYS = {day[:3]: number for number, day in enumerate(WEEKDAYS)}

FORMS = (
    Form(
        "add_window",
        "a sale of every year",
        _add,
        cues=(
            "add|put|new|make|create|note|one * window|windwo",
            f"add|put|new * yearly|annual|window|windows * {SALES}|window|day|fair",
            f"add|put|new|note|enter|record * yearly|annual|every|each * {SALES}|day|fair",
            f"put * {SALES} * :",
            f"yearly|annual {SALES} * :",
            f"{SALES} * every|each|evry year|yr",
            f"every|each|evry year|yr * {SALES}",
            "every|each|evry year|yr * put|add",
            "there is|there's each|every year * sale|fair",
            f"{SALES} * recorded|noted|added annually|yearly",
            f"one more * {SALES} * every|each",
            f"new {SALES} to",
            f"add|put to|in the * {SALES}|calendar",
            "as a yearly|annual window|sale",
            "put it in the windows|calendar",
        ),
        never=(
            "when|whens|what|which|who|how",
            "did|was|were",
            "mute|unmute|close|stop",
            "switch|turn|put * on|off|back|again",
        ),
        strange=8,
        whole=True,
    ),
)
TEACH = (("add a window: church rummage sale first saturday of october", "a sale of your own, every year"),)


def answer(slots: AddWindow, desk: Desk) -> Answer:
    """Keep the sale; one of that name is changed."""
    rules = {rule.name.casefold(): rule for rule in desk.group.window_rules}
    before = rules.get(slots.name.casefold())
    rule = WindowRule(slots.name, slots.first, 1, slots.last, ())
    if before is not None:
        rule = replace(before, starts=slots.first, ends=slots.last or before.ends, on=True)
    window = next_window(rule, desk.settings.country, desk.today)
    if window is None:
        return Answer(wording.NO_DAY_OF_WINDOW)
    text = wording.added(window, desk.settings, desk.today, before is not None)
    return Answer(text, (rule,), wording.window_summary(rule))


KIND = Kind("add_window", FORMS, answer, TEACH)
