"""Fewest payments, and balances however long the ledger is; ``python -m tests.bench.settling``."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from sqlalchemy import insert, select

from bot.storage.books import Database
from bot.storage.entries import new_entry
from bot.storage.ledger import balances, post
from bot.storage.tables import entries, members, postings
from core.group import Group, Settings
from core.ledger import Payment, postings_of_payment
from core.money import currency
from core.settling import EXACT_UP_TO, fewest_payments
from tests.added_up import added_up
from tests.bench.timing import Round, against, alternating, heading, ratio, times

ROUNDS = 25
SOLVED = 10
"""Groups settled in a round."""
ASKED = 200
"""Times that balances are asked for in a round."""
SHORT, LONG = 100, 100_000
AIM_MILLISECONDS = 50
AIM_RATIO = 1.5
NAMES = tuple(f"Packer {number}" for number in range(EXACT_UP_TO))
AT = datetime(2026, 8, 3, tzinfo=UTC)


def hardest(chance: Random) -> dict[str, int]:
    """Balances of twelve members, no two of them opposite."""
    amounts = chance.sample(range(1, 100_000), EXACT_UP_TO - 1)
    signed = [amount if place % 2 else -amount for place, amount in enumerate(amounts)]
    return dict(zip(NAMES, [*signed, -sum(signed)], strict=True))


def solving(chance: Random) -> Round:
    """Settles so many groups of twelve."""

    def work(number: int) -> None:
        del number
        for _ in range(SOLVED):
            fewest_payments(hardest(chance))

    return work


def ledger_of(folder: str, length: int) -> Database:
    """A database in which a group has so many payments behind it."""
    database = Database(f"sqlite:///{Path(folder) / f'{length}.db'}")
    database.migrate()
    database.found("bench", Group("Bench packers", Settings(currency("USD")), NAMES))
    with database.open("bench") as books:
        entry = new_entry(books, NAMES[0], AT, "a payment")
        post(books, entry, postings_of_payment(Payment(NAMES[0], NAMES[1], 100)))
        numbers = list(books.connection.execute(select(members.c.id)).scalars())
        shared = {"group_id": books.group_id, "member_id": numbers[0], "made_at": AT, "summary": "a payment"}
        books.connection.execute(insert(entries), [shared] * (length - 1))
        rows = [
            {"group_id": books.group_id, "member_id": numbers[side], "entry_id": entry + 1 + place % (length - 1)}
            | {"amount": 10 if (place + side) % 2 else -10, "reverses": False}
            for place in range(length - 2)
            for side in (0, 1)
        ]
        books.connection.execute(insert(postings), rows)
    return database


def asking(database: Database, ask: Callable[..., object]) -> Round:
    """Asks for the balances so many times."""

    def work(number: int) -> None:
        del number
        with database.open("bench") as books:
            for _ in range(ASKED):
                ask(books)

    return work


def main() -> None:
    """Measure and print."""
    heading("Settling twelve members, and balances of long ledgers", "sqlalchemy")
    taken = alternating({"fewest payments of 12": solving(Random(7))}, ROUNDS, SOLVED)  # noqa: S311 - no secret
    times(taken, "group")
    slowest = max(taken["fewest payments of 12"]) / 1000
    against("slowest round, milliseconds a group", slowest, AIM_MILLISECONDS)
    with TemporaryDirectory() as folder:
        short, long = ledger_of(folder, SHORT), ledger_of(folder, LONG)
        works = {f"balances of {SHORT:,} entries": asking(short, balances)}
        works[f"balances of {LONG:,} entries"] = asking(long, balances)
        taken = alternating(works, ROUNDS, ASKED)
        times(taken, "question")
        name, reference = reversed(works)
        against(f"{name} over {reference}", ratio(taken, name, reference), AIM_RATIO)
        with long.open("bench") as books:
            print(f"adding up all of it gives the same: {added_up(books) == balances(books)}")
        short.close()
        long.close()


if __name__ == "__main__":
    main()
