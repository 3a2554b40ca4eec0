"""The command ``health``: one line, and an exit status that a watchdog can go by."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from typer.testing import CliRunner

from bot import clock
from bot.commands import app
from bot.group_file import default_group
from bot.messages import Post
from bot.storage.books import Database
from bot.storage.outbox import queue


@pytest.fixture
def url(tmp_path: Path) -> str:
    """A database with one group."""
    url = f"sqlite:///{tmp_path / 'books.db'}"
    database = Database(url)
    database.migrate()
    database.found("harbour", default_group())
    database.close()
    return url


def test_all_is_well(url: str) -> None:
    told = CliRunner().invoke(app, ["health", "--database", url])

    assert (told.exit_code, told.stdout) == (0, "All is well: 1 group, 0 messages not heard yet, 0 posts waiting.\n")


def test_a_post_that_waits_for_too_long_is_told(url: str) -> None:
    database = Database(url)
    with database.open("harbour") as books:
        queue(books, Post("hello"), clock.now() - timedelta(hours=1))
    database.close()

    told = CliRunner().invoke(app, ["health", "--database", url])

    assert told.exit_code == 1
    assert told.stdout.startswith(
        "Something waits for too long: 1 group, 0 messages not heard yet, 1 post waiting since"
    )


def test_a_database_that_nobody_has_begun_is_told(tmp_path: Path) -> None:
    told = CliRunner().invoke(app, ["health", "--database", f"sqlite:///{tmp_path / 'none.db'}"])

    assert told.exit_code == 2
    assert not (tmp_path / "none.db").exists()
