"""Does what has fallen due, each thing once: closes open splits, makes the posts that time brings."""

from __future__ import annotations

import logging
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta

from bot.assistant import Assistant
from bot.messages import Post
from bot.posts import timed_posts, wording
from bot.posts.schedule import come_to, fallen_due
from bot.skills.answering import Desk
from bot.storage.books import Books, Database, DatabaseTroubleError
from bot.storage.chats import private_chat
from bot.storage.group import load_group
from bot.storage.outbox import queue
from bot.storage.shares import next_closing
from bot.storage.timed import Outcome, groups_due, make_once, next_due, outcome_of, watch
from core.due import Due, is_quiet, moment_of, wall_clock
from core.group import Group, Settings

LATE = timedelta(hours=1)
"""How long after its time a post says that it comes late."""
_log = logging.getLogger(__name__)


class Timekeeper:
    """Looks after the clock of every group."""

    def __init__(self, database: Database, assistant: Assistant) -> None:
        self._database = database
        self._assistant = assistant

    def tick(self, now: datetime) -> list[str]:
        """Do what has fallen due by now, as ``served`` does; the chats with new posts."""
        return list(self.served(now))

    def served(self, now: datetime) -> Iterator[str]:
        """Do what has fallen due by now, group by group; each chat with new posts, as soon as they are made.

        A group whose posts cannot be made holds up no other: its error is raised when all have had their turn.
        Raises DatabaseTroubleError at once, with what is not yet done left for the next tick.
        """
        yield from self._assistant.close_due(now)
        failed: Exception | None = None
        for chat in groups_due(self._database, now):
            try:
                with self._database.open(chat) as books:
                    has_posts = _serve(books, now)
                if has_posts:
                    yield chat
            except DatabaseTroubleError:
                raise
            except Exception as error:
                _log.warning("the posts of %s could not be made", chat)
                failed = failed or error
        if failed is not None:
            raise failed

    def play_to(self, until: datetime) -> list[str]:
        """Do all that falls due up to a moment, each thing at its own time; the chats with new posts."""
        chats: list[str] = []
        while (moment := self._next(until)) is not None:
            chats += self.tick(moment)
        return chats

    def _next(self, until: datetime) -> datetime | None:
        moments = [found for found in (next_due(self._database), next_closing(self._database)) if found]
        first = min(moments, default=None)
        return first if first is not None and first <= until else None


def _serve(books: Books, now: datetime) -> bool:
    """Make the posts of a group that have fallen due by now; whether there were any.

    What comes late comes in the morning, if it is night by now.
    """
    group = load_group(books)
    settings = group.settings
    wall = wall_clock(now, settings.zone)
    posted_to = watch(books).posted_to or wall
    due = fallen_due(books, group, posted_to, wall)
    held = [one for one in due if is_quiet(settings.quiet, wall) and _is_late(one, settings, now)]
    made = [_make(one, books, group, now) for one in due if one not in held]
    come_to(books, group, posted_to if held else max(posted_to, wall), now)
    return any(made)


def _send(post: Post, books: Books, moment: datetime) -> None:
    """Queue a post; one for a single member goes to the chat that they have with the clerk, if they have one."""
    private = private_chat(books, post.to) if post.to else None
    if private is not None:
        queue(replace(books, chat=private), replace(post, topic=None), moment)
    else:
        queue(books, post, moment)


def _is_late(due: Due, settings: Settings, now: datetime) -> bool:
    """Whether a post comes late by the time that has passed and by the clock, which may have leapt or been put back."""
    passed = now - moment_of(due.at, settings.zone)
    return min(passed, wall_clock(now, settings.zone) - due.at) > LATE


def _make(due: Due, books: Books, group: Group, now: datetime) -> bool:
    """Make one post, unless it was made before; one that is of no use any more is noted and dropped."""
    if outcome_of(books, due.key) is not None:
        return False
    settings = group.settings
    if due.useful_until is not None and wall_clock(now, settings.zone) > due.useful_until:
        _log.warning("%s of group %d came too late and is dropped", due.key, books.group_id)
        make_once(books, due.key, due.at, Outcome.STALE)
        return False
    late = _is_late(due, settings, now)
    moment = now if late else moment_of(due.at, settings.zone)
    posts = timed_posts(due, Desk(books, group, "", moment))
    make_once(books, due.key, due.at, Outcome.SILENT if not posts else Outcome.LATE if late else Outcome.POSTED)
    for post in posts:
        text = wording.late(post.text, due.at, settings, settings.day(now)) if late else post.text
        _send(replace(post, text=text, topic=settings.topic), books, moment)
    return bool(posts)
