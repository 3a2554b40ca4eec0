"""Empties the outbox: each post is shown once, in order, and marked."""

from __future__ import annotations

import logging
from dataclasses import replace

from bot import clock
from bot.messages import Queued, Transport
from bot.storage.books import Database
from bot.storage.chats import fall_silent, move
from bot.storage.outbox import delivered, doubt, has_newer, queue, waiting

_LOG = logging.getLogger(__name__)


class NotNowError(Exception):
    """The transport cannot show a post now; it stays waiting, at least ``after`` seconds.

    ``is_unsure`` tells that it may have been shown without the transport's hearing so.
    """

    def __init__(self, why: str, after: float = 0, *, is_unsure: bool = False) -> None:
        super().__init__(why)
        self.after = after
        self.is_unsure = is_unsure


class NeverError(Exception):
    """The transport can never show this post; it is passed over."""


class GoneError(NeverError):
    """The clerk was put out of the chat: nothing can be shown there until it is back."""


class MovedError(Exception):
    """The chat goes on under another key, ``chat``."""

    def __init__(self, chat: str) -> None:
        super().__init__(chat)
        self.chat = chat


def empty(database: Database, chat: str | None, transport: Transport) -> dict[str, float]:
    """Deliver what waits for a chat, or for all; one that cannot be served now keeps its order for later.

    Returns the chats in which something waits on, each with the least number of seconds to wait.
    """
    blocked: dict[str, float] = {}
    shown: dict[tuple[str, int], str] = {}
    posts = waiting(database, chat)
    newest = {queued.chat: queued.number for queued in posts}
    for queued in posts:
        if queued.chat in blocked:
            continue
        split = queued.post.split
        if split is not None and (queued.chat, split) in shown:
            queued = replace(queued, replaces=shown[queued.chat, split])  # noqa: PLW2901 (shown a moment ago)
        try:
            ref = transport.deliver(queued)
        except NotNowError as error:
            if error.is_unsure:
                doubt(database, queued)
            blocked[queued.chat] = error.after
            continue
        except MovedError as moved:
            blocked |= _follow(database, queued, moved.chat)
            continue
        except NeverError as error:
            ref = ""
            _LOG.warning("post %d cannot be shown: %s", queued.number, error)
            if isinstance(error, GoneError):
                _put_out(database, queued, newest[queued.chat])
                blocked[queued.chat] = 0
        if split is not None and ref:
            shown[queued.chat, split] = ref
        delivered(database, queued, ref, clock.now())
    return blocked


def _follow(database: Database, queued: Queued, chat: str) -> dict[str, float]:
    """Let what waits go where its chat has moved to; a post that cannot follow is passed over, not tried for ever."""
    if move(database, queued.chat, chat, clock.now()):
        return {queued.chat: 0, chat: 0}
    _LOG.warning("post %d cannot be shown: where its chat has moved to, others' books are kept", queued.number)
    delivered(database, queued, "", clock.now())
    return {}


def _put_out(database: Database, queued: Queued, newest: int) -> None:
    """Nothing more is said in a chat that the clerk was put out of; what was for one member is said to the group.

    What was made after the ``newest`` post known when this one was tried tells of a later time, and is tried too.
    """
    with database.open(queued.chat) as books:
        if has_newer(books, newest):
            return
        if queued.post.to is not None and books.chat != books.home:
            queue(books.at_home(), queued.post, queued.made_at)
        fall_silent(books, clock.now())
