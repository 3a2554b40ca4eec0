"""Plays a written chat through the assistant, on the clock of the file."""

from __future__ import annotations

import json
from collections.abc import Iterable
from contextlib import suppress
from datetime import datetime
from textwrap import indent
from typing import Protocol

from bot.assistant import Assistant
from bot.delivery import empty
from bot.messages import Incoming, Post, Queued, Sender
from bot.storage.books import Database
from bot.storage.outbox import newest_posts, take
from bot.timekeeper import Timekeeper
from bot.transports import screen
from bot.transports.written_chat import BadLineError, ClockMove, Line, Pressed, Said, minutes
from core.group import Group


class Page(Protocol):
    """Where a played chat is shown."""

    def line(self, line: Line) -> None:
        """Show what a person did."""

    def post(self, at: datetime, post: Post) -> None:
        """Show what the clerk said; ``at`` is the group's clock."""


class Transcript:
    """The chat as people would see it, on standard output."""

    def __init__(self) -> None:
        self._write = screen.writer()
        self._day = self._time = ""

    def line(self, line: Line) -> None:
        """Write the time, the name and the text; of a clock move, nothing."""
        match line:
            case Said(name=name, text=text):
                done = f"{name}: {text}"
            case Pressed(name=name, label=label):
                done = f"{name}: [{label}]"
            case ClockMove():
                return
        self._come_to(line.at)
        self._write(f"{self._time} {done}".replace("\n", "\n      "), screen.PERSON_STYLE)

    def post(self, at: datetime, post: Post) -> None:
        """Write the post and its buttons, indented; under its own time where no line above has said it."""
        if self._come_to(at):
            self._write(self._time, screen.QUIET_STYLE)
        self._write(indent(screen.post_text(post), "    "), screen.CLERK_STYLE)
        if post.buttons:
            labels = " ".join(f"[{button.label}]" for button in post.buttons)
            self._write(f"    {labels}", screen.BUTTON_STYLE)

    def _come_to(self, at: datetime) -> bool:
        """Write a heading for a new day; True if time has passed at all."""
        before = self._day, self._time
        day, self._time = minutes(at).split()
        if day != self._day:
            self._day = day
            self._write(day, screen.QUIET_STYLE)
        return (self._day, self._time) != before


class JsonLines:
    """One JSON object for each post of the clerk, on standard output."""

    def line(self, line: Line) -> None:
        """Nothing: only posts are told."""

    def post(self, at: datetime, post: Post) -> None:
        """Print the object of contract.md."""
        print(json.dumps(_told(at, post), ensure_ascii=False), flush=True)  # noqa: T201


def _told(at: datetime, post: Post) -> dict[str, object]:
    return {
        "at": at.strftime("%Y-%m-%dT%H:%M"),
        "to": "group" if post.to is None else post.to,
        "text": post.text,
        "buttons": [button.label for button in post.buttons],
        "picture": post.picture,
        "answers": None if post.answers is None else int(post.answers.partition("@")[0]),
    }


class Replay:
    """Plays lines in order; the same file played twice into one database is recorded once."""

    def __init__(self, lines: Iterable[Line], group: Group, database: Database, page: Page) -> None:
        self._lines = lines
        self._zone = group.settings.zone
        self._chat = f"replay:{group.name}"
        self._database = database
        self._assistant = Assistant(database, group)
        self._timekeeper = Timekeeper(database, self._assistant)
        self._page = page
        self._last: list[Post] = newest_posts(database, self._chat)
        """What the clerk said last: the posts that one line brought, be it in an earlier play."""
        self._fresh = False

    def run(self) -> None:
        """Play to the end. Raises BadLineError at the first bad line, when those before it are played."""
        for line in self._lines:
            self._fresh = True
            self._timekeeper.play_to(line.at.replace(tzinfo=self._zone))
            empty(self._database, self._chat, self)
            incoming = self._incoming(line)
            self._page.line(line)
            self._fresh = True
            if incoming is not None:
                self._assistant.hear(incoming)
            empty(self._database, self._chat, self)

    def deliver(self, queued: Queued) -> str:
        """Show a post on the page."""
        if queued.post.only_changes:
            return ""
        self._last = [queued.post] if self._fresh else [*self._last, queued.post]
        self._fresh = False
        self._page.post(queued.made_at.astimezone(self._zone), queued.post)
        return f"clerk:{queued.number}"

    def close(self) -> None:
        """Nothing was taken."""

    def _incoming(self, line: Line) -> Incoming | None:
        if isinstance(line, ClockMove):
            return None
        # The moment is part of the ref, so that the next month's file is not taken for this one.
        ref = f"{line.number}@{line.at:%Y-%m-%dT%H:%M}"
        at = line.at.replace(tzinfo=self._zone)
        if isinstance(line, Said):
            return Incoming(self._chat, Sender(line.name), line.text, at, ref)
        action = self._action(line.label)
        if action is None:
            if self._heard_before(ref):
                return None
            raise BadLineError(line.number, self._no_button(line.label))
        return Incoming(self._chat, Sender(line.name), "", at, ref, pressed=action)

    def _action(self, label: str) -> str | None:
        buttons = [button for post in reversed(self._last) for button in post.buttons]
        return next((button.action for button in buttons if button.label == label), None)

    def _no_button(self, label: str) -> str:
        if not self._last:
            return f"there is no button [{label}], for the clerk has posted nothing yet."
        labels = ", ".join(f"[{button.label}]" for post in self._last for button in post.buttons)
        there = f"it has {labels}" if labels else "it has no buttons"
        return f"the clerk's last post has no button [{label}]; {there}."

    def _heard_before(self, ref: str) -> bool:
        """True where an earlier play into this database has come past this line."""
        if not self._database.knows(self._chat):
            return False
        with suppress(_OnlyLooked), self._database.open(self._chat) as books:
            if take(books, ref):
                raise _OnlyLooked  # rolls the taking back
            return True
        return False


class _OnlyLooked(Exception):  # noqa: N818 (no error: it ends a transaction that must leave no trace)
    pass
