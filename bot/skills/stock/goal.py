"""``goal``: someone sets how many kits are promised, and by when they are collected."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from itertools import pairwise

from bot.reading.dates import day_at
from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.offers import Choice, Unclear
from bot.reading.packs import Loose
from bot.reading.spans import Marked
from bot.skills.answering import Answer, Ask, Desk, NewGoal
from bot.skills.stock import kit_wording
from bot.skills.stock.said import Count, KitSaid, above_nothing, kits_counted, kits_in, which_kit
from bot.skills.supply import Supply
from core.counts import Quantity
from core.kits import needs_of
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Goal:
    """So many of a kit by a day; without a kit, the collection day of all kits."""

    kit: str | None
    count: int | None = None
    by: date | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``goal``."""
        del currency
        slots = {"kit": self.kit, "count": self.count, "by": self.by.isoformat() if self.by else None}
        return {name: value for name, value in slots.items() if value is not None}


def _goal(heard: Heard) -> Sequence[Goal | Unclear]:
    if heard.asked:
        return []
    by, kits = _day(heard), kits_counted(heard)
    if kits and by is None and _names_a_day(heard):
        return [Unclear(kit_wording.WHICH_DAY)]
    if set(heard.said) & _NONE or _refused(heard):
        if all(count is None for _, count in kits):
            return [Goal(kit.name, 0, by) for kit, _ in kits if not kit.rivals and _is_told(heard, kit)]
        if _refused(heard):
            return []
    if len(kits) == 1:
        return _of_one(heard, kits[0][0], by)
    return [_set(heard, kit, count, by) for kit, count in kits if count is not None or _is_due(heard, by)]


def _of_one(heard: Heard, kit: KitSaid, by: date | None) -> Sequence[Goal | Unclear]:
    """The goal of the only kit named; a question where two numbers may be it."""
    counts = _numbers(heard)
    if len(counts) < 2:
        count = counts[0] if counts else None
        return [_set(heard, kit, count, by)] if counts or _is_due(heard, by) else []
    choices = tuple(Choice(str(count), _says(kit.name, count, by)) for count in counts)
    return [] if kit.rivals else [Unclear(kit_wording.which_goal(kit.name, counts), choices)]


def _set(heard: Heard, kit: KitSaid, count: int | None = None, by: date | None = None) -> Goal | Unclear:
    if count is None and kit.rivals == heard.kits:
        return Goal(None, None, by)
    if kit.rivals:
        return which_kit(kit.rivals, partial(_says, count=count, by=by))
    return Goal(kit.name, count, by)


def _is_due(heard: Heard, by: date | None) -> bool:
    """Whether a day without a count is the one on which kits are due, not one on which somebody packs."""
    said = set(heard.said)
    told = said & _DUE or (said & _DEADLINE and not said & _DOING)
    return bool(by and told) and "?" not in heard.marked.text_at(heard.reach[1])


def _numbers(heard: Heard) -> list[int]:
    """All numbers that may be the goal: no days, and not those that a goal was before."""
    marked = heard.marked
    when = _when(heard)
    days = range(when[1], when[2]) if when else range(0)
    found: list[int] = []
    spans: list[Count] = [*marked.each(Loose, *heard.reach), *marked.each(Quantity, *heard.reach)]
    for span in spans:
        before = marked.text_at(span.start - 1)
        instead = before == "of" and marked.text_at(span.start - 2) == "instead"
        value = span.value
        both = (value.packs, None) if isinstance(value, Quantity) else (value.units, value.other)
        clock = before == "at" and both[0] <= _HOURS
        if span.start not in days and before not in _NOT_NOW and not instead and not clock:
            found += [one for one in both if one is not None]
    return sorted(set(found))


def _refused(heard: Heard) -> bool:
    """Whether a kit is not to be made: "not doing wash bags this time"."""
    said = heard.said
    return any(one == "not" and two in _MAKING for one, two in pairwise(said))


def _is_told(heard: Heard, kit: KitSaid) -> bool:
    """Whether a kit that is left out is named in full, or for a season: not "drop the bags"."""
    return kit.end - kit.start > 1 or " " not in kit.name or bool(set(heard.said) & _SEASONS)


