"""``split``: someone shares out a bulk case, or opens one for members to take parts of."""

from __future__ import annotations

from bot.reading.form import Form, Need
from bot.reading.kind import Kind
from bot.skills.answering import OPENED, Answer, Ask, Desk
from bot.skills.judging import unknown_item, unknown_member
from bot.skills.shares import wording
from bot.skills.shares.parties import Parties
from bot.skills.shares.sharing import by_name, share_last, share_stated
from bot.skills.shares.sharing_said import Sharing, handed_out, last_shared, opened, parties_said, shared
from core.money import Currency
from core.shares import Case, Offer

_SPLITS = (
    "split|splits|splitting|splittin|splt|splited|splitted|spilt|slit",
    "share|shared|sharing|shares",
    "divide|divided|divides|dividing|divid|divvy|divvying|apportion|apportioned",
    "halve|halves|halving|halfsies|halvsies",
    "half|halfs half|with|each|me",
    "go|going * in|into thirds|quarters|half",
    "go|going thirds|quarters",
    "go|going|went in|halves|shares|halfsies with",
    "go|going half|halfs on",
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
    "last year|week|month|time|summer|christmas",
    "on|in|of|off|from the|that|this * split|case",
    "^is|are",
    "banana|hair split|splits",
    "add me|us|him|her",
    "down the middle",
    "split myself|pants|trousers|up|into|second|ends",
    "cant|dont|didnt|wont|never split|share",
    "lets|should|shall we|us split",
    "lets|rather|prefer|better not * split|share",
    "could|would|should|might have|ve * split|shared",
    "refuses|refused|refusing|declined|declines to * split|share",
    "for free",
)

_NOT_STATED = (
    *_NEVER,
    "why|how|when|did|does|do|who|didnt * split|share|divide|splitting|shared",
    "^if|maybe|perhaps",
    "if i|we",
    "do|will you * split|share|want",
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
    "open split|for|to|until|till|case|order",
    "open a|the * split|case|order",
    "split|splits open",
    "split is open",
    "opening|starting a * split|case|order",
    "up for grabs",
    "taking orders|claims|requests|names",
    "anyone|everyone|everybody can|to ask",
    "how many youd|ye|yall",
    "others|any * want|like some|too|one|in",
    "speak up if",
    "replies|answers by",
    "minimum|min * subscribed|taken|spoken|wanted",
    "someone|anyone|somebody|anybody|who split|share|splits|shares",
    "if others|anyone|anybody|you would|wants|want",
)

FORMS = (
    Form("split", "a case open for all", opened, cues=_ASKING, never=_NEVER, whole=True, strange=4),
    Form(
        "split",
        "the last purchase shared out",
        last_shared,
        cues=_SPLITS,
        never=_NOT_STATED,
        lacks=_PRICED,
        whole=True,
        strange=1,
        leaves=_BOUGHT,
    ),
    Form("split", "a case shared out", shared, cues=_SPLITS, never=_NOT_STATED, whole=True, strange=3),
    Form(
        "split",
        "a case and who has how much",
        handed_out,
        cues=_CASES,
        never=_NOT_STATED,
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
        return share_last(slots, _parties_of(slots), desk)
    if ask := unknown_item(slots.case.item, says, desk):
        return ask
    stated = slots.case
    case = Case(stated.item, stated.count, stated.total, by_name(slots.payer, desk), stated.store)
    if slots.open:
        offer = Offer(case, slots.least, slots.closes_at, slots.kept)
        return Answer("", (offer,), wording.offer_summary(case, desk.settings), split=OPENED)
    return share_stated(case, slots.members, says, desk, None)


def _parties_of(slots: Sharing) -> str:
    return parties_said(Parties(slots.members, slots.payer))


def _says(slots: Sharing, currency: Currency) -> str:
    """The sharing as a message that reads as the same."""
    said = slots.case.said_again(currency) if slots.case else f"the {slots.item}" if slots.item else "that"
    if slots.open:
        return f"{slots.payer or 'i'} can get {said}, who wants some?"
    return f"split {said} {_parties_of(slots)}"


KIND = Kind("split", FORMS, answer, TEACH)
