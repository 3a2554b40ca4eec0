"""The list of commands: quick to show, and forgiving of a slip."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from typer.testing import CliRunner

from bot.commands import app

ROOT = Path(__file__).parents[2]
HEAVY = {"sqlalchemy", "alembic", "dateparser", "telegram", "pydantic", "prompt_toolkit", "rich"}


PROGRAM = """
import sys
from bot.commands import app
app(["--help"], standalone_mode=False)
print(*sys.modules, file=sys.stderr)
"""


def test_help_loads_no_heavy_library() -> None:
    shown = subprocess.run(  # noqa: S603 (our own command)
        [sys.executable, "-c", PROGRAM], cwd=ROOT, capture_output=True, encoding="utf-8", check=True
    )

    assert "replay" in shown.stdout
    assert HEAVY.isdisjoint(shown.stderr.split())


def test_every_command_explains_itself() -> None:
    for command in ("chat", "replay", "read", "telegram"):
        shown = CliRunner().invoke(app, [command, "--help"])

        assert shown.exit_code == 0
        assert "--group" in shown.stdout


def test_misspelt_command_gets_the_nearest() -> None:
    shown = CliRunner().invoke(app, ["reply"])

    assert shown.exit_code == 2
    assert "'replay'" in shown.stderr
