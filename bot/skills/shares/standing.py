"""The balances as they stand, with what the same message has said before."""

from __future__ import annotations

from bot.skills.answering import Closing, Desk, NewSplit, Record
from bot.storage.ledger import balances
from core.ledger import Debt, Payment, Posting, after, postings_of_debt, postings_of_payment, postings_of_split


def balances_now(desk: Desk) -> dict[str, int]:
    """The balance of each member who has one, in minor units."""
    standing = after(balances(desk.books), [line for record in desk.said for line in _postings(record)])
    return {member: amount for member, amount in standing.items() if amount}


def _postings(record: Record) -> tuple[Posting, ...]:
    match record:
        case Payment():
            return postings_of_payment(record)
        case Debt():
            return postings_of_debt(record)
        case NewSplit() | Closing():
            return postings_of_split(record.split.case.payer, record.split.parts)
        case _:
            return ()
