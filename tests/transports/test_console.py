"""The terminal chat: who speaks, what a number presses, when it ends."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest

from bot.group_file import read_group
from bot.storage import entries
from bot.storage.books import Database
from bot.transports.console import Console

GROUP = read_group(Path(__file__).parents[1] / "corpora" / "harbour_lane")
CHAT = "console:Harbour Lane packers"
PRICE = "12 pencils 0.47 at corner store"


@pytest.fixture
def database() -> Iterator[Database]:
    with closing(Database("sqlite://")) as made:
        made.migrate()
        yield made


def type_in(database: Database, *lines: str) -> None:
    Console(lines, GROUP, database, "Mei", lambda: datetime(2026, 8, 3, 15, 15, tzinfo=UTC)).run()


def last_entry_by(database: Database) -> str | None:
    with database.open(CHAT) as books:
        entry = entries.last_entry(books, None)
    return entry.by if entry else None


def test_first_line_says_what_to_type(database: Database, capsys: pytest.CaptureFixture[str]) -> None:
    type_in(database)

    (hint,) = capsys.readouterr().out.splitlines()
    assert '"12 pencils 0.47 at corner store"' in hint
    assert '"quit"' in hint


def test_message_is_answered_with_numbered_buttons(database: Database, capsys: pytest.CaptureFixture[str]) -> None:
    type_in(database, PRICE)

    _, answer, *rest = capsys.readouterr().out.splitlines()
    assert answer.startswith("Clerk: ")
    assert rest[-1] == "  1 Take back"
    assert last_entry_by(database) == "Mei"


def test_number_presses_the_button(database: Database) -> None:
    type_in(database, PRICE, "1")

    assert last_entry_by(database) is None


def test_number_without_its_button_is_text(database: Database) -> None:
    type_in(database, PRICE, "7")

    assert last_entry_by(database) == "Mei"


def test_listed_name_and_colon_change_the_speaker(database: Database) -> None:
    type_in(database, f"ines: {PRICE}")

    assert last_entry_by(database) == "Ines"


def test_store_and_colon_change_no_speaker(database: Database) -> None:
    type_in(database, "Corner store: 12 pencils 0.47")

    assert last_entry_by(database) == "Mei"


@pytest.mark.parametrize("word", ["quit", " Quit "])
def test_quit_ends_the_chat(database: Database, word: str) -> None:
    type_in(database, PRICE, word, f"Ines: {PRICE}")

    assert last_entry_by(database) == "Mei"


def test_same_words_later_are_recorded_again(database: Database, capsys: pytest.CaptureFixture[str]) -> None:
    type_in(database, PRICE)
    type_in(database, PRICE)

    assert capsys.readouterr().out.count("1 Take back") == 2


def test_buttons_of_several_posts_are_numbered_on(database: Database, capsys: pytest.CaptureFixture[str]) -> None:
    type_in(database, "i can get 200 bar soaps for 31.00, who wants some?", "Tobias: put me down for 24", "Tobias: 3")

    lines = capsys.readouterr().out.splitlines()
    assert "  1 Take back" in lines
    assert "  2 12   3 24   4 48   5 All 176 left   6 Not for me   7 Close" in lines
