"""``add_window``: someone tells of a sale that comes every year."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from itertools import pairwise

from bot.reading.evidence import has
from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.markdowns import ShareOff
from bot.reading.names import NameSort, named
from bot.reading.occasions import SALES
from bot.reading.offers import Unclear
from bot.reading.spans import Marked, Reach
from bot.reading.words import Sort, lexicon, singular
from bot.skills.answering import Answer, Desk
from bot.skills.calendar import wording
from bot.skills.calendar.sale_days import LONGEST_SALE, Days, days_in
from bot.wording.windows import percent
from core.money import Currency
from core.windows import Markdown, WindowRule, next_window


@dataclass(frozen=True, slots=True)
class AddWindow:
    """A sale's name, the rules of its days, and the days they next fall on.

    ``off`` is the share it takes off, ``look_for`` what it is on; ``rest`` are words of which nothing is kept.
    """

    name: str
    days: Days
    starts: date
    ends: date
    off: Fraction | None = None
    look_for: tuple[str, ...] = ()
    rest: str = ""

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``add_window``; the share off in percent."""
        del currency
        slots: dict[str, object] = {"window": self.name, "starts": self.starts.isoformat()}
        if self.ends != self.starts:
            slots["ends"] = self.ends.isoformat()
        if self.off is not None:
            slots["off"] = percent(self.off)
        if self.look_for:
            slots["look_for"] = list(self.look_for)
        return slots


def _add(heard: Heard) -> Sequence[AddWindow | Unclear]:
    if _is_an_offer(heard) or not _is_of_a_sale(heard):
        return []
    bare = heard.marked.bare()
    starts = _name_starts(heard)
    parted = next((index for index in range(starts[0], heard.reach[1]) if bare.text_at(index) == ":"), None)
    found = days_in(bare, (starts[-1] if parted is None else parted, heard.reach[1]))
    end = parted or (found.start if found else heard.reach[1])
    name = next((name for start in starts if (name := _name(bare, start, end))), "")
    if found is None:
        return [_which_days(name)] if _is_told(heard) else []
    terms = _terms(heard, found.end) if name else _Terms()
    name = name or _name(bare, found.end, heard.reach[1])
    coming = found.value.coming(bare)
    if not name or coming is None or (set(name.split()) & _PLACES and not {":", "called", "named"} & set(heard.said)):
        return []
    beside = parted is not None and not (_is_small(bare, parted, found.start) and (terms.off or terms.is_small))
    if beside or (coming[1] - coming[0]).days > LONGEST_SALE:
        return [_which_days(name)]
    return [AddWindow(name, found.value, *coming, terms.off, terms.look_for, terms.rest)]


def _which_days(name: str) -> Unclear:
    """The question for the days; the name is set off, so that no word of the answer becomes a part of it."""
    return Unclear(wording.NO_DAY_OF_WINDOW, (), f"add a window: {name}: {{}}" if name else None, words=True)


def _is_an_offer(heard: Heard) -> bool:
    """Whether an item and its price are named."""
    return all(has(heard.marked, need, heard.reach) for need in (Need.ITEM, Need.AMOUNT))


def _is_of_a_sale(heard: Heard) -> bool:
    """Whether it is a sale that is spoken of, and not a window of a house: something says so, or sets a name off."""
    said = heard.said
    set_off = any(one in _BEFORE_A_COMMA and next_ == "," for one, next_ in pairwise(said))
    return set_off or bool(_SURE & set(said)) or (said[0] in _OPENS and said[-1] in ("window", "windows"))


_SURE = frozenset(f"{SALES}|yearly|yrly|annual|annually|every|each|evry|calendar|fair|:|called|named".split("|")) - {
    "window",
    "windows",
}
_BEFORE_A_COMMA = frozenset("window windwo pls please plz".split())


def _is_told(heard: Heard) -> bool:
    """Whether it is surely a sale to be added, though its days are not said: "add a window: ..."."""
    said = set(heard.said)
    return bool({"window", "windows"} & said) or (":" in said and heard.said[0] in _OPENS)


_PLACES = frozenset("to at in on for".split())
"""Words that no name has which is not set off: "add 5 to the sale on aug 20"."""
_OPENS = frozenset("add new put enter record".split())


@dataclass(frozen=True, slots=True)
class _Terms:
    """What is said of a sale behind its days."""

    off: Fraction | None = None
    look_for: tuple[str, ...] = ()
    rest: str = ""
    is_small: bool = True


