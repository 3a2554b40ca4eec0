"""``claim``: someone asks for some of an open split, changes it, or lets go."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from enum import StrEnum

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.offers import Choice, Unclear
from bot.reading.packs import Loose
from bot.skills.answering import Answer, Ask, Desk, NewClaim
from bot.skills.shares import wording
from bot.skills.shares.closing import shared_out
from bot.skills.shares.parties import ME, parties_in
from bot.skills.shares.people import of_other_things
from bot.skills.shares.sharing import by_name
from bot.storage.shares import closed_since, open_splits, opened_in, standing
from core.counts import Quantity
from core.money import Currency
from core.shares import Standing, State, TooManyUnitsError, Wanted

_LATELY = timedelta(days=7)


class Mode(StrEnum):
    """How the units are meant."""

    ASKED = "asked"
    """So many; asked about where the member has some already."""
    IN_ALL = "in all"
    MORE = "more"


@dataclass(frozen=True, slots=True)
class Claim:
    """Units asked for of an open split; 0 lets go of all."""

    units: int
    item: str | None = None
    who: str | None = None
    mode: Mode = Mode.ASKED

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``claim``."""
        del currency
        slots: dict[str, object] = {"item": self.item, "units": self.units, "who": self.who}
        return {name: value for name, value in slots.items() if value is not None}


def _claim(heard: Heard) -> Sequence[Claim | Unclear]:
    words = {heard.marked.text_at(index) for index in range(*heard.reach)}
    if _carried_to(heard):
        return []
    mode = Mode.MORE if words & _MORE else Mode.IN_ALL if words & _CHANGES else Mode.ASKED
    several = _several(heard, mode)
    if several:
        return several
    units = _units(heard)
    if units is None or (words & _OF_OTHERS and not words & _OWN and _who(heard) is None):
        return []
    return [Claim(units, _item(heard), _who(heard), mode)]


def _several(heard: Heard, mode: Mode) -> list[Claim]:
    """The claims of a message that names several members, or several items, each with its number."""
    parties = [party for party in parties_in(heard).takers if party.units]
    if len(parties) > 1:
        return [Claim(one.units or 0, _item(heard), None if one.name == ME else one.name, mode) for one in parties]
    counts = [(span.end, span.value.units) for span in heard.marked.each(Loose, *heard.reach)]
    counted = [
        (units, item.value.name)
        for end, units in counts
        for item in named(heard.marked, heard.reach, NameSort.ITEM)
        if item.start == end
    ]
    return [Claim(units, item, _who(heard), mode) for units, item in counted] if len(counted) > 1 else []


def _carried_to(heard: Heard) -> bool:
    """True where things are brought to a member: "I'll take 24 pens to Ines"."""
    return any(
        heard.marked.text_at(span.start - 1) == "to" for span in named(heard.marked, heard.reach, NameSort.MEMBER)
    )


def _units(heard: Heard) -> int | None:
    """The count said; of two, the one that is not taken back: "30 for me not 20"."""
    packs = [span.value.units for span in heard.marked.each(Quantity, *heard.reach)]
    if packs:
        return packs[0]
    loose = [
        span.value
        for span in heard.marked.each(Loose, *heard.reach)
        if heard.marked.text_at(span.start - 1) not in ("not", "from") and not of_other_things(heard, span.end)
    ]
    if not loose or any(one.other is not None or not one.firm for one in loose):
        return None
    words = {heard.marked.text_at(index) for index in range(*heard.reach)}
    return loose[-1 if words & _CORRECTS else 0].units


def _item(heard: Heard) -> str | None:
    items = named(heard.marked, heard.reach, NameSort.ITEM)
    return items[0].value.name if items else None


def _who(heard: Heard) -> str | None:
    """The member it is for, where that is not the speaker."""
    members = [span.value.name for span in named(heard.marked, heard.reach, NameSort.MEMBER)]
    return next((name for name in members if name != heard.speaker), None)


def _let_go(heard: Heard) -> Sequence[Claim | Unclear]:
    return [Claim(0, _item(heard), _who(heard), Mode.IN_ALL)]


