"""Empties the outbox: each post is shown once, in order, and marked."""

from __future__ import annotations

import logging
from dataclasses import replace

from bot import clock
from bot.messages import Transport
from bot.storage.books import Database
from bot.storage.outbox import delivered, waiting

_LOG = logging.getLogger(__name__)


class NotNowError(Exception):
    """The transport cannot show a post now; it stays waiting."""


class NeverError(Exception):
    """The transport can never show this post (the chat is gone, the clerk was put out); it is passed over."""


def empty(database: Database, chat: str | None, transport: Transport) -> None:
    """Deliver what waits for a chat, or for all; a chat that cannot be served now keeps its order for later."""
    blocked: set[str] = set()
    shown: dict[tuple[str, int], str] = {}
    for queued in waiting(database, chat):
        if queued.chat in blocked:
            continue
        split = queued.post.split
        if split is not None and (queued.chat, split) in shown:
            queued = replace(queued, replaces=shown[queued.chat, split])  # noqa: PLW2901 (shown a moment ago)
        try:
            ref = transport.deliver(queued)
        except NotNowError:
            blocked.add(queued.chat)
            continue
        except NeverError as error:
            _LOG.warning("post %d cannot be shown: %s", queued.number, error)
            ref = ""
        if split is not None and ref:
            shown[queued.chat, split] = ref
        delivered(database, queued, ref, clock.now())
