"""The few commands of the menu, for what people do most: each is short for a message in plain words."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Command:
    """A command, what the menu says of it, and the message it is short for."""

    name: str
    does: str
    says: str


COMMANDS = (
    Command("needs", "What is still to buy", "what do we still need?"),
    Command("stock", "What we have, and at whose house", "stock list"),
    Command("owed", "Who owes what", "who owes what?"),
    Command("sales", "The sales to come", "which sales come next?"),
    Command("summary", "How far we are this week", "weekly summary"),
    Command("undo", "Take back your last entry", "take that back"),
    Command("settings", "How the clerk works for this group", "show settings"),
    Command("help", "What you can write", "help"),
)
_SAYS = {f"/{command.name}": command.says for command in COMMANDS}


def in_words(text: str) -> str:
    """A message that begins with a command as the message it is short for, with whatever follows it."""
    command, _, more = text.partition(" ")
    says = _SAYS.get(command.casefold())
    if says is None:
        return text
    return f"{says.rstrip('?')} {more.strip()}" if more.strip() else says
