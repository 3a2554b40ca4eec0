"""Runs the commands: ``python -m bot``."""

from __future__ import annotations

from bot.commands import app

if __name__ == "__main__":
    app(prog_name="python -m bot")
