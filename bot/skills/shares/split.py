"""``split``: someone shares out a bulk case, or opens one for members to take parts of."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.offers import Choice, Frame, Unclear, coins_or_notes
from bot.reading.packs import Loose
from bot.skills.answering import OPENED, Answer, Ask, Desk
from bot.skills.judging import unknown_item, unknown_member
from bot.skills.shares import wording
from bot.skills.shares.cases import Stated, case_in, plain_price
from bot.skills.shares.opening import terms_in
from bot.skills.shares.parties import ME, Parties, Party, parties_in
from bot.skills.shares.sharing import by_name, share_last, share_stated
from bot.wording.things import listed, plural
from core.counts import Quantity
from core.money import Currency
from core.shares import Case, Offer, Wanted


@dataclass(frozen=True, slots=True)
class Sharing:
    """A case shared out among ``members``; without a case, the last purchase is; with no members it is open."""

    case: Stated | None
    members: tuple[Party, ...] = ()
    payer: str | None = None
    item: str | None = None
    least: int | None = None
    closes_at: datetime | None = None

    @property
    def open(self) -> bool:
        """True for a case that members may ask for parts of."""
        return not self.members

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``split``; the rest is worked out where the case is stated."""
        slots: dict[str, object] = {"item": self.case.item if self.case else self.item}
        if self.case:
            slots |= {"count": self.case.count, "total": currency.plain(self.case.total)}
        slots["payer"] = self.payer
        slots = {name: value for name, value in slots.items() if value is not None}
        return {**slots, "members": [{"name": one.member, "units": one.units} for one in self.shown()]}

    def shown(self) -> list[Wanted]:
        """The members with their units, the rest as a number where the count is known."""
        left = (self.case.count if self.case else 0) - sum(party.units or 0 for party in self.members)
        resting = sum(party.rest for party in self.members)
        return [
            Wanted(party.name, left // resting if party.rest and self.case else party.units) for party in self.members
        ]


def _split(heard: Heard) -> Sequence[Sharing | Unclear]:
    parties = parties_in(heard)
    frame = Frame("split ", f" {parties_said(parties)}" if parties.takers else "")
    case = case_in(heard, parties.tokens, frame)
    if isinstance(case, Unclear):
        return [case]
    if case is None:
        return []
    if question := _faulty(case, parties, heard):
        return [question]
    return [Sharing(case, parties.takers, parties.payer)]


def _handed_out(heard: Heard) -> Sequence[Sharing | Unclear]:
    """A case without a word of sharing, where at least two have their units or the rest."""
    parties = parties_in(heard)
    told = [party for party in parties.takers if party.units or party.rest]
    if len(told) < 2 or len(told) != len(parties.takers):
        return []
    return _split(heard) or _of_last(heard)


_THINGS = frozenset("it that this them those these".split())


def _of_last(heard: Heard) -> Sequence[Sharing | Unclear]:
    """The last purchase shared out: "split that with Ines"."""
    parties = parties_in(heard)
    said = {heard.marked.text_at(index) for index in range(*heard.reach)}
    items = named(heard.marked, heard.reach, NameSort.ITEM)
    if items and plain_price(heard.marked, heard.reach) is not None:
        return []
    if items and (counted := _count_beside(heard, items[0].start)):
        frame = Frame(f"split {counted} {items[0].value.name} ", f" {parties_said(parties)}")
        if number := _bare_price(heard, parties, counted):
            return [coins_or_notes(number, heard.marked.settings.currency, frame)]
        return [
            Unclear(f"What did the {counted} {plural(items[0].value.name)} cost in all? Type it.", (), frame.says("{}"))
        ]
    if items and said & _CONTAINERS and said & _ARTICLES and not said & _THINGS:
        example = f"split 144 {items[0].value.name} 12.60 {parties_said(parties)}"
        return [Unclear(f"How many are in the case, and what did it cost? Say it so: {example}")]
    pointed = heard.reach[0] > 0 or bool(said & _POINTS) or items
    if not parties.takers or not pointed:
        return []
    if parties.takers == (Party(ME),) or len(items) > 1:
        return []
    return [Sharing(None, parties.takers, parties.payer, items[0].value.name if items else None)]


def _bare_price(heard: Heard, parties: Parties, counted: int) -> int | None:
    """The one number besides the count that may be a price without its point."""
    loose = [span for span in heard.marked.each(Loose, *heard.reach) if span.start not in parties.tokens]
    numbers = [span.value.units for span in loose if span.value.units != counted]
    return numbers[0] if len(numbers) == 1 else None


def _count_beside(heard: Heard, start: int) -> int | None:
    """The units counted right before an item."""
    marked = heard.marked
    loose = [(span.end, span.value.units) for span in marked.each(Loose, *heard.reach)]
    packs = [(span.end, span.value.units) for span in marked.each(Quantity, *heard.reach)]
    return next((units for end, units in [*loose, *packs] if end == start and units), None)


_POINTS = _THINGS | frozenset("last ones one lot purchase what thing above foregoing".split())
_CONTAINERS = frozenset("case box carton crate".split())
_ARTICLES = frozenset(("a", "an"))


def parties_said(parties: Parties) -> str:
    """The takers as a message says them again."""
    if all(party.units is None and not party.rest for party in parties.takers):
        paid = f", paid by {parties.payer}" if parties.payer else ""
        return f"between {listed(parties.names)}{paid}"
    said = [f"{party.name} {'the rest' if party.rest else party.units or ''}".strip() for party in parties.takers]
    return f": {', '.join(said)}" + (f", paid by {parties.payer}" if parties.payer else "")


def _faulty(case: Stated, parties: Parties, heard: Heard) -> Unclear | None:
    """What is wrong with the parts of a stated case, or missing; None where nothing is."""
    said = case.said_again(heard.marked.settings.currency)
    takers = parties.takers
    units = [party for party in takers if party.units]
    stated = sum(party.units or 0 for party in units)
    if stated > case.count:
        each = listed([f"{party.name} {party.units}" for party in units])
        return Unclear(
            f"{each} make {stated}, but there are only {case.count}. Say it again with less, such as:"
            f" split {case.count} {plural(case.item)}: {units[0].name} {case.count // 2}, the rest me"
        )
    everyone = Choice("Everyone equally", f"split {said} between all of us")
    offered = Choice("Open it to all", f"i can get {said}, who wants some?")
    if parties.ways and parties.ways != len(takers):
        if not takers and parties.ways == len(heard.members):
            return None
        return Unclear(
            f"Which {parties.ways} share it? Say their names, such as: split {said} between {_such_as(heard)}"
        )
    if not takers:
        return Unclear(
            f"Who shares it? Say the names, such as: split {said} between {_such_as(heard)}", (everyone, offered)
        )
    return None


def _such_as(heard: Heard) -> str:
    others = [name for name in heard.members if name != heard.speaker][:2]
    return listed([ME, *others])


def _opened(heard: Heard) -> Sequence[Sharing | Unclear]:
    terms = terms_in(heard)
    parties = parties_in(heard)
    payers = frozenset(index for index in parties.tokens if parties.payer)
    frame = Frame("i can get ", ", who wants some?")
    case = case_in(heard, terms.tokens | payers, frame)
    if case is None or isinstance(case, Unclear):
        return [case] if case else []
    return [Sharing(case, (), parties.payer, None, terms.least, terms.closes_at)]


_SPLITS = (
    "split|splits|splitting|splittin|splt|splited|splitted",
    "share|shared|sharing|shares",
    "divide|divided|divides|dividing|divid|divvy|divvying|apportion|apportioned",
    "halve|halves|halving|halfsies|halvsies",
    "half|halfs half|with|each|me",
    "go|going * in|into thirds|quarters|half",
    "go|going thirds|quarters",
    "go|going|went in|halves|shares|halfsies with",
    "halves|halfs|halfsies",
    "chop|cut|dish|deal it|them|that|this|out",
    "of us * gets|get",
    "equal parts|shares",
    "apportionment|allocate|allocated|allot",
    "everybody|everyone|all|everybodys|everyones * in on|shares|share",
    "make|buy|take * together",
    "half mine|me|his|hers",
    "go|going * ways|way",
    "put that|this|it on * all|us|everyone|everybody",
    "charge * equally|to",
    "you|me|us go half|halves",
)
_CASES = (
    "case|carton|crate|box|gross|lot",
    "whats|what left",
    "takes|gets|has|wants|having",
    "to have",
    "rest|remainder|remaining",
    "last|just box|lot|case|bought|put|purchase",
    "are mine|for",
)
_NEVER = (
    "her|his|my|their|your share|part|bit",
    "split myself|pants|trousers|up|into|second|ends",
    "cant|dont|didnt|wont|never split|share",
    "lets|should|shall we|us split",
)

_BOUGHT = frozenset("bought purchased got grabbed picked".split())

_PRICED = frozenset((Need.AMOUNT,))
_ASKING = (
    "who|whos|whoever|anyone|anybody|somebody|someone * want|wants|need|needs|interested|interest|in|up|join|like",
    "who|whos|whoever|anyone|anybody|somebody|someone * care|some|share|game",
    "any interest|takers|buyers",
    "any|would of you * care|like|want",
    "who|anyone|anybody * go in",
    "takers",
    "any|have interest",
    "how many you|u * want|need|like|wish|require",
    "tell|state|say|write how|number|your|the many|quantities|quantity",
    "open to all|everyone|anyone",
    "opening a|the * case|order|split",
    "hmu|shout|lmk|holler if",
    "whos|who in|game|up",
    "want|wants in",
    "join please|me",
    "claims until|by|till",
    "offer to the group",
    "others|any * want|like some|too|one|in",
    "speak up if",
    "replies|answers by",
    "minimum|min * subscribed|taken|spoken|wanted",
    "someone|anyone|somebody|anybody|who split|share|splits|shares",
    "if others|anyone|anybody|you would|wants|want",
)

FORMS = (
    Form("split", "a case open for all", _opened, cues=_ASKING, never=_NEVER, whole=True, strange=4),
    Form(
        "split",
        "the last purchase shared out",
        _of_last,
        cues=_SPLITS,
        never=_NEVER,
        lacks=_PRICED,
        whole=True,
        strange=1,
        leaves=_BOUGHT,
    ),
    Form("split", "a case shared out", _split, cues=_SPLITS, never=_NEVER, whole=True, strange=3),
    Form(
        "split",
        "a case and who has how much",
        _handed_out,
        cues=_CASES,
        never=_NEVER,
        whole=True,
        strange=3,
        leaves=_BOUGHT,
    ),
)
TEACH = (
    ("split 144 sharpeners 12.60 between me, Ines and Tobias", "a case shared to the cent"),
    ("I can get 200 bar soaps for 31.00, who wants some?", "others then ask for their part"),
)


def answer(slots: Sharing, desk: Desk) -> Answer | Ask:
    """Share out the case, or open it; names that nobody knows are asked about first."""
    says = _says(slots, desk.settings.currency)
    for name in dict.fromkeys((*(party.name for party in slots.members), slots.payer)):
        if ask := unknown_member(by_name(name, desk), says, desk):
            return ask
    if slots.case is None:
        return share_last(slots.members, slots.item, _parties_of(slots), desk)
    if ask := unknown_item(slots.case.item, says, desk):
        return ask
    stated = slots.case
    case = Case(stated.item, stated.count, stated.total, by_name(slots.payer, desk), stated.store)
    if slots.open:
        offer = Offer(case, slots.least, slots.closes_at)
        return Answer("", (offer,), wording.offer_summary(case, desk.settings), split=OPENED)
    return share_stated(case, slots.members, says, desk, None)


def _parties_of(slots: Sharing) -> str:
    return parties_said(Parties(slots.members, slots.payer))


def _says(slots: Sharing, currency: Currency) -> str:
    """The sharing as a message that reads as the same."""
    said = slots.case.said_again(currency) if slots.case else f"the {slots.item}" if slots.item else "that"
    if slots.open:
        return f"i can get {said}, who wants some?"
    return f"split {said} {_parties_of(slots)}"


KIND = Kind("split", FORMS, answer, TEACH)