def _terms(heard: Heard, start: int) -> _Terms:
    """How much is off, on what, and what else is said up to the end of the sentence."""
    marked = heard.marked
    end = next((at for at in range(start, heard.reach[1]) if marked.tokens[at].sort is Sort.STOP), heard.reach[1])
    shares = marked.each(ShareOff, start, end)
    taken = {index for share in shares for index in range(share.start, share.end)}
    cuts = [index for index in range(start, end) if index in taken or marked.text_at(index) in _JOINTS | _PLACED]
    small = _HEAD if shares else _TAIL | _REQUEST | lexicon()["filler"]
    told = [_without(marked, (cut + 1, next_), small) for cut, next_ in pairwise([start - 1, *cuts, end])]
    told = [part for part in told if part[0] < part[1]]
    placed = [part for part in told if _PLACED & {marked.text_at(at) for at in range(part[0] - 2, part[0])}]
    things = tuple(_thing(marked, part) for part in told if part not in placed) if shares else ()
    left = placed if shares else told
    rest = marked.said(left[0][0], left[-1][1]) if left else ""
    return _Terms(shares[0].value.off if shares else None, things, rest, _is_small(marked, start, end))


_JOINTS = frozenset(("and", "&", ","))
_PLACED = frozenset(("at", "in"))


def _without(marked: Marked, reach: Reach, small: frozenset[str]) -> Reach:
    """The stretch without the small words at its ends."""
    start, end = reach
    while start < end and marked.text_at(start) in small:
        start += 1
    while end > start and marked.text_at(end - 1) in small:
        end -= 1
    return start, end


def _is_small(marked: Marked, start: int, end: int) -> bool:
    return all(marked.text_at(index) in _TAIL for index in range(start, end))


def _thing(marked: Marked, reach: Reach) -> str:
    """What a sale is on, by the group's name for it, else as written, in the singular."""
    items = named(marked, reach, NameSort.ITEM)
    if items:
        return items[0].value.name
    *words, last = marked.said(*reach).lower().split()
    return " ".join([*words, singular(last)])


def _name_starts(heard: Heard) -> list[int]:
    """Where the name may begin: behind the colon or "called"; else behind a comma, or the words of the request."""
    marked = heard.marked
    for index in range(*heard.reach):
        if marked.text_at(index) in (":", "called", "named"):
            return [index + 1]
    start = heard.reach[0]
    told = [index for index in range(*heard.reach) if marked.text_at(index) in _REQUEST]
    if not told:
        return [start]
    start = told[-1] + 1 if told[-1] < heard.reach[1] - _SHORTEST else told[0] + 1
    near = range(start, min(start + _NEAR, heard.reach[1]))
    comma = next((index for index in near if marked.text_at(index) == ","), None)
    return [start] if comma is None else [comma + 1, start]


_SHORTEST = 4
_NEAR = 6
_REQUEST = frozenset("add new window windows windwo calendar annual yearly record enter note annually".split())


def _name(bare: Marked, start: int, end: int) -> str:
    while start < end and bare.text_at(start) in _HEAD:
        start += 1
    return bare.said(*_without(bare, (start, end), _TAIL)).lower()


_TAIL = frozenset(
    "the a an , : - is on from every each year years yearly yr in of for starts statrs begins comes always as to its it"
    " please pls put and".split()
)
_HEAD = _TAIL | frozenset(("sale", "sales", "follow", "more", "all"))

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
            f"^add|new|note|enter|record|make|create|put * {SALES} :|called|named",
            f"^add|enter|record * {SALES}",
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
    """Keep the sale; of one of that name the days are changed, and whatever else is said."""
    before = next((rule for rule in desk.group.window_rules if rule.name.casefold() == slots.name.casefold()), None)
    rule = before or WindowRule(slots.name, slots.days.first, 1, None, ())
    rule = slots.days.of(rule, desk.settings.country, desk.today)
    if slots.off is not None:
        rule = replace(rule, markdowns=(Markdown(0, slots.off),))
    rule = replace(rule, look_for=slots.look_for or rule.look_for)
    window = next_window(rule, desk.settings.country, desk.today)
    if window is None:
        return Answer(wording.NO_DAY_OF_WINDOW)
    text = wording.added(window, desk.settings, desk.today, before is not None)
    return Answer(" ".join([text, *wording.left_out(slots.rest)]), (rule,), wording.window_summary(rule))


KIND = Kind("add_window", FORMS, answer, TEACH)
