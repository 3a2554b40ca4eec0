"""The ledger: double entry, in minor units; above zero is owed to a member, below zero a member owes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime

from core.shares import Part


class UnbalancedError(ValueError):
    """The postings of an entry do not add up to nothing."""


@dataclass(frozen=True, slots=True)
class Posting:
    """What an entry adds to a member's balance."""

    member: str
    amount: int


@dataclass(frozen=True, slots=True)
class Payment:
    """Money that goes from one member to another."""

    payer: str
    payee: str
    amount: int


@dataclass(frozen=True, slots=True)
class Debt:
    """Money that one member owes another for something outside the other books."""

    debtor: str
    creditor: str
    amount: int
    why: str = ""


@dataclass(frozen=True, slots=True)
class LedgerLine:
    """An entry as one member sees it: what it was, and what it added to the member's balance."""

    at: datetime
    summary: str
    amount: int


def postings_of_split(payer: str, parts: Iterable[Part]) -> tuple[Posting, ...]:
    """The payer is owed what the others had: 3 parts of $4.20, one the payer's own, are +8.40, -4.20, -4.20."""
    parts = tuple(parts)
    total = sum(part.amount for part in parts)
    return balanced([Posting(payer, total), *(Posting(part.member, -part.amount) for part in parts)])


def postings_of_payment(payment: Payment) -> tuple[Posting, ...]:
    """Whoever pays is owed more, whoever is paid less."""
    return balanced([Posting(payment.payer, payment.amount), Posting(payment.payee, -payment.amount)])


def postings_of_debt(debt: Debt) -> tuple[Posting, ...]:
    """The creditor is owed more, the debtor less."""
    return balanced([Posting(debt.creditor, debt.amount), Posting(debt.debtor, -debt.amount)])


def balanced(postings: Iterable[Posting]) -> tuple[Posting, ...]:
    """The postings, one a member, those of nothing left out. Raises UnbalancedError."""
    sums = balances(postings)
    if sum(sums.values()):
        raise UnbalancedError(str(sums))
    return tuple(Posting(member, amount) for member, amount in sums.items() if amount)


def balances(postings: Iterable[Posting]) -> dict[str, int]:
    """The balance of each member, by adding up."""
    sums: dict[str, int] = {}
    for posting in postings:
        sums[posting.member] = sums.get(posting.member, 0) + posting.amount
    return sums


def after(before: Mapping[str, int], postings: Iterable[Posting]) -> dict[str, int]:
    """Balances with some postings added to them."""
    return balances([*(Posting(member, amount) for member, amount in before.items()), *postings])


def since_square(balance: int, newest: Iterable[LedgerLine]) -> tuple[list[LedgerLine], int]:
    """A member's lines since the balance last was nothing, oldest first, and the balance before them.

    ``newest`` are the lines that led to ``balance``, newest first; where they do not reach back to nothing,
    what came before them is left over.
    """
    lines: list[LedgerLine] = []
    for line in newest:
        if not balance:
            break
        lines.append(line)
        balance -= line.amount
    return lines[::-1], balance
