"""``debt``: someone says that one owes another; it is booked only where that is asked for in so many words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from bot.reading.amounts import Amount
from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.offers import Choice, Frame, Unclear
from bot.skills.answering import Answer, Desk
from bot.skills.shares import wording
from bot.skills.shares.parties import ME
from bot.skills.shares.people import people_in, sum_in
from bot.skills.shares.sharing import by_name
from bot.skills.shares.standing import balances_now
from core.ledger import Debt, after, postings_of_debt
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Owed:
    """What one owes another, in minor units; "me" is the speaker."""

    debtor: str
    creditor: str
    amount: int
    why: str = ""

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots: who owes whom, how much, what for."""
        slots = {"from": self.debtor, "to": self.creditor, "amount": currency.plain(self.amount)}
        return {**slots, "what": self.why} if self.why else {**slots}


def _owed(heard: Heard) -> Owed | Unclear | None:
    people = list(dict.fromkeys(person.name for person in people_in(heard)))
    if len(people) == 1 and people[0] != ME and heard.marked.text_at(heard.reach[0]) in _OF_THE_SPEAKER:
        people = [ME, *people]
    if len(people) != 2:
        return None
    words = heard.said
    if ("you", "owe") in pairwise(words):
        people.sort(key=lambda name: name == ME)
    if set(words) & _LENDS:
        people.reverse()
    amount = sum_in(heard, Frame(f"book {people[0]} owes {people[1]} "), _BESIDE)
    if amount is None or isinstance(amount, Unclear):
        return amount
    return Owed(people[0], people[1], amount, _why(heard))


def _why(heard: Heard) -> str:
    marked = heard.marked
    amounts = {span.start for span in marked.each(Amount, *heard.reach)}
    said = [index for index in range(*heard.reach) if marked.text_at(index) == "for" and index + 1 not in amounts]
    return marked.said(said[0] + 1, heard.reach[1]).strip(" .!") if said else ""


def _booked(heard: Heard) -> Sequence[Owed | Unclear]:
    owed = _owed(heard)
    return [owed] if owed else []


def _stated(heard: Heard) -> Sequence[Owed | Unclear]:
    """A statement is asked about, never booked."""
    owed = _owed(heard)
    if owed is None or isinstance(owed, Unclear):
        return [owed] if owed else []
    amount = heard.marked.settings.currency.plain(owed.amount)
    why = f" for {owed.why}" if owed.why else ""
    names = [heard.speaker if name == ME and heard.speaker else name for name in (owed.debtor, owed.creditor)]
    said = f"{names[0]} owes {names[1]} {amount}{why}"
    return [
        Unclear(
            f"Shall I book that {said}? (A shared case books itself; a payment is said as: paid Ines 4.20)",
            (Choice("Book it", f"book that {said}"), Choice("Leave it", "")),
        )
    ]


_LENDS = frozenset("lent loaned".split())
_OF_THE_SPEAKER = frozenset("owe still lent loaned borrowed".split())
_BESIDE = frozenset("owe owes me him her exactly about lent loaned borrowed".split())
_OWES = "owe|owes|owing|debt"

FORMS = (
    Form(
        "debt",
        "book that one owes another",
        _booked,
        cues=("^book|enter * " + _OWES, "please|pls|kindly|clerk * book|enter * " + _OWES),
        never=("why|what|who",),
        strange=3,
    ),
    Form(
        "debt",
        "one owes another",
        _stated,
        cues=(
            _OWES,
            "must|should|gotta pay|give",
            "have|has|need|needs to pay|give",
            "lent|loaned",
            "borrowed * from|off",
        ),
        never=(
            "why|what|whats|who|whos|how|does|do|is|are|did",
            _OWES + " * coffee|coffees|pint|lunch|favour|favor|cake|apology|thank|one|big",
            "says|said|say|says",
            "book|enter that",
            "dont|doesnt|didnt|not|never|no * " + _OWES,
            "id|hed|shed|youd|theyd|would|might|could * " + _OWES,
            "half|third of",
            "think|thought|reckon|suppose|if * " + _OWES,
        ),
        strange=3,
    ),
)
TEACH = (("book that Tobias owes Ines 3.00 for stamps", "any other debt"),)


def answer(slots: Owed, desk: Desk) -> Answer:
    """Book the debt and say where it leaves the two."""
    debt = Debt(by_name(slots.debtor, desk), by_name(slots.creditor, desk), slots.amount, slots.why)
    if debt.debtor == debt.creditor:
        return Answer(wording.NOT_TO_ONESELF)
    left = after(balances_now(desk), postings_of_debt(debt))
    return Answer(wording.debt_answer(debt, left, desk.settings), (debt,), wording.debt_summary(debt, desk.settings))


KIND = Kind("debt", FORMS, answer, TEACH)