_OF_OTHERS = frozenset("wants needs takes hell shell hed shed theyd says".split())
_OWN = frozenset("i ill id me my".split())
_CORRECTS = frozenset("wait sorry rather".split())
_MORE = frozenset("more extra additional another".split())
_CHANGES = frozenset("make change bump raise lower reduce actually instead now only set".split())
_COUNT = frozenset((Need.COUNT,))
_COUNT_OF_ITEM = frozenset((Need.COUNT, Need.ITEM))
_NONE = frozenset((Need.AMOUNT,))
_ASKS = (
    "put|sign|count|mark|pencil me|him|her|us * down|for|in|up",
    "put|sign|count|mark * down|in|up for",
    "ill|id take|have|grab|want|need|like|use",
    "i take|want|need",
    "i would like|love|be|want",
    "could|can i|i use|have|get",
    "i could|can use",
    "for me|us|here",
    "^me",
    "in for",
    "dibs on",
    "gimme|gimmie",
    "give me",
    "make|change|bump|raise|lower|set|switch|reduce|drop|cut it|that|mine|me|my|us * to|up|down",
    "make it|that|mine",
    "raise|lower|change|reduce my",
    "hell|shell|hed|shed|theyd have|take|like|love",
    "wants|needs|want|need|takes|says",
    "reserve|save|keep|hold for|me|us|some",
    "my|against name|claim|share",
    "more for|please|pls",
    "another * for",
    "be glad|happy of",
    "would|will do me|us|nicely",
    "amend|update|correct my|the request|claim|order|number",
    "up|down mine|me to",
    "for me|us nicely|please|pls",
    "^claim",
    "im good for",
    "ill|id go for",
    "save|keep|hold * for",
    "add me|us|him|her|* for|to|in",
)
_NEVER = (
    "who|anyone|anybody|somebody|someone wants|want|needs|need",
    "do|does|did|is|are|can|could anyone|anybody|we|someone",
    "do|does|did|are you",
    "teacher|school|class wants|needs",
    "my|his|her|our son|daughter|kids|mum|wife|husband",
    "remind|remember|pick|call|ring|text|meet|bring|pack|per|need to|we are|were",
    "how many|much",
    "wait|waiting up|for",
    "^did|does|is|are|was|were|should",
    "dont|doesnt|didnt|not|never|wont|cant|couldnt want|need|take|have|use",
    "would|id|ill|could have|ve taken|had|bought",
    "off my|mine|the",
    "we need|want",
    "home|run|walk|too|way many|much",
    "from the|that split|last",
)

FORMS = (
    Form("claim", "so many of an item", _claim, cues=_ASKS, needs=_COUNT_OF_ITEM, lacks=_NONE, never=_NEVER, strange=2),
    Form(
        "claim",
        "so many",
        _claim,
        cues=_ASKS,
        needs=_COUNT,
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=_NEVER,
        strange=1,
    ),
    Form(
        "claim",
        "so many of an item, in few words",
        _claim,
        cues=("^only|just", "pls|plz|please|thanks|thx|ta", "over here"),
        needs=_COUNT_OF_ITEM,
        lacks=_NONE,
        never=_NEVER,
        strange=1,
    ),
    Form(
        "claim",
        "none after all",
        _let_go,
        cues=(
            "^drop|scratch|strike|cross me|him|her|us",
            "take|scratch|leave|drop|count|cross|strike me|him|her|us * off|out",
            "im out",
            "i am out",
            "withdraw|withdraws|withdrawing my|from|his|her|the",
            "no * for me|us after|now|thanks|please|pls|sorry",
            "none for me|us",
            "scratch|drop|cancel|strike|skip|forget my|mine",
            "dont|doesnt|do|not need|want * any|anymore|more|longer|after",
            "no longer need|want|require",
            "make zero|none",
        ),
        lacks=frozenset((Need.AMOUNT, Need.COUNT)),
        never=(
            "at|by|to|in|on the|my|your|his|her|station|corner|saturday|sunday|friday|monday|thursday",
            "drop|leave * off at|by|in|round",
            "out of|on|at|with|till|until|for",
            "who|you|u",
        ),
        strange=2,
        whole=True,
    ),
)
TEACH = (("put me down for 2 dozen", "your part; then: make that 36, drop me"),)


