"""A chat on the terminal: every line is a message, and one person may speak for several."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime
from uuid import uuid4

from bot.assistant import Assistant
from bot.delivery import empty
from bot.messages import Button, Incoming, Queued, Sender
from bot.storage.books import Database
from bot.timekeeper import Timekeeper
from bot.transports import screen
from core.group import Group

EXAMPLE = "12 pencils 0.47 at corner store"
"""A message that shows a newcomer what to type."""

QUIT = "quit"


class Console:
    """Hears typed lines until ``quit`` or their end."""

    def __init__(
        self,
        lines: Iterable[str],
        group: Group,
        database: Database,
        speaker: str,
        now: Callable[[], datetime],
    ) -> None:
        self._lines = lines
        self._members = {member.casefold(): member for member in (*group.members, speaker)}
        self._speaker = speaker
        self._chat = f"console:{group.name}"
        self._database = database
        self._assistant = Assistant(database, group)
        self._timekeeper = Timekeeper(database, self._assistant)
        self._now = now
        self._write = screen.writer()
        self._buttons: list[Button] = []
        """The buttons under the posts that the last line brought, numbered from 1."""

    def run(self) -> None:
        """Say how to begin, then hear line after line."""
        hint = f'Type what you would write in the chat, such as "{EXAMPLE}"; "{QUIT}" ends.'
        self._write(hint, screen.QUIET_STYLE)
        self._catch_up()
        for line in map(str.strip, self._lines):
            if line.casefold() == QUIT:
                return
            if line:
                self._catch_up()
                incoming = self._incoming(line)
                self._buttons = []
                self._assistant.hear(incoming)
                empty(self._database, self._chat, self)

    def _catch_up(self) -> None:
        """Do and show what has fallen due."""
        self._timekeeper.tick(self._now())
        empty(self._database, self._chat, self)

    def deliver(self, queued: Queued) -> str:
        """Write the post, its buttons numbered on from those of the post before."""
        if queued.post.only_changes:
            return ""
        self._write(screen.post_text(queued.post), screen.CLERK_STYLE)
        if queued.post.buttons:
            choices = (
                f"{number} {button.label}" for number, button in enumerate(queued.post.buttons, len(self._buttons) + 1)
            )
            self._buttons += queued.post.buttons
            self._write("  " + "   ".join(choices), screen.BUTTON_STYLE)
        return f"clerk:{queued.number}"

    def close(self) -> None:
        """Nothing was taken."""

    def _incoming(self, line: str) -> Incoming:
        name, text = self._spoken(line)
        action = self._pressed(text)
        text = "" if action is not None else text
        return Incoming(self._chat, Sender(name), text, self._now(), uuid4().hex, pressed=action)

    def _pressed(self, text: str) -> str | None:
        """The action behind a typed number, if the last posts have a button of that number."""
        if not text.isdecimal() or not 1 <= int(text) <= len(self._buttons):
            return None
        return self._buttons[int(text) - 1].action

    def _spoken(self, line: str) -> tuple[str, str]:
        """Who says what: "Ines: 12 pencils 0.47" is Ines speaking, if the group lists her."""
        name, _, text = (part.strip() for part in line.partition(":"))
        member = self._members.get(name.casefold())
        return (member, text) if member and text else (self._speaker, line)
