"""``paid``: someone reports a payment between members."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.reading.amounts import Amount
from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.offers import Choice, Frame, Unclear
from bot.reading.packs import Loose
from bot.reading.spans import Marked
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.shares import wording
from bot.skills.shares.parties import ME
from bot.skills.shares.people import Person, of_items, people_in, side_by_side, sum_in
from bot.skills.shares.sharing import by_name
from bot.skills.shares.standing import balances_now
from core.ledger import Payment, after, postings_of_payment
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Paid:
    """A payment in minor units; "me" is the speaker."""

    payer: str
    payee: str
    amount: int | None
    """None where it was not said."""

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``paid``."""
        amount = None if self.amount is None else currency.plain(self.amount)
        return {"from": self.payer, "to": self.payee, "amount": amount}


def _paid(heard: Heard) -> Sequence[Paid | Unclear]:
    """The payments of a sentence: one, or several that each have their own sum and person."""
    if beside := side_by_side(heard.marked, people_in(heard)):
        return _of_several(heard, beside)
    parts = _parts(heard)
    if len(parts) < 2:
        return _one(heard)
    found = [one for part in parts for one in _one(replace(heard, reach=part))]
    if len(found) == len(parts):
        return found
    first = found[0] if found else None
    return _carried_on(heard, first, parts) if isinstance(first, Paid) else []