def _bare(heard: Heard) -> Sequence[Goal | Unclear]:
    """A goal without a kit: of the only kit; of several, a question."""
    count, by = _lone_count(heard), _day(heard)
    if kits_in(heard) or count is None or not heard.kits:
        return []
    if len(heard.kits) == 1:
        return [Goal(heard.kits[0], count, by)]
    return [which_kit(heard.kits, lambda name: _says(name, count, by))]


def _collection(heard: Heard) -> Sequence[Goal | Unclear]:
    by = _day(heard)
    if by is None or heard.asked:
        return []
    kits = [kit for kit in kits_in(heard) if not kit.rivals]
    return [Goal(kit.name, None, by) for kit in kits] or [Goal(None, None, by)]


def _says(kit: str, count: int | None, by: date | None) -> str:
    return f"goal {'' if count is None else count} {kit}{f' by {by.isoformat()}' if by else ''}"


def _day(heard: Heard) -> date | None:
    """The first day named, looking ahead, whatever other spans have been made of its words."""
    found = _when(heard)
    return found[0] if found else None


def _when(heard: Heard) -> tuple[date, int, int] | None:
    """The first day named, and the words it is named by."""
    bare = heard.marked.bare()
    for index in range(*heard.reach):
        found = _plain_day(bare, index)
        if found:
            return found[0], index, found[1]
    return None


def _plain_day(bare: Marked, index: int) -> tuple[date, int] | None:
    word, before = bare.text_at(index), bare.text_at(index - 1)
    if word in _NO_DAYS or before == "last":
        return None
    if word.isdigit() and not (before in _DAY_LEADS and _is_date(bare, index)):
        return None
    found = day_at(bare, index, ahead=True)
    return (_date_behind(bare, found[1]) or found) if found else None


def _date_behind(bare: Marked, index: int) -> tuple[date, int] | None:
    """The date right behind a day of the week: "friday november 20", "friday, the 20th"."""
    at = index + (bare.text_at(index) == ",")
    at += bare.text_at(at) == "the"
    return day_at(bare, at, ahead=True)


def _is_date(bare: Marked, index: int) -> bool:
    """A number that opens a day: "14 nov", "14th", "14/11", 2026-11-14; not "150 pouches"."""
    found = day_at(bare, index, ahead=True)
    return found is not None and found[1] > index + 1


def _names_a_day(heard: Heard) -> bool:
    """Whether "by" or "until" stands before something that ought to be a day."""
    marked = heard.marked
    return any(
        marked.text_at(index) in ("by", "until", "till", "before") and marked.text_at(index + 1) not in _NO_DAY_BEHIND
        for index in range(*heard.reach)
    )


def _lone_count(heard: Heard) -> int | None:
    """The only number that is no part of a day."""
    loose = [span.value for span in heard.marked.each(Loose, *heard.reach) if span.value.firm]
    return loose[0].units if loose and loose[0].other is None else None


_DAY_LEADS = frozenset("by on until till before the for is now to of : , day date due deadline".split())
_NO_DAYS = frozenset(("the", "a", "an", "one", "this", "last"))
_NO_DAY_BEHIND = frozenset(("then", "myself", "ourselves", "hand", "us", "me", "now", ""))
_DUE = frozenset(
    "due collected collect collects collecting collection pickup deadline dropoff goal goals ready done finished finish"
    " complete must".split()
)
"""Words that make a day the one on which kits are due."""
_DEADLINE = frozenset("by until till before".split())
_DOING = frozenset("let lets pack packing make making do doing drop bring take meet sew".split())
_NOT_NOW = frozenset("from not was than".split())
"""Words before a number that is not, or no longer, the goal."""
_SEASONS = frozenset("year season time round".split())
_HOURS = 12
_MAKING = frozenset("making doing packing".split())
_NONE = frozenset("none skip skipping no dropping drop without".split())

