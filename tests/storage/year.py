"""The demo's year in a database of one's own, and what the clerk answers when it is over."""

from __future__ import annotations

from contextlib import closing
from datetime import UTC, datetime
from itertools import count
from pathlib import Path

from bot.assistant import Assistant
from bot.delivery import empty
from bot.group_file import read_group
from bot.messages import Incoming, Post, Queued, Sender
from bot.storage.books import Database
from bot.storage.inbox import keep
from bot.transports.replay import Replay
from bot.transports.written_chat import Line, read_chat

YEAR = Path(__file__).parents[2] / "demo_config"
PACKERS = read_group(YEAR)
CHAT = f"replay:{PACKERS.name}"
AFTERWARDS = datetime(2026, 11, 15, 18, tzinfo=UTC)
_refs = count(1)


class Quiet:
    """Shows nothing of a played chat, and keeps what the clerk posts to it."""

    def __init__(self) -> None:
        self.posts: list[str] = []

    def line(self, line: Line) -> None:
        """Nothing: it is known."""

    def post(self, at: datetime, post: Post) -> None:
        """Nothing: it is not looked at."""

    def run(self) -> None:
        """Nothing: the test speaks."""

    def deliver(self, queued: Queued) -> str:
        """Keep what the post says."""
        self.posts.append(queued.post.text)
        return f"after:{queued.number}"

    def close(self) -> None:
        """Nothing was taken."""


def play(address: str) -> None:
    """Make the books of the year in an empty database, with a row in every table."""
    with closing(Database(address)) as database:
        database.migrate()
        Replay(read_chat((YEAR / "chat.txt").read_text("utf-8")), PACKERS, database, Quiet()).run()
        keep(database, [Incoming(CHAT, Sender("Mei"), "hello", AFTERWARDS, "not heard yet", arrival=1)])
    says(address, "pencils have sharp points", photo="of pencils")


def says(address: str, words: str, photo: str | None = None) -> list[str]:
    """What the clerk answers Mei, on the day after the year."""
    shown = Quiet()
    with closing(Database(address)) as database:
        incoming = Incoming(CHAT, Sender("Mei"), words, AFTERWARDS, f"after {next(_refs)}", photo=photo)
        Assistant(database, PACKERS).hear(incoming)
        empty(database, CHAT, shown)
    return shown.posts
