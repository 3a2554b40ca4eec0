"""What the dialogues look for in the books and in the clerk's posts."""

from __future__ import annotations

from collections.abc import Sequence

from bot.messages import Post
from bot.storage.prices import recent
from core.prices import Sighting
from tests.chat import Chat

_MANY = 100


def sightings(chat: Chat, item: str) -> list[Sighting]:
    """All of an item's prices that stand in the books, the newest first."""
    with chat.books() as books:
        return recent(books, item, _MANY)


def paid(chat: Chat, item: str) -> list[tuple[int, int]]:
    """The count and the cents of each of an item's prices in the books, the newest first."""
    return [(seen.count, seen.price) for seen in sightings(chat, item)]


def first_lines(posts: Sequence[Post]) -> list[str]:
    """The first line of each post: the verdict, the echo or the question."""
    return [post.text.splitlines()[0] for post in posts]


def labels(post: Post) -> list[str]:
    """What the buttons under a post say."""
    return [button.label for button in post.buttons]