FORMS = (
    Form(
        "goal",
        "so many kits by then",
        above_nothing(_goal),
        cues=(
            "goal|goals|target|aim",
            "goal is|for|of|:|now|raised|lowered|set|to",
            "goal|target for * is|are|now|:|=|to",
            "aim|aiming|shoot|shooting|try|trying|going for|at",
            "want|wants|promised|promise|pledged|committed",
            "want|need * ready|done|finished|finish|complete|packed",
            "lets do|make|say|shoot|aim|pack|try",
            "we|i are|re|will|ll make|do|making|doing|packing",
            "by|until|before|till",
            "raise|lower|change|set|bump * to",
            "make|set|put|call the goal|target",
            "were|we doing|making",
            "make it|that|them",
            "shall|should we say|do|make|aim",
            "collection|pickup|deadline|dropoff",
            "due|collected|collecting",
            "collect|collects|fetch|fetches on|by",
            "not packing|doing|making",
            "skip|drop the",
            "none|no * this year|time|season|round",
            "settle|settled|agree|agreed|fix on|upon",
            "go|going|come|gone down|up to",
            "gotta|must|should|to be ready|done|finished",
            "ready for|by|on|until",
            "we change",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=(
            "how|what|whats|who|why|when|where",
            "packed|did|finished",
            "each|every|per",
            "who wants",
            "dont|doesnt",
            "last year",
            "age|ages|aged|olds|old",
            "my|your|his|her|their|niece|nephew",
            "bag|bags|box|boxes|pouch|pouches of",
            "week|weeks|day|days|fortnight before",
            "tonight|today|tomorrow|noon",
        ),
        strange=2,
    ),
    Form(
        "goal",
        "a goal without a kit",
        above_nothing(_bare),
        cues=("goal|target is|of|for|now|:|raised|to", "goal"),
        needs=frozenset((Need.COUNT,)),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=(
            "how|what|whats|who|why|when|where|did|scored|score|scores",
            "goals",
            "a|his|her|my|your|last|first|only goal|target",
            "is to",
        ),
        strange=0,
    ),
    Form(
        "goal",
        "the collection day",
        above_nothing(_collection),
        cues=(
            "collection|pickup|deadline|dropoff|delivery day|date|is|got|was|moved|now",
            "collection|pickup|deadline|dropoff * fixed|agreed|settled|changed|moved|set",
            "collection|pickup|deadline|dropoff",
            "collection|pickup|deadline|dropoff * kit|kits",
            "pick|picking|drop up|off day|date|is",
            "they|theyre|charity collect|collects|collecting",
            "truck|van|boat|lorry|courier|driver|bus comes|takes|leaves|collects|is|fetches|picks|goes|sails",
            "truck|van|boat|lorry|courier|driver * kits|all|it|everything|them",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=(
            "how|what|whats|who|why|when|where|did",
            "^is",
            "remind|remember",
            "my|your|his|her|their|stamp|coin|school pickup|collection|deadline|dropoff",
        ),
        strange=0,
    ),
)
TEACH = (("goal 150 school pouches by nov 14", "how many, by when"),)


def answer(slots: Goal, desk: Desk) -> Answer | Ask:
    """Set the goal, or the collection day; say how far it is."""
    if slots.by and slots.by < desk.today:
        return Answer(kit_wording.day_is_past(slots.by, desk.settings, desk.today))
    if slots.kit is None:
        return _all_kits(slots, desk)
    supply = Supply(desk)
    kit = supply.kit(slots.kit)
    if kit is None:
        return Answer(kit_wording.no_such_kit(slots.kit, desk.group.kits))
    count = kit.goal if slots.count is None else slots.count
    set_to = replace(kit, goal=count, by=slots.by or kit.by)
    kits = tuple(set_to if one.name == kit.name else one for one in supply.kits)
    need = next(one for one in needs_of(kits, supply.packed, supply.stock).kits if one.kit.name == kit.name)
    text = kit_wording.goal_answer(need, kit, desk.settings, desk.today)
    record = NewGoal(kit.name, count, set_to.by)
    return Answer(text, (record,), kit_wording.goal_summary(set_to, desk.settings, desk.today))


def _all_kits(slots: Goal, desk: Desk) -> Answer:
    kits = desk.group.kits
    if not kits:
        return Answer(kit_wording.NO_KITS)
    records = tuple(NewGoal(kit.name, kit.goal, slots.by) for kit in kits)
    line = kit_wording.collection(slots.by or desk.today, desk.settings, desk.today)
    return Answer(kit_wording.collection_answer(line, kits), records, line)


KIND = Kind("goal", FORMS, answer, TEACH)
