"""The command ``telegram`` before it serves: what it refuses, and what its log leaves out."""

from __future__ import annotations

import logging
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from bot.commands import app
from bot.commands.telegram import Discreet

TOKEN = "123456789:AAE-example_of_a_token"  # noqa: S105 - of no real bot


@pytest.fixture
def environment(tmp_path: Path) -> dict[str, str | None]:
    return {"BOT_TOKEN": TOKEN, "BOT_API_URL": None, "DATABASE_URL": f"sqlite:///{tmp_path / 'books.db'}"}


def refusal(environment: dict[str, str | None], *options: str) -> str:
    """The one line that the command ends with, at exit status 2."""
    result = CliRunner().invoke(app, ["telegram", *options], env=environment)
    assert result.exit_code == 2, result.output
    (sentence,) = result.stderr.splitlines()
    return sentence


def test_missing_token_is_told_with_an_example(environment: dict[str, str | None]) -> None:
    sentence = refusal(environment | {"BOT_TOKEN": None})

    assert sentence.startswith("BOT_TOKEN is not set: ask @BotFather")
    assert sentence.endswith("BOT_TOKEN=123456789:AAE-example_of_a_token python -m bot telegram")


def test_bad_api_address_is_told(environment: dict[str, str | None]) -> None:
    sentence = refusal(environment | {"BOT_API_URL": "nowhere"})

    assert "BOT_API_URL=https://api.telegram.org" in sentence


def test_bad_group_folder_is_told(environment: dict[str, str | None], tmp_path: Path) -> None:
    sentence = refusal(environment, "--group", str(tmp_path))

    assert "group.toml" in sentence


def test_unusable_database_is_told(environment: dict[str, str | None], tmp_path: Path) -> None:
    (tmp_path / "books.db").write_text("shopping notes, and no database at all\n" * 50)

    sentence = refusal(environment)

    assert "books.db" in sentence


def test_webhook_is_not_there_yet(environment: dict[str, str | None]) -> None:
    sentence = refusal(environment, "--webhook")

    assert sentence.startswith("--webhook is not there yet")


def test_log_leaves_out_token_and_quotations() -> None:
    try:
        raise ValueError(f"12 pencils 0.47 by bot{TOKEN}")
    except ValueError:
        fault = sys.exc_info()
    record = logging.LogRecord("clerk", logging.ERROR, __file__, 1, "at /bot%s", (TOKEN,), fault)

    line = Discreet(TOKEN).format(record)

    assert TOKEN not in line
    assert "pencils 0.47 by" not in line.splitlines()[-1]
    assert "at /botBOT_TOKEN" in line
    assert line.endswith("ValueError")
