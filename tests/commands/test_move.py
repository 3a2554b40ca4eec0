"""The command ``move``, as a person runs it: a copy with its counts, or one sentence."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from bot.commands import app

CHAT = """2026-08-03 10:15 Mei: 12 pencils 0.47 at corner store
2026-08-03 10:16 Ines: paid Mei 4.20
"""
HARBOUR_LANE = str(Path(__file__).parents[1] / "corpora" / "harbour_lane")


def play(folder: Path, database: str) -> str:
    (folder / "chat.txt").write_text(CHAT, encoding="utf-8")
    arguments = ["replay", str(folder / "chat.txt"), "--group", HARBOUR_LANE, "--database", database]
    return CliRunner().invoke(app, arguments).output


def move(source: str, target: str) -> Result:
    return CliRunner().invoke(app, ["move", source, target])


@pytest.fixture
def books(tmp_path: Path) -> str:
    """The URL of a file with the books of a short chat."""
    address = f"sqlite:///{tmp_path / 'books.db'}"
    play(tmp_path, address)
    return address


def test_the_tables_that_hold_something_are_counted(books: str, tmp_path: Path) -> None:
    moved = move(books, f"sqlite:///{tmp_path / 'copy.db'}")

    assert (moved.exit_code, moved.stderr) == (0, "")
    *tables, last = moved.stdout.splitlines()
    counts = dict(line.split(": ") for line in tables)
    assert (counts["groups"], counts["sightings"], counts["postings"]) == ("1", "1", "2")
    assert "hazards" not in counts
    rows = sum(int(count) for count in counts.values())
    assert last == f"All {len(tables)} tables hold what they held: {rows} rows."


def test_a_copy_serves_as_the_books(books: str, tmp_path: Path) -> None:
    copy = f"sqlite:///{tmp_path / 'copy.db'}"
    move(books, copy)

    # A line of a chat is taken once: what was played into the books is known in their copy.
    again = play(tmp_path, copy)

    assert "¢" not in again


def test_what_is_wrong_is_told_in_one_sentence(books: str, tmp_path: Path) -> None:
    copy = f"sqlite:///{tmp_path / 'copy.db'}"
    move(books, copy)

    refused = move(books, copy)

    assert refused.exit_code == 2
    assert refused.stdout == ""
    assert refused.stderr == (
        f"The database {tmp_path / 'copy.db'} already holds the books of a group: name an empty one to move to.\n"
    )


def test_help_names_both_databases() -> None:
    shown = CliRunner().invoke(app, ["move", "--help"])

    assert shown.exit_code == 0
    assert re.search(r"FROM_URL.*TO_URL", shown.stdout)
