"""The welcome: what the clerk says when it is added to a group."""

from __future__ import annotations

from bot.messages import ChatTurn
from bot.skills.answering import Desk


def greet(turn: ChatTurn, desk: Desk) -> None:
    """Queue the welcome."""
