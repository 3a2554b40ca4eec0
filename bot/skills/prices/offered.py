"""The slots of a price seen, asked about or paid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.reading.form import Heard, Need
from bot.reading.offers import Frame, Offer, Unclear
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
    "but i wont|dont|didnt|cant|shant",
    "almost|nearly|didnt|dont|wont|never|cant|couldnt|wouldnt buy|bought|get|got|take|pay",
    "didnt|dont|wont|never * buy|bought",
    "gonna|will|wanna|going|planning|want|hoping * buy|get|grab",
    "need|needs|needed",
    "used to be|cost",
    "^if|suppose|imagine",
    "that one time",
    "were we|i|you thinking",
)
"""Words of sharing, of debts, and of what has not happened: a price said with them is no report of a price."""


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
