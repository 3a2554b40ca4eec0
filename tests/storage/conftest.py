"""Databases for the storage tests, of each sort, with one group founded."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from fractions import Fraction

import pytest

from bot.storage.books import Books, Database
from core.group import Group, Kit, Settings
from core.items import Item, PricePoint
from core.money import Rounding, currency


@pytest.fixture(params=["sqlite", "postgresql"])
def address(request: pytest.FixtureRequest, new_address: Callable[[str], str]) -> str:
    """The URL of an empty database, once of each sort."""
    return new_address(request.param)


@pytest.fixture
def database(address: str, packers: Group) -> Iterator[Database]:
    """A database in which the chat "harbour" has the packers' books."""
    database = Database(address)
    database.migrate()
    database.found("harbour", packers)
    yield database
    database.close()


@pytest.fixture
def books(database: Database) -> Iterator[Books]:
    """The packers' books, open."""
    with database.open("harbour") as books:
        yield books


@pytest.fixture(scope="session")
def packers() -> Group:
    """An invented group with something of everything."""
    return Group(
        "Harbour Lane packers",
        Settings(currency("USD"), "America/Chicago", "US", Rounding.TENTH),
        ("Mei", "Tobias"),
        ("corner store", "Larkmoor Market"),
        (Item("pencil", ("no. 2 pencil",), PricePoint(Fraction(9, 2), Fraction(7))), Item("notebook")),
        (Kit("school pouch", 120, date(2026, 11, 14), {"pencil": 4, "notebook": 1}),),
    )
