"""The ledger: every entry is balanced, and a member's balance is what the entries add up to."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from core.ledger import (
    Debt,
    LedgerLine,
    Payment,
    Posting,
    UnbalancedError,
    after,
    balanced,
    balances,
    postings_of_debt,
    postings_of_payment,
    postings_of_split,
    since_square,
)
from core.shares import Part

AT = datetime(2026, 8, 3, tzinfo=UTC)


def lines(*amounts: int) -> list[LedgerLine]:
    return [LedgerLine(AT, f"entry {place}", amount) for place, amount in enumerate(amounts)]


def test_a_split_owes_the_payer_what_the_others_had() -> None:
    parts = (Part("Mei", 48, 420), Part("Ines", 48, 420), Part("Tobias", 48, 420))

    # 12.60 paid, 4.20 of it her own
    assert balances(postings_of_split("Mei", parts)) == {"Mei": 840, "Ines": -420, "Tobias": -420}


def test_a_split_for_oneself_owes_nobody() -> None:
    assert postings_of_split("Mei", [Part("Mei", 144, 1260)]) == ()


def test_a_payer_without_a_part_is_owed_all() -> None:
    assert balances(postings_of_split("Amara", [Part("Ines", 12, 100)])) == {"Amara": 100, "Ines": -100}


def test_a_payment_settles_a_debt() -> None:
    owed = postings_of_debt(Debt("Mei", "Ines", 420))
    paid = postings_of_payment(Payment("Mei", "Ines", 420))

    assert set(balances([*owed, *paid]).values()) == {0}


def test_an_entry_that_does_not_add_up_is_refused() -> None:
    with pytest.raises(UnbalancedError):
        balanced([Posting("Mei", 420), Posting("Ines", -419)])


def test_postings_go_on_top_of_balances() -> None:
    assert after({"Mei": -420, "Ines": 420}, postings_of_payment(Payment("Mei", "Ines", 100))) == {
        "Mei": -320,
        "Ines": 320,
    }


def test_the_lines_behind_a_balance_reach_back_to_where_it_was_nothing() -> None:
    # newest first: -420 now, from 0 after 300 and -300
    told, before = since_square(-420, lines(-120, -300, 300, -300))

    assert [line.amount for line in told] == [-300, -120]
    assert before == 0


def test_what_came_before_the_lines_is_left_over() -> None:
    told, before = since_square(-420, lines(-120, -100))

    assert [line.amount for line in told] == [-100, -120]
    assert before == -200


def test_a_square_member_has_no_lines() -> None:
    assert since_square(0, lines(-120, 120)) == ([], 0)