def _of_several(heard: Heard, beside: list[Person]) -> Sequence[Paid | Unclear]:
    """The payments of people said in one breath: "Ines and Tobias each gave me 5"."""
    names = [person.name for person in beside]
    amount = sum_in(heard, Frame())
    if heard.asked or _buys(heard) or isinstance(amount, Unclear):
        return []
    other = next((person for person in people_in(heard) if person.name not in names), None)
    gave = _gave_first(heard, beside[0]) or (other is not None and other.at < beside[0].at)
    if amount is None or (other is None and not gave and beside[0].before not in _SOURCES):
        mutual = amount is not None and len(names) == 2 and set(heard.said) & _MUTUAL
        return [_which_way(names, amount, heard)] if mutual else []
    third = other.name if other else ME
    pairs = [(third, name) if gave else (name, third) for name in names]
    if set(heard.said) & _FOR_EACH:
        return [Paid(*pair, amount) for pair in pairs]
    shares = [amount] if amount % len(pairs) else [amount, amount // len(pairs)]
    plain = [heard.marked.settings.currency.plain(share) for share in shares]
    choices = (Choice(f"{share} each", " and ".join(_says(*pair, share) for pair in pairs)) for share in plain)
    return [Unclear(f"{plain[0]} for each of them, or in all?", tuple(choices))]


def _which_way(names: list[str], amount: int | None, heard: Heard) -> Unclear:
    """Asked where two have settled up and nothing says who paid."""
    plain = heard.marked.settings.currency.plain(amount) if amount else "4.20"
    says = [_says(payer, payee, plain) for payer, payee in (names, names[::-1])]
    choices = tuple(Choice(one, one) for one in says) if amount else ()
    return Unclear(f"Who paid whom{'' if amount else ', and how much'}? Say: {says[0]}, or: {says[1]}", choices)


def _says(payer: str, payee: str, plain: str) -> str:
    return f"{payer} paid {payee} {plain}".removeprefix("me ")


_MUTUAL = frozenset("settled settle squared evened even square straight sorted quits".split())
_FOR_EACH = frozenset("each apiece ea both".split())


def _parts(heard: Heard) -> list[tuple[int, int]]:
    """The stretches of a sentence that each hold one sum: "paid Ines 4.20 and Amara 3.10"."""
    marked, (start, end) = heard.marked, heard.reach
    parts: list[tuple[int, int]] = []
    for index in range(start, end + 1):
        if index == end or marked.text_at(index) in ("and", ",", "n", "&"):
            sums = len(_sums(marked, start, index))
            if sums == 1 and (index == end or _sums(marked, index + 1, end)):
                parts.append((start, index))
                start = index + 1
    return parts


def _sums(marked: Marked, start: int, end: int) -> list[int]:
    """Where the sums of a stretch stand, said with or without a point."""
    return [span.start for sort in (Amount, Loose) for span in marked.each(sort, start, end)]


def _carried_on(heard: Heard, first: Paid, parts: list[tuple[int, int]]) -> list[Paid]:
    """Payments that only go on with the first: the same payer to others, or others to the same payee."""
    payments = [first]
    for part in parts[1:]:
        names = [person.name for person in people_in(replace(heard, reach=part))]
        amount = sum_in(replace(heard, reach=part), Frame())
        if len(names) != 1 or names[0] == first.payer or not isinstance(amount, int):
            return []
        payments.append(Paid(first.payer, names[0], amount))
    return payments


def _one(heard: Heard) -> Sequence[Paid | Unclear]:
    pair = _payer_and_payee(heard)
    if pair is None or heard.asked or _buys(heard):
        return []
    payer, payee = pair
    frame = Frame(f"{payer} paid {payee} " if payer != ME else f"paid {payee} ")
    amount = sum_in(heard, frame)
    if amount is None:
        return []
    if isinstance(amount, int) and _is_vague(heard):
        return _without_amount(heard)
    return [amount if isinstance(amount, Unclear) else Paid(payer, payee, amount)]


def _is_vague(heard: Heard) -> bool:
    """True where it stays open how much was paid: "about 5", "4.20 twice", "12, no 10"."""
    marked = heard.marked
    sums = _sums(marked, *heard.reach)
    words = set(heard.said)
    return bool(words & _SEVERAL) or any(marked.text_at(start - 1) in _NEARLY for start in sums)


def _without_amount(heard: Heard) -> Sequence[Paid | Unclear]:
    beside = [person.name for person in side_by_side(heard.marked, people_in(heard))]
    if beside:
        return [_which_way(beside, None, heard)] if len(beside) == 2 and set(heard.said) & _MUTUAL else []
    pair = _payer_and_payee(heard)
    if pair is None:
        return []
    payer, payee = ("you" if name == ME else name for name in pair)
    hole = f"{pair[0]} paid {pair[1]} {{}}".removeprefix("me ")
    question = f"How much did {payer} pay {payee}? Type the amount."
    return [Unclear(question, (), hole, about=Paid(*pair, None), kind="paid")]


def _payer_and_payee(heard: Heard) -> tuple[str, str] | None:
    """Who paid whom: by "from" and "to", else in the order named; the speaker where only one is named."""
    people = _told_apart(people_in(heard))
    if spoken_to := _spoken_to(heard, people):
        return spoken_to
    names = list(dict.fromkeys(person.name for person in people))
    if not names or len(names) > 2 or names == [ME]:
        return None
    first = people[0]
    if len(names) == 1:
        if first.before in _SOURCES:
            return names[0], ME
        if not _subject(heard, first):
            return ME, names[0]
        said = set(heard.said)
        return (names[0], ME) if said & _TO_US else None
    if _gave_first(heard, first):
        return (ME, first.name) if ME in names else None
    source = next((person.name for person in people if person.before in _SOURCES), None)
    target = next((person.name for person in people if person.before in ("to", "with", "w")), None)
    payer = source or (names[1] if target == names[0] else names[0])
    if source is None and target is None and _takes_back(heard, first):
        payer = names[1]
    return payer, names[1] if payer == names[0] else names[0]


def _spoken_to(heard: Heard, people: list[Person]) -> tuple[str, str] | None:
    """Who paid whom where a member is spoken to: "Ines, I gave you 4.20"."""
    marked, start = heard.marked, heard.reach[0]
    words = heard.said
    if not people or people[0].name == ME or people[0].at > start + 1 or not {"you", "u", "your", "ur"} & set(words):
        return None
    after = people[0].at + 1
    called = marked.text_at(after) == "," or marked.text_at(after) in ("i", "ive")
    if not called or {person.name for person in people} - {people[0].name, ME}:
        return None
    subject = next((word for word in words if word in ("i", "ive", "you", "u") or word in _GIVES), "i")
    other = people[0].name
    return (other, ME) if subject in ("you", "u") else (ME, other)


def _gave_first(heard: Heard, first: Person) -> bool:
    """True where the giving is said before anybody, so that the speaker gave: "gave Ines what I owed her"."""
    verbs = [index for index in range(*heard.reach) if heard.marked.text_at(index) in _GIVES]
    return first.name != ME and bool(verbs) and verbs[0] < first.at and first.before not in _SOURCES


def _buys(heard: Heard) -> bool:
    """True where the sum paid right behind the verb is for things counted: "paid 2.64 for 24 sharpeners"."""
    marked = heard.marked
    sums = {span.start for span in marked.each(Amount, *heard.reach)}
    paid = any(marked.text_at(start - 1) in ("paid", "payed", "pd") for start in sums)
    return paid and any(of_items(heard, span.end) for span in marked.each(Loose, *heard.reach))


def _told_apart(people: list[Person]) -> list[Person]:
    """The people, the speaker's "I" left out where two others are named: "I saw it happen"."""
    others = {person.name for person in people if person.name != ME}
    if len(others) != 2:
        return people
    return [person for person in people if not person.speaks or person.before in ("and", "n", "&")]


def _subject(heard: Heard, person: Person) -> bool:
    """True where the only member named stands before the verb."""
    verbs = [index for index in range(*heard.reach) if heard.marked.text_at(index) in _VERBS]
    return bool(verbs) and person.at < verbs[0] and not _takes_back(heard, person)


def _takes_back(heard: Heard, person: Person) -> bool:
    """True where a member has money back, and is thus the one paid: "Ines has my 5 back"."""
    words = [heard.marked.text_at(index) for index in range(person.at + 1, heard.reach[1])]
    if set(words[1:3]) & _HAS_GIVEN:
        return False
    if words[:1] and words[0] in _HAS and words[1:2] and words[1] in _OWN:
        return True
    return bool(set(words[:3]) & _HAS) and ("back" in words or "received" in words)


_HAS_GIVEN = frozenset("given paid payed handed sent repaid returned".split())
_OWN = frozenset("his her their my the".split())
_SOURCES = frozenset(("from", "off", "by"))
_TO_US = frozenset("my us back up square squared settled even transfer cheque check cash share".split())
_GIVES = frozenset("paid payed pd gave sent handed slipped repaid reimbursed returned".split())
_HAS = frozenset("has have got get gets had received".split())
_VERBS = frozenset(
    "paid payed pays pd gave give gives given sent send handed hands slipped transferred transferd bunged passed"
    " settled squared repaid returned put got received has have evened makes square even dropped cashed wired"
    " reimbursed refunded chipped left landed coughed remitted stuck chucked shot brought transfer cheque check money"
    " pressed cleared share".split()
)

_MEMBER = frozenset((Need.MEMBER,))
_VERB_CUES = (
    "paid|payed|pd|gave|sent|is|are paid|sent|given|back|to",
    "paid|payed me|you|him|her|them back",
    "put * bill|note|coins in|into",
    "paid|payed|pd|repaid|pays",
    "have|has give|pay|send",
    "still|he|she|already needed|need|give|get|has",
    "gave|gives|given|handed|hands|slipped|sent|passed|bunged|transferred|transferd|wired|returned|owed|collected",
    "note|record|enter|book|log|write|mark that|down * paid|gave|sent|handed",
    "settle|settled|squared|square|evened|even|settles up|with|w",
    "both|each paid|gave|sent|handed",
    "give|gives|return|returns|pay|pays * back|now|today",
    "return|returns to",
    "each|both from|to",
    "settle|settled|squared * with",
    "has|have|got|get|had * back",
    "got|received * from|off",
    "received from|with",
    "bank transferd|transferred",
    "a payment of",
    "put * in|thru|through",
    "settled by|in",
    "makes it even",
    "reimbursed|refunded|remitted|chucked|shot|chipped|coughed|pressed|brought|stuck|left|dropped",
    "transfer|cheque|check|cash|money|payment|envelope|bill|quid|dollars|bucks * to|from|of|in|into|through|under|with",
    "to|from|in|by|off|cash|part cash|from|payment|transfer|hand",
    "^money|cash|transfer from|to",
    "in|came from",
    "settles|settled|clears|cleared|squares|sorted",
    "went|goes to|from",
    "paid|payed|pd|gave|sent * for",
    "to|toward|towards what * owe",
    "was|were|been paid|reimbursed|given",
    "gotten|had from|off",
    "accepted|reached my|me",
    "^from",
    "for the record",
    "pls|please|kindly note|record|enter|book|write",
    "from|to me|him|her",
    "from * have|got|gotten|had|received",
    "has|have|had|got his|her|their|my",
    "caught|met|saw * gave",
)
_NEARLY = frozenset("about around roughly approximately".split())
_SEVERAL = frozenset("twice couple few no".split())
_PAID = "paid|payed|pd|gave|given|sent"
_NEVER = (
    "did|didnt|does|do|will|would|should|must|can|could|please i|you|u|we|anyone|not|to|someone",
    "dont|didnt|wont|never|cant|couldnt|wouldnt pay|paid|give|gave|send",
    "not|havent|hasnt|hadnt|isnt|wasnt|arent * paid|payed|pay|given|gave|sent|settled|give",
    "wanted|offered|refused|tried|forgot|promised|meant to|the|it",
    "^did|does|do|should|can|could|would|will|shall|may|remind",
    "said|says|thinks i|he|she|that",
    "half|third of",
    "lift|ring|hug|ride|hand at|to|up",
    "bought",
    "need|needs|have|has|going|gonna|must|forgot|want to pay|give|send",
    "ill|will|gonna|lets pay|give|send",
    "if|when i|you|she|he|they pay|pays|gave|give",
    "settled|settle|sorted on",
    "my|his|her|your|our|the|a son|daughter|kids|rent|lunch|dinner|ticket|tickets|taxi|fare",
    "why|who|whos|how",
    "^has|is|are|why|when",
    "owe|owes me|you|him|her|us|them",
    "i|still owe|owes",
    "owes",
    "have you|we|they",
    "think|remember|recall|sure|neither|almost|nearly|wish|wished|imagine|imagined|unless|once * " + _PAID,
    "couldve|wouldve|shouldve|mightve|could|would|should|might|supposed * " + _PAID,
    "thought|dreamt|dreamed|suppose|somebody|someone|nobody|everyone|everybody * " + _PAID,
    "if|when i|you|she|he|they|we * " + _PAID,
    "what if",
    "mom|mum|mother|dad|father|brother|sister|husband|wife|boyfriend|girlfriend|neighbour|neighbor|kid|kids",
    "said|says|thinks|claims|reckons * " + _PAID,
    "for lunch|dinner|breakfast|coffee|coffees|drinks|taxi|parking|petrol|gas|tickets * with|w",
)

FORMS = (
    Form(
        "paid",
        "a payment",
        _paid,
        cues=_VERB_CUES,
        needs=_MEMBER,
        never=(*_NEVER, "you|u|i|he|she|they only|just|still owed|owe"),
        strange=4,
    ),
    Form(
        "paid",
        "a payment without its amount",
        _without_amount,
        cues=(
            "paid|payed|repaid|settled|squared|settle back|up|off|with",
            "paid|payed|repaid * back",
            "^paid|payed|repaid",
            "gave|paid|sent * owed|owe",
        ),
        needs=_MEMBER,
        lacks=frozenset((Need.AMOUNT, Need.COUNT)),
        never=(*_NEVER, "paid|payed for"),
        strange=0,
    ),
)
TEACH = (("paid Ines 4.20", "also: Tobias gave me six bucks"),)


def answer(slots: Paid, desk: Desk) -> Answer | Ask:
    """Book the payment and say where it leaves the two."""
    payer, payee = by_name(slots.payer, desk), by_name(slots.payee, desk)
    if payer == payee:
        return Answer(wording.NOT_TO_ONESELF)
    before = balances_now(desk)
    if slots.amount is None:
        return _how_much(payer, payee, before, desk)
    payment = Payment(payer, payee, slots.amount)
    left = after(before, postings_of_payment(payment))
    text = wording.paid_answer(payment, before, left, desk.settings)
    return Answer(text, (payment,), wording.payment_summary(payment, desk.settings))


def _how_much(payer: str, payee: str, standing: dict[str, int], desk: Desk) -> Ask:
    """The question about a payment without its sum, with what the payer owes as an answer."""
    said = f"{payer} paid {payee} {{}}" if payer != desk.speaker else f"paid {payee} {{}}"
    owed = min(-standing.get(payer, 0), standing.get(payee, 0))
    choices: tuple[Choice, ...] = ()
    if owed > 0:
        plain = desk.settings.currency.plain(owed)
        choices = (Choice(plain, said.replace("{}", plain)),)
    return Ask(wording.how_much(payer, payee, owed, desk.settings), choices, said)


KIND = Kind("paid", FORMS, answer, TEACH)