def answer(slots: Claim, desk: Desk) -> Answer | Ask | None:
    """Give the member a part of the open split; nothing is said where none is open and none is named."""
    member = by_name(slots.who, desk)
    found = _meant(slots, desk)
    if not found:
        return _none_open(slots, desk)
    if len(found) > 1:
        says = "drop me from the {}" if not slots.units else f"put {slots.who or 'me'} down for {slots.units} {{}}"
        items = list(dict.fromkeys(one.case.item for one in found))
        return Ask(wording.MANY_OPEN, tuple(Choice(item, says.format(item)) for item in items))
    return _claimed(found[0], member, slots, desk)


def _meant(slots: Claim, desk: Desk) -> list[Standing]:
    """The open splits that a claim can mean: the one replied to, those of its item, else all."""
    if desk.replied_entry is not None:
        opened = opened_in(desk.books, desk.replied_entry)
        if opened and opened.state is State.OPEN and slots.item in (None, opened.case.item):
            return [opened]
    found = [one for one in open_splits(desk.books) if slots.item in (None, one.case.item)]
    if not slots.units and slots.item is None and len(found) > 1:
        found = [one for one in found if one.units_of(by_name(slots.who, desk))] or found
    return found


def _none_open(slots: Claim, desk: Desk) -> Answer | None:
    items = [one.case.item for one in open_splits(desk.books)]
    if slots.item and items:
        return Answer(wording.none_open_of(slots.item, items))
    lately = closed_since(desk.books, desk.at - _LATELY)
    if any(slots.item in (None, one.case.item) for one, _ in lately):
        return Answer(wording.OVERTAKEN)
    return None


def _claimed(found: Standing, member: str, slots: Claim, desk: Desk) -> Answer | Ask:
    if member not in desk.group.members:
        return Answer(wording.NOTHING_OPEN)
    before, item = found.units_of(member), found.case.item
    who = "me" if member == desk.speaker else member
    if not slots.units and not before:
        return Answer(wording.has_none(member, item))
    units = before + slots.units if slots.mode is Mode.MORE else slots.units
    if slots.mode is Mode.ASKED and before and before != units:
        choices = (
            Choice(wording.in_all(units), f"make it {units} {item} for {who}"),
            Choice(wording.more(units, before + units), f"make it {before + units} {item} for {who}"),
        )
        return Ask(wording.in_all_or_more(member, before, units), choices)
    try:
        after = found.with_claim(member, units)
    except TooManyUnitsError as fault:
        left = fault.count
        rest = Choice(wording.take_the_rest(left), f"make it {left} {item} for {who}")
        return Ask(wording.only_left(left, item), (rest,) if left else ())
    return _kept(after, member, desk)


def _kept(after: Standing, member: str, desk: Desk) -> Answer:
    """Keep a claim; one that takes the last units closes the case."""
    claim = NewClaim(after.number, Wanted(member, after.units_of(member)))
    summary = wording.claim_summary(after, member)
    text = wording.claimed(after, member, desk.settings)
    if after.left:
        return Answer(text, (claim,), summary, split=after.number)
    closed, records, of_split = shared_out(after, desk)
    return Answer(f"{text}\n{closed}", (claim, *records), f"{summary}; {of_split}", split=after.number)


def press(numbers: Sequence[int], desk: Desk) -> Answer | Ask | None:
    """A pressed amount: so many in all, for whoever pressed; the split's post shows it, nothing else is said."""
    number, units = numbers
    found = standing(desk.books, number)
    if found is None:
        return None
    if found.state is not State.OPEN:
        return Answer(wording.OVERTAKEN)
    given = _claimed(found, desk.speaker, Claim(units, found.case.item, None, Mode.IN_ALL), desk)
    if isinstance(given, Answer) and given.split is not None and found.left and len(given.records) == 1:
        return replace(given, text="")
    return given


KIND = Kind("claim", FORMS, answer, TEACH)
