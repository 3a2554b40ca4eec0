"""The ledger on both databases: balances run along, reversals delete nothing, and everything adds up."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import func, select

from bot.storage import entries, ledger, shares
from bot.storage.books import Books, Database
from bot.storage.group import member
from bot.storage.tables import members, postings
from core.group import Group
from core.ledger import Debt, Payment, Posting, UnbalancedError, postings_of_debt, postings_of_payment
from core.shares import Case, Split, Wanted, parts_of
from tests.added_up import added_up

AT = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)
NAMES = ("Mei", "Tobias", "Ines", "Amara")
DAY = AT.date()


def entry(books: Books, summary: str = "a payment") -> int:
    return entries.new_entry(books, "Mei", AT, summary)


def pays(books: Books, payer: str, payee: str, amount: int) -> int:
    """A payment of minor units under an entry of its own; its number."""
    number = entry(books, f"{payer} paid {payee} {amount}")
    ledger.post(books, number, postings_of_payment(Payment(payer, payee, amount)))
    return number


def test_balances_run_along(books: Books) -> None:
    pays(books, "Mei", "Tobias", 420)
    pays(books, "Tobias", "Mei", 120)

    assert ledger.balances(books) == {"Mei": 300, "Tobias": -300}
    assert added_up(books) == {"Mei": 300, "Tobias": -300}


def test_a_square_group_has_no_balances(books: Books) -> None:
    pays(books, "Mei", "Tobias", 420)
    pays(books, "Tobias", "Mei", 420)

    assert ledger.balances(books) == {}


def test_taking_back_reverses_and_deletes_nothing(books: Books) -> None:
    number = pays(books, "Mei", "Tobias", 420)
    entries.undo(books, number, "Tobias", AT)

    rows = books.connection.execute(select(postings.c.amount, postings.c.reverses).order_by(postings.c.id)).all()
    assert [tuple(row) for row in rows] == [(420, False), (-420, False), (-420, True), (420, True)]
    assert ledger.balances(books) == {}


def test_an_entry_that_does_not_add_up_is_refused(books: Books) -> None:
    with pytest.raises(UnbalancedError):
        ledger.post(books, entry(books), [Posting("Mei", 420), Posting("Tobias", -419)])


def test_an_unknown_member_is_refused(books: Books) -> None:
    with pytest.raises(KeyError, match="Rosa"):
        pays(books, "Mei", "Rosa", 420)


def test_lines_are_those_not_taken_back_newest_first(books: Books) -> None:
    pays(books, "Mei", "Tobias", 100)
    entries.undo(books, pays(books, "Mei", "Tobias", 200), "Mei", AT)
    pays(books, "Tobias", "Mei", 300)

    lines = ledger.lines_of(books, "Mei", 10)
    assert [(line.summary, line.amount) for line in lines] == [
        ("Tobias paid Mei 300", -300),
        ("Mei paid Tobias 100", 100),
    ]
    assert len(ledger.lines_of(books, "Mei", 1)) == 1


Step = tuple[str, int, int, int]
steps = st.lists(
    st.tuples(
        st.sampled_from(["split", "pay", "owe", "undo"]), st.integers(0, 3), st.integers(0, 3), st.integers(1, 9999)
    ),
    max_size=12,
)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(steps)
def test_any_sequence_keeps_the_ledger_at_nothing(database: Database, packers: Group, steps: list[Step]) -> None:
    chat = f"chat of {hash(tuple(steps))}"
    database.found(chat, packers)
    with database.open(chat) as books:
        for name in NAMES:
            member(books, name, None)
        made: list[int] = []
        for step in steps:
            take(books, step, made)

            balance = ledger.balances(books)
            assert sum(balance.values()) == 0
            assert balance == added_up(books)
    with database.open(chat) as books:
        for number in made:
            entries.undo(books, number, "Mei", AT)
        assert ledger.balances(books) == {}


def take(books: Books, step: Step, made: list[int]) -> None:
    """Do one step: share a case, pay, owe, or take an earlier entry back."""
    kind, one, other, amount = step
    first, second = NAMES[one], NAMES[other]
    if kind == "undo":
        if made:
            entries.undo(books, made[amount % len(made)], first, AT)
        return
    number = entry(books)
    made.append(number)
    if kind == "split":
        case = Case("pencil", 1 + amount % 200, amount, first)
        wanted = [Wanted(first, 1), Wanted(second, 0)]
        shares.add_split(books, number, Split(case, parts_of(case, wanted), DAY), None)
    elif kind == "pay":
        ledger.post(books, number, postings_of_payment(Payment(first, second, amount)))
    else:
        ledger.post(books, number, postings_of_debt(Debt(first, second, amount)))


def test_running_balances_are_what_the_postings_add_up_to(books: Books) -> None:
    for amount in range(1, 40):
        number = pays(books, NAMES[0], NAMES[1], amount)
        if amount % 3 == 0:
            entries.undo(books, number, "Mei", AT)

    kept = books.connection.execute(select(func.sum(members.c.balance))).scalar_one()
    assert kept == 0
    assert ledger.balances(books) == added_up(books)
