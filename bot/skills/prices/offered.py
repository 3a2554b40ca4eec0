"""The slots of a price seen, asked about or paid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.reading.amounts import Amount
from bot.reading.form import Heard, Need
from bot.reading.offers import Frame, Offer, Unclear
from bot.reading.packs import Loose
from bot.reading.spans import Marked, Reach
from bot.reading.words import Sort
from bot.skills.household import FOR_ONESELF
from core.counts import Quantity
from core.money import Currency

OFFER = frozenset((Need.AMOUNT, Need.THING))
"""What a price seen, asked about or paid needs."""
MONEY_TALK = (
    "split|splitting|share|sharing",
    "gave|give|gives|lent me|him|her|us|them|you",
    "owe|owes|owed",
    "borrow|lend|loan",
    "paid me|him|her|you back",
    "returned|returning|refund|refunded|sold|donated|donate|donating",
    "nobody|noone wants|want|needs|pays|buys",
    "who pays|paid|buys",
    "gonna|will|wanna|going|planning|want|hoping|might|may|could|thinking * buy|get|grab|pick|buying|getting|grabbing",
    "dont|didnt forget|lose|loose|bin * receipt|receipts",
    "^if|suppose|imagine",
    *FOR_ONESELF,
    "never|havent|hasnt|didnt|cant see|saw|seen|find|found * under|below|less",
    "my|his|her|your * broke|died|cracked|snapped|melted|leaks|leaked|stopped",
    "target is|was|of",
    "fundraising|fundraiser|fundraise|raffle|proceeds",
    "book|plant|bake sale",
    "that one time",
    "good|best|bad luck",
    "luck with",
    "were we|i|you thinking",
)
"""Words of sharing, of debts, of one's own, and of what has not happened: a price said so is no report of a price."""


def unbought(heard: Heard) -> bool:
    """Whether a price is said in one breath with a purchase that did not take place, or is still to come.

    Or it is past: "pens used to be 10 for 0.50". But "12 pencils 0.47 at larkmoor, i didnt buy any" is a price seen.
    """
    marked = heard.marked
    amounts = marked.each(Amount, *heard.reach)
    for index in range(*heard.reach):
        behind = [marked.text_at(at) for at in range(index + 1, index + 4)]
        if marked.text_at(index) == "used" and _is_past(marked, index, len(amounts)):
            return True
        denied = marked.text_at(index) in _DENYING and not _BUYING.isdisjoint(behind)
        missing = denied or marked.text_at(index) in _NEEDING
        if missing and (not amounts or any(marked.each(Amount, *_breath(marked, index)))):
            return True
    return False


def _is_past(marked: Marked, used: int, amounts: int) -> bool:
    """Whether all that is told is what something used to cost, or how many of it were used."""
    if marked.text_at(used + 1) == "to":
        return amounts < 2
    return not amounts and any(True for sort in (Loose, Quantity) for _ in marked.each(sort, used + 1, used + 2))


_DENYING = frozenset("almost nearly didnt dont wont never cant couldnt wouldnt shant".split())
_BUYING = frozenset("buy bought get got take pay".split())
_NEEDING = frozenset("need needs needed".split())
_JOINTS = frozenset(", but tho though".split())


def _breath(marked: Marked, index: int) -> Reach:
    """The part of a sentence, between commas and the like, in which a token stands."""
    joints = [at for at, token in enumerate(marked.tokens) if token.sort is Sort.STOP or token.text in _JOINTS]
    return max((at for at in joints if at < index), default=0), min(
        (at for at in joints if at > index), default=len(marked.tokens)
    )


@dataclass(frozen=True, slots=True)
class Offered:
    """A price as reported or asked about."""

    offer: Offer

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``price`` and ``check``."""
        offer = self.offer
        slots: dict[str, object] = {
            "item": offer.item,
            "count": offer.count,
            "price": currency.plain(offer.price),
            "store": offer.store,
            "seen_on": offer.seen_on.isoformat() if offer.seen_on else None,
            "regular": None if offer.regular is None else currency.plain(offer.regular),
            "until": offer.until.isoformat() if offer.until else None,
            "limit": offer.limit,
        }
        return {name: value for name, value in slots.items() if value is not None}


def offered(heard: Heard, frame: Frame) -> Sequence[Offered | Unclear]:
    """The offers of a stretch, on the day of the message where no day is said."""
    today = heard.marked.today
    return [
        found if isinstance(found, Unclear) else Offered(replace(found, seen_on=found.seen_on or today))
        for clause in heard.clauses
        for found in clause.offers(frame)
    ]
