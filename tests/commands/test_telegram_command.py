"""The command ``telegram`` before it serves: what it refuses, and what its log leaves out."""

from __future__ import annotations

import json
import logging
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from bot.commands import app
from bot.commands.telegram import Discreet

WEBHOOK: dict[str, str | None] = {
    "WEBHOOK_URL": "https://clerk.example.org/telegram",
    "WEBHOOK_PORT": "8443",
    "WEBHOOK_SECRET": "tell-nobody_7",
}
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


@pytest.mark.parametrize(
    ("wrong", "told"),
    [
        ({"WEBHOOK_URL": None}, "WEBHOOK_URL must say where Telegram can reach the clerk"),
        ({"WEBHOOK_URL": "clerk.example.org"}, "WEBHOOK_URL must say where Telegram can reach the clerk"),
        ({"WEBHOOK_PORT": None}, "WEBHOOK_PORT must say on which port to listen"),
        ({"WEBHOOK_PORT": "70000"}, "WEBHOOK_PORT must say on which port to listen"),
        ({"WEBHOOK_SECRET": None}, "WEBHOOK_SECRET must be 1 to 256 letters"),
        ({"WEBHOOK_SECRET": "no blanks"}, "WEBHOOK_SECRET must be 1 to 256 letters"),
    ],
)
def test_a_webhook_wants_its_settings(
    environment: dict[str, str | None], wrong: dict[str, str | None], told: str
) -> None:
    sentence = refusal(environment | WEBHOOK | wrong, "--webhook")

    assert sentence.startswith(told)
    assert "no blanks" not in sentence


def test_log_leaves_out_token_and_quotations() -> None:
    try:
        raise ValueError(f"12 pencils 0.47 by bot{TOKEN}")
    except ValueError:
        fault = sys.exc_info()
    record = logging.LogRecord("clerk", logging.ERROR, __file__, 1, "at /bot%s", (TOKEN,), fault)

    line = Discreet(TOKEN).format(record)
    said = json.loads(line)

    assert TOKEN not in line
    assert (said["level"], said["where"], said["what"], said["error"]) == (
        "ERROR",
        "clerk",
        "at /botBOT_TOKEN",
        "ValueError",
    )
    assert "test_telegram_command.py" in said["trace"]
