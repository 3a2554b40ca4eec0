"""``move_window``: a sale of the group's own comes on other days."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from bot.reading.dates import day_at
from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.occasions import SALES, Occasion
from bot.reading.offers import Choice, Unclear
from bot.reading.spans import Found
from bot.reading.words import Sort
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.calendar import wording
from bot.skills.calendar.known_sales import no_such_sale
from bot.skills.calendar.sale_days import LONGEST_SALE, Days, days_in
from bot.skills.calendar.sales_said import occasions_in, rules_called, stranger_in
from core.day_rules import MONTHS, DayRule, Fixed
from core.money import Currency
from core.windows import WindowRule, next_window, usual_windows


@dataclass(frozen=True, slots=True)
class Move:
    """The sale, as written, the rules of its new days, their words, and the days they next fall on."""

    window: str
    days: Days
    said: str
    starts: date
    ends: date

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``move_window``."""
        del currency
        slots: dict[str, object] = {"window": self.window, "starts": self.starts.isoformat()}
        return slots if self.ends == self.starts else {**slots, "ends": self.ends.isoformat()}


def _asked_for(heard: Heard) -> Sequence[Move | Unclear]:
    """ "move the tent sale to aug 22": a question where the days are not said, or not by their date."""
    for start, end, one in occasions_in(heard) or filter(None, [stranger_in(heard)]):
        first = start
        while heard.marked.text_at(first - 1) in _POINTS | _DATES:
            first -= 1
        if not one.sale or heard.marked.text_at(first - 1) not in _MOVES:
            continue
        if found := _days_behind(heard, end, one):
            return _moved(heard, one, found)
        if one.rules and _asks_for_days(heard, end):
            return [Unclear(wording.NEW_DAYS, (), f"move the {heard.marked.said(start, end)} to {{}}", words=True)]
    return []


def _told(heard: Heard) -> Sequence[Move | Unclear]:
    """ "the tent sale is now aug 21 to 24": told of a sale that opens the sentence, with a word of change."""
    for start, end, one in occasions_in(heard):
        ahead = [heard.marked.text_at(index) for index in range(heard.reach[0], start)]
        found = _days_behind(heard, end, one) if one.sale and set(ahead) <= _POINTS | _CALLS else None
        if found and not heard.asked:
            beside = {heard.marked.text_at(at) for at in (*range(end, found.start), found.end)}
            return _moved(heard, one, found) if beside & (_CHANGES | _EVERY_YEAR) else []
    return []


def _days_behind(heard: Heard, end: int, one: Occasion) -> Found[Days] | None:
    """The days said behind the name of a sale, with nothing but small words between."""
    bare = heard.marked.bare()
    at = end
    while bare.text_at(at) in _BETWEEN and at < heard.reach[1]:
        at += 1
    found = days_in(bare, (at, heard.reach[1]))
    if found and all(bare.text_at(index) in _BETWEEN for index in range(at, found.start)):
        return found
    return _day_of_month(heard, at - (bare.text_at(at - 1) == "the"), one)


def _day_of_month(heard: Heard, index: int, one: Occasion) -> Found[Days] | None:
    """ "the 22nd", of the month that the sale comes in."""
    bare = heard.marked.bare()
    found, at = day_at(bare, index, ahead=True), index + (bare.text_at(index) == "the")
    number = bare.text_at(at)
    window = next_window(one.rules[0], bare.settings.country, bare.today) if one.rules else None
    if found is None or window is None or not number.isdigit() or found[1] > at + 2:
        return None
    return Found(index, found[1], Days(DayRule(Fixed(window.starts.month, int(number)))))


def _asks_for_days(heard: Heard, end: int) -> bool:
    """Whether the request ends behind the sale, or names a day that may be of this year alone: "to next friday"."""
    marked = heard.marked
    at = end + (marked.text_at(end) in ("to", "for", "by"))
    ended = at >= heard.reach[1] or marked.tokens[at].sort is Sort.STOP or marked.text_at(at) in ("please", "pls")
    bare = marked.bare()
    return ended or marked.text_at(end) == "by" or (at > end and day_at(bare, at, ahead=True) is not None)


def _moved(heard: Heard, one: Occasion, found: Found[Days]) -> Sequence[Move | Unclear]:
    coming = found.value.coming(heard.marked)
    if coming is None or (coming[1] - coming[0]).days > LONGEST_SALE:
        return [Unclear(wording.NEW_DAYS, (), f"move the {one.words} sale to {{}}", words=True)]
    return [Move(one.words, found.value, heard.marked.said(found.start, found.end), *coming)]


_MOVE = "move|shift|push|change|reschedule|postpone"
_MOVES = frozenset(_MOVE.split("|"))
_POINTS = frozenset("the our that this".split())
_DATES = frozenset("date dates day days of".split())
_CALLS = frozenset("clerk hey fyi ok so btw , :".split())
_CHANGED = "now|moved|moves|changed|shifted|instead|rescheduled|postponed"
_CHANGES = frozenset(_CHANGED.split("|"))
_EVERY_YEAR = frozenset("every each yearly".split())
_BETWEEN = _CHANGES | frozenset(
    "is are was has have been be will got it its to for from on the starts runs days , :".split()
)

_MONTHS = "|".join((*MONTHS, *(month[:3] for month in MONTHS), "sept"))

FORMS = (
    Form(
        "move_window",
        "a sale is to be on other days",
        _asked_for,
        cues=(f"{_MOVE} * {SALES}", f"^{_MOVE}"),
        never=("did|who|why|when|if",),
        strange=6,
    ),
    Form(
        "move_window",
        "a sale is on other days",
        _told,
        cues=(SALES, f"{SALES} {_CHANGED}", f"{SALES} {_CHANGED} to|on|from|the|{_MONTHS}"),
        never=("did|who|why|when|if",),
        strange=3,
    ),
)
TEACH = (("move the church rummage sale to october 10", "a sale of your own, on other days from now on"),)


def answer(slots: Move, desk: Desk) -> Answer | Ask:
    """Put a sale of the group's own on other days; the days of a usual one stand by their rule."""
    rules = rules_called(slots.window, desk.group.window_rules)
    if not rules:
        return no_such_sale(slots.window, desk)
    own = [rule for rule in rules if not _is_usual(rule, desk)]
    if not own:
        return Answer("\n".join(map(wording.stays, rules)))
    if len(own) > 1:
        return Ask(wording.WHICH_SALE, tuple(Choice(one.name, f"move the {one.name} to {slots.said}") for one in own))
    rule = slots.days.of(own[0], desk.settings.country, desk.today)
    window = next_window(rule, desk.settings.country, desk.today)
    if window is None:
        return Answer(wording.NEW_DAYS)
    text = wording.added(window, desk.settings, desk.today, True)
    return Answer(text, (rule,), wording.window_summary(rule))


def _is_usual(rule: WindowRule, desk: Desk) -> bool:
    """Whether a sale is one of the usual ones, on its usual days."""
    return any(one.name == rule.name and one.starts == rule.starts for one in usual_windows(desk.settings.country))


KIND = Kind("move_window", FORMS, answer, TEACH)
