"""Needs and plan from the books: 60 and 600 items, ten shops, four sizes each; ``python -m tests.bench.needs``."""

from __future__ import annotations

from datetime import UTC, date, datetime
from fractions import Fraction
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from bot.skills.answering import Desk
from bot.skills.stock.shopping import short_items
from bot.skills.supply import Supply
from bot.storage.books import Database
from bot.storage.entries import new_entry
from bot.storage.group import load_group
from bot.storage.prices import add_sighting
from bot.storage.stock import move
from core.buying_plan import buying_plan
from core.group import Group, Kit, Settings
from core.items import Item, PricePoint
from core.money import currency
from core.prices import Sighting
from core.stock import Move, Why
from tests.bench.timing import Round, against, alternating, heading, ratio, times

ROUNDS = 15
SHORT, LONG = 60, 600
SHOPS = tuple(f"shop {number}" for number in range(10))
SIZES = (1, 12, 48, 144)
KITS = 3
GOAL = 200
AIM_MILLISECONDS = 100
AIM_RATIO = LONG / SHORT * 1.1
AT = datetime(2026, 8, 3, 15, tzinfo=UTC)
DUE = date(2026, 11, 14)


def group_of(items: int) -> Group:
    """A group with so many items, each in one of three kits."""
    names = [f"item {number}" for number in range(items)]
    kits = tuple(
        Kit(f"kit {number}", GOAL, DUE, {name: 1 + place % 4 for place, name in enumerate(names[number::KITS])})
        for number in range(KITS)
    )
    priced = tuple(Item(name, (), PricePoint(currency("USD").minor_exact(Fraction(1)))) for name in names)
    return Group("Bench packers", Settings(currency("USD")), ("Mei", "Tobias"), SHOPS, priced, kits)


def books_of(folder: str, items: int, chance: Random) -> Database:
    """A database in which every shop has been seen to sell every item in four sizes, and some of each is there."""
    database = Database(f"sqlite:///{Path(folder) / f'{items}.db'}")
    database.migrate()
    group = group_of(items)
    database.found("bench", group)
    with database.open("bench") as books:
        entry = new_entry(books, "Mei", AT, "all of it")
        for item in group.items:
            move(books, entry, Move(item.name, "Mei", chance.randint(1, 50), Why.HAD, AT.date()))
            for store in SHOPS:
                for size in SIZES:
                    price = round(size * chance.uniform(20, 60))
                    add_sighting(books, entry, Sighting(item.name, size, price, AT.date(), store))
    return database


def planning(database: Database) -> Round:
    """Asks once what is short and what to buy where."""
    with database.open("bench") as books:
        group = load_group(books)

    def work(number: int) -> None:
        del number
        with database.open("bench") as books:
            supply = Supply(Desk(books, group, "Mei", AT))
            short_items(supply)
            buying_plan(supply.needs.short, supply.offers(), AT.date())

    return work


def main() -> None:
    """Measure and print."""
    heading(f"Needs and plan from the books, {len(SHOPS)} shops, {len(SIZES)} sizes", "sqlalchemy")
    with TemporaryDirectory() as folder:
        chance = Random(7)  # noqa: S311 - no secret
        databases = {f"{items} items": books_of(folder, items, chance) for items in (SHORT, LONG)}
        taken = alternating({name: planning(database) for name, database in databases.items()}, ROUNDS, 1)
        times(taken, "question")
        short, long = databases
        against("slowest round, milliseconds a question", max(taken[short]) / 1000, AIM_MILLISECONDS)
        against(f"{LONG} items over {SHORT}", ratio(taken, long, short), AIM_RATIO)
        for database in databases.values():
            database.close()


if __name__ == "__main__":
    main()
