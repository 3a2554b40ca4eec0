"""Fewest payments that settle all balances."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from core.ledger import Payment

EXACT_UP_TO = 12
"""Open balances, pairs of opposite ones not counted, up to which the number of payments is the least there is."""


def fewest_payments(balances: Mapping[str, int]) -> list[Payment]:
    """Payments after which every balance is nothing; balances in minor units must add up to nothing.

    The least number of payments is that of the open balances less the most groups of them that each add up
    to nothing (Verhoeff, Informatics in Education 3, 2004): a group of n needs n - 1. Two opposite balances
    are always such a group. Past EXACT_UP_TO others, the rest counts as one group: at most one payment fewer
    than there are open balances, maybe more than the least. No more money moves than is owed.
    """
    if sum(balances.values()):
        raise ValueError("balances must add up to nothing")
    pairs, rest = _opposites(sorted(balances.items(), key=lambda one: (-abs(one[1]), one[0])))
    groups = _most_groups(rest) if len(rest) <= EXACT_UP_TO else [rest]
    payments = [payment for group in [*pairs, *groups] for payment in _settle(group)]
    return sorted(payments, key=lambda payment: (payment.payer, -payment.amount, payment.payee))


def is_exact(balances: Mapping[str, int]) -> bool:
    """True where ``fewest_payments`` gives the least number there is."""
    return len(_opposites(list(balances.items()))[1]) <= EXACT_UP_TO


Balance = tuple[str, int]


def _opposites(balances: Sequence[Balance]) -> tuple[list[list[Balance]], list[Balance]]:
    """Pairs of opposite balances, and the open balances left."""
    pairs: list[list[Balance]] = []
    rest: list[Balance] = []
    for member, amount in balances:
        match = next((one for one in rest if one[1] == -amount), None)
        if match:
            rest.remove(match)
            pairs.append([match, (member, amount)])
        elif amount:
            rest.append((member, amount))
    return pairs, rest


def _most_groups(balances: Sequence[Balance]) -> list[list[Balance]]:
    """The balances in as many groups as can be that each add up to nothing.

    ``most[chosen]`` is the most groups that members can leave the set ``chosen`` (a bit each) in, if they are
    taken out one by one: one more whenever those left add up to nothing.
    """
    size = len(balances)
    sums, most, taken = [0] * (1 << size), [0] * (1 << size), [0] * (1 << size)
    for chosen in range(1, 1 << size):
        low = (chosen & -chosen).bit_length() - 1
        sums[chosen] = sums[chosen & (chosen - 1)] + balances[low][1]
        best = -1
        for index in range(size):
            if chosen >> index & 1 and most[chosen ^ 1 << index] > best:
                best, taken[chosen] = most[chosen ^ 1 << index], index
        most[chosen] = best + (sums[chosen] == 0)
    groups: list[list[Balance]] = []
    chosen = (1 << size) - 1
    while chosen:
        if sums[chosen] == 0:
            groups.append([])
        groups[-1].append(balances[taken[chosen]])
        chosen ^= 1 << taken[chosen]
    return groups


def _settle(group: Sequence[Balance]) -> list[Payment]:
    """At most one payment fewer than members: the largest debt goes to the largest credit, and so on."""
    open_ = {member: amount for member, amount in group if amount}
    payments: list[Payment] = []
    while open_:
        payer = min(open_, key=lambda member: (open_[member], member))
        payee = min(open_, key=lambda member: (-open_[member], member))
        amount = min(-open_[payer], open_[payee])
        payments.append(Payment(payer, payee, amount))
        for member, change in ((payer, amount), (payee, -amount)):
            open_[member] += change
            if not open_[member]:
                del open_[member]
    return payments
