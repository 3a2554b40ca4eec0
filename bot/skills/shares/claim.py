"""``claim``: someone asks for some of an open split, changes it, or lets go."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

from bot.reading.form import Form, Need
from bot.reading.kind import Kind
from bot.reading.offers import Choice
from bot.skills.answering import Answer, Ask, Desk, NewClaim
from bot.skills.shares import wording
from bot.skills.shares.claims_said import Claim, Mode, alone, claimed, fewer, let_go, rest, vague
from bot.skills.shares.closing import shared_out
from bot.skills.shares.sharing import by_name
from bot.storage.shares import closed_since, open_splits, opened_in, standing
from core.shares import Standing, State, TooManyUnitsError, Wanted

_LATELY = timedelta(days=7)
_COUNT = frozenset((Need.COUNT,))
_COUNT_OF_ITEM = frozenset((Need.COUNT, Need.ITEM))
_NONE = frozenset((Need.AMOUNT,))
_ASKS = (
    "put|sign|count|mark|pencil me|him|her|us * down|for|in|up",
    "put|sign|count|mark * down|in|up for",
    "ill|id take|have|grab|want|need|like|use",
    "i take|want|need",
    "i will|would have|take|like",
    "i would like|love|be|want",
    "would like|love * of those|these|them|that",
    "am|im wanting",
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
    "would|will do|suit me|us|nicely",
    "amend|update|correct my|the request|claim|order|number",
    "up|down mine|me to",
    "for me|us nicely|please|pls",
    "^claim",
    "im good for",
    "ill|id go for",
    "save|keep|hold * for",
    "add me|us|him|her|* for|to|in",
    "go for",
    "can|could do with",
    "asks|asked for",
    "happily have|take",
)
_CASE = "case|cases|split|carton|crate|box|batch|lot|order"

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
    "off the",
    "but im|i|its|it|we",
    "if its|it|theyre",
    "we need|want",
    "they|theyre want|wants|charge|ask",
    "home|run|walk|too|way many|much",
    "from the|that last",
    "last|previous one",
    "used|found|broke|gave|packed|counted|lost",
    "i|we|they|he|she|ive|have|has had|got|took",
    "might|may want|need|take",
    "but|just not now|yet|today",
)

FORMS = (
    Form(
        "claim", "so many of an item", claimed, cues=_ASKS, needs=_COUNT_OF_ITEM, lacks=_NONE, never=_NEVER, strange=2
    ),
    Form(
        "claim",
        "so many",
        claimed,
        cues=_ASKS,
        needs=_COUNT,
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=_NEVER,
        strange=1,
    ),
    Form(
        "claim",
        "so many of an item, in few words",
        claimed,
        cues=("^only|just", "pls|plz|please|thanks|thx|ta", "over here"),
        needs=_COUNT_OF_ITEM,
        lacks=_NONE,
        never=_NEVER,
        strange=1,
    ),
    Form(
        "claim",
        "so many from the case",
        claimed,
        cues=(f"from|off|of|outta * {_CASE}",),
        needs=_COUNT,
        lacks=_NONE,
        never=(
            *_NEVER,
            "are|is|were|was|left|remain|remaining|missing|came|come|in|at|on",
            "who|how|where|which|what|when|why|did|do|does",
            "bought|need|sold|saw|seen|still",
        ),
        strange=0,
    ),
    Form(
        "claim",
        "so many less",
        fewer,
        cues=(
            "drop|cancel|remove|take|release|lose|give|let * of|off mine|my",
            "fewer|less for me|us|please",
            "let go of",
            "give back|up",
        ),
        needs=_COUNT,
        lacks=_NONE,
        never=("last|previous one",),
        strange=1,
        whole=True,
    ),
    Form(
        "claim",
        "all that is left",
        rest,
        cues=(
            "ill|i take|have|want * rest",
            "all|everything thats|that|what left|is",
            "the rest for|to me|us",
            "^the rest",
            "ill|i take|have * whats left",
            "ill|i take|have what|whatever",
        ),
        lacks=frozenset((Need.AMOUNT, Need.COUNT)),
        never=("who|anyone", "of the day|week", "rest of us|you|them|my|our", "rest is|are|was|were|will|can|goes"),
        strange=1,
    ),
    Form(
        "claim",
        "some, without a number",
        vague,
        cues=("put|count|sign|mark me|us * down|in|up for|some",),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT, Need.COUNT)),
        strange=0,
    ),
    Form("claim", "a number alone", alone, lacks=_NONE, alone=True),
    Form(
        "claim",
        "none after all",
        let_go,
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
            "reminder|reminders",
            "drop * note|line|text|message|hint|call",
            "out of|on|at|with|till|until|for",
            "who|you|u",
            "my|mine * last|entry|message|price",
            "mailing|guest|shopping list",
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
        return _which(found, slots, desk)
    return _claimed(found[0], member, slots, desk)


def _which(found: list[Standing], slots: Claim, desk: Desk) -> Ask:
    """The question which of several open cases is meant: by item, and by payer where the items are the same."""
    says = "drop me from the {}" if not slots.units else f"put {slots.who or 'me'} down for {slots.units} {{}}"
    items = list(dict.fromkeys(one.case.item for one in found))
    if len(items) > 1:
        return Ask(wording.MANY_OPEN, tuple(Choice(item, says.format(item)) for item in items))
    choices = tuple(
        Choice(wording.whose(one.case, desk.settings), f"{says.format(one.case.item)} from {one.case.payer}")
        for one in found
    )
    return Ask(wording.MANY_OPEN, choices)


def _meant(slots: Claim, desk: Desk) -> list[Standing]:
    """The open splits that a claim can mean: the one replied to, those of its item, else all."""
    if desk.replied_entry is not None:
        opened = opened_in(desk.books, desk.replied_entry)
        if opened and opened.state is State.OPEN and slots.item in (None, opened.case.item):
            return [opened]
    found = [
        one
        for one in open_splits(desk.books)
        if slots.item in (None, one.case.item) and slots.source in (None, one.case.payer)
    ]
    if slots.mode is not Mode.ASKED and len(found) > 1:
        found = [one for one in found if one.units_of(by_name(slots.who, desk))] or found
    return found


def _none_open(slots: Claim, desk: Desk) -> Answer | None:
    items = [one.case.item for one in open_splits(desk.books)]
    if slots.item and items:
        return Answer(wording.none_open_of(slots.item, items))
    lately = closed_since(desk.books, desk.at - _LATELY)
    entries = [entry for one, entry in lately if slots.item in (None, one.case.item)]
    return Answer(wording.OVERTAKEN, offer_take_back=entries[-1]) if entries else None


def _claimed(found: Standing, member: str, slots: Claim, desk: Desk) -> Answer | Ask:
    if member not in desk.group.members:
        return Answer(wording.NOTHING_OPEN)
    for record in desk.said:  # what the same message claimed before
        if isinstance(record, NewClaim) and record.number == found.number:
            found = found.with_claim(record.wanted.member, record.wanted.units or 0)
    before, item = found.units_of(member), found.case.item
    who = "me" if member == desk.speaker else member
    units = _in_all(slots, before, found.left)
    if not before and not units:
        return Answer(wording.has_none(member, item))
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


def _in_all(slots: Claim, before: int, left: int) -> int:
    """What a member then has in all."""
    match slots.mode:
        case Mode.MORE:
            return before + slots.units
        case Mode.LESS:
            return max(0, before - slots.units)
        case Mode.REST:
            return before + left
        case _:
            return slots.units


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
    """A pressed amount: so many in all, for whoever pressed; the split's post shows it, nothing else is said.

    Nothing comes of it where they have as many already.
    """
    number, units = numbers
    found = standing(desk.books, number)
    if found is None:
        return None
    if found.state is not State.OPEN:
        return Answer(wording.OVERTAKEN)
    if units and found.units_of(desk.speaker) == units:
        return None
    given = _claimed(found, desk.speaker, Claim(units, found.case.item, None, Mode.IN_ALL), desk)
    if isinstance(given, Answer) and given.split is not None and found.left and len(given.records) == 1:
        return replace(given, text="")
    return given


KIND = Kind("claim", FORMS, answer, TEACH)
