"""What the tests of unasked posts look for, and a clerk that looks at its clock again after a while."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from bot.assistant import Assistant
from bot.delivery import empty
from bot.messages import Post
from bot.storage.timed import Outcome, outcome_of
from bot.timekeeper import Timekeeper
from tests.chat import Chat
from tests.skills.kept import first_lines

DEALS = ("Deal: ", "Other deals since yesterday:")
WASH_BAGS = "I have 100 soaps 100 washcloths 100 combs 100 toothbrushes"


def deals(posts: Sequence[Post]) -> list[str]:
    """The first lines of the posts that tell of deals, without what they begin with."""
    return [line.removeprefix("Deal: ") for line in first_lines(posts) if line.startswith(DEALS)]


def summaries(posts: Sequence[Post]) -> list[str]:
    """The days that the weekly summaries among posts end on: "Sun Aug 9"."""
    ends = [line for line in first_lines(posts) if line.startswith("The week to ")]
    return [line.removeprefix("The week to ").partition(" was quiet")[0].removesuffix(":") for line in ends]


def line_of(post: Post, start: str) -> str:
    """The line of a post that starts with some words; AssertionError where none does."""
    lines = [line for line in post.text.splitlines() if line.startswith(start)]
    assert lines, f"no line starts with {start!r} in {post.text!r}"
    return lines[0]


def has_line(post: Post, start: str) -> bool:
    """Whether a line of a post starts with some words."""
    return any(line.startswith(start) for line in post.text.splitlines())


def wakes(chat: Chat, at: str) -> list[Post]:
    """The posts that come where the clerk was down, starts again and looks at its clock once, at a moment."""
    return ticks(chat, chat.moment(at))


def ticks(chat: Chat, now: datetime) -> list[Post]:
    """The posts that one look at the clock brings, after a new start."""
    chat.clock = now.astimezone(chat.group.settings.zone)
    before = len(chat.posts)
    started_again(chat).tick(now)
    empty(chat.database, chat.key, chat)
    return chat.posts[before:]


def started_again(chat: Chat) -> Timekeeper:
    """A timekeeper that knows nothing but the database."""
    return Timekeeper(chat.database, Assistant(chat.database, chat.group))


def outcome(chat: Chat, key: str) -> Outcome | None:
    """What became of the post of a key."""
    with chat.books() as books:
        return outcome_of(books, key)
