"""Fewest payments, against every way to put members into groups that settle among themselves."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.ledger import balances, postings_of_payment
from core.settling import EXACT_UP_TO, fewest_payments, is_exact

amounts = st.lists(st.integers(-12, 12), min_size=0, max_size=7)


def group(values: list[int]) -> dict[str, int]:
    """Balances that add up to nothing: the last member owes what is left over."""
    return {f"m{place}": value for place, value in enumerate([*values, -sum(values)])}


def partitions(members: list[str]) -> Iterator[list[list[str]]]:
    """Every way to put members into groups."""
    if not members:
        yield []
        return
    first, *rest = members
    for smaller in partitions(rest):
        yield [[first], *smaller]
        for place, chosen in enumerate(smaller):
            yield [*smaller[:place], [first, *chosen], *smaller[place + 1 :]]


def least(balance: dict[str, int]) -> int:
    """The fewest payments there are: open balances less the most groups that add up to nothing."""
    members = [name for name, value in balance.items() if value]
    settled = (
        len(groups) for groups in partitions(members) if not any(sum(balance[name] for name in one) for one in groups)
    )
    return len(members) - max(settled)


@given(amounts)
def test_no_way_needs_fewer_payments(values: list[int]) -> None:
    balance = group(values)

    assert len(fewest_payments(balance)) == least(balance)


@given(st.lists(st.integers(-10_000, 10_000), min_size=0, max_size=30))
def test_payments_settle_all_and_move_no_more_than_is_owed(values: list[int]) -> None:
    balance = group(values)

    payments = fewest_payments(balance)

    paid = balances(posting for payment in payments for posting in postings_of_payment(payment))
    assert all(paid.get(name, 0) == -value for name, value in balance.items())
    assert sum(payment.amount for payment in payments) == sum(value for value in balance.values() if value > 0)
    assert all(balance[payment.payer] < 0 < balance[payment.payee] and payment.amount > 0 for payment in payments)
    assert len(payments) <= max(0, sum(map(bool, balance.values())) - 1)


def test_nobody_owing_pays_nothing() -> None:
    assert fewest_payments({"Mei": 0, "Ines": 0}) == []
    assert fewest_payments({}) == []


def test_balances_that_do_not_add_up_are_refused() -> None:
    with pytest.raises(ValueError, match="add up to nothing"):
        fewest_payments({"Mei": 5, "Ines": -4})


def test_the_answer_is_exact_up_to_twelve_open_balances_and_says_where_it_is_not() -> None:
    twelve = group([2**place for place in range(EXACT_UP_TO - 1)])
    thirteen = group([2**place for place in range(EXACT_UP_TO)])

    assert is_exact(twelve)
    assert not is_exact(thirteen)
    assert len(fewest_payments(thirteen)) == EXACT_UP_TO


def test_opposite_balances_do_not_count_towards_the_limit() -> None:
    pairs = {f"{side}{place}": sign * place for place in range(1, 31) for side, sign in (("a", 1), ("b", -1))}

    assert is_exact(pairs)
    assert len(fewest_payments(pairs)) == 30
