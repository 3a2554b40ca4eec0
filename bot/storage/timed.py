"""Posts that time brings: which groups something falls due for, up to when each has been served, each post once."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from sqlalchemy import DateTime, Text, bindparam, exists, func, insert, select, update

from bot.storage.books import Books, Database
from bot.storage.calendar_tables import timed_posts
from bot.storage.columns import Moment, Number
from bot.storage.tables import chats, groups

_GROUP = bindparam("in_group", type_=Number)
_KEY = bindparam("under_key", type_=Text)
_AT_HOME = (chats.c.chat == groups.c.home) & chats.c.silent_since.is_(None)
_DUE = (
    select(groups.c.home)
    .join(chats, _AT_HOME)
    .where(groups.c.next_at <= bindparam("now", type_=Moment))
    .order_by(groups.c.next_at, groups.c.id)
)
_NEXT = select(func.min(groups.c.next_at)).join(chats, _AT_HOME)
_WATCH = select(groups.c.posted_to, groups.c.next_at).where(groups.c.id == _GROUP)
_SET_WATCH = (
    update(groups)
    .where(groups.c.id == _GROUP)
    .values(posted_to=bindparam("up_to", type_=DateTime()), next_at=bindparam("due_at", type_=Moment))
)
_MAKE = (
    insert(timed_posts)
    .from_select(
        ["group_id", "key", "due", "outcome"],
        select(_GROUP, _KEY, bindparam("fell_due", type_=DateTime()), bindparam("came_out", type_=Text)).where(
            ~exists().where(timed_posts.c.group_id == _GROUP, timed_posts.c.key == _KEY)
        ),
    )
    .execution_options(preserve_rowcount=True)
)


class Outcome(StrEnum):
    """What became of a post that fell due."""

    POSTED = "posted"
    LATE = "late"
    STALE = "stale"
    """It came too late to be of use, and was dropped."""
    SILENT = "silent"
    """There was nothing to say."""


@dataclass(frozen=True, slots=True)
class Watch:
    """Up to which time of the group's own clock posts have been made, and the moment at which the next falls due."""

    posted_to: datetime | None
    next_at: datetime | None


def groups_due(database: Database, now: datetime) -> list[str]:
    """The home chat of each group for which something falls due by now, the one that has waited longest first."""
    with database.reading() as connection:
        return list(connection.execute(_DUE, {"now": now}).scalars())


def next_due(database: Database) -> datetime | None:
    """When the next post of any group falls due."""
    with database.reading() as connection:
        found: datetime | None = connection.execute(_NEXT).scalar()
    return found


def watch(books: Books) -> Watch:
    """How far the group's posts have come."""
    return Watch(*books.connection.execute(_WATCH, {"in_group": books.group_id}).one())


def set_watch(books: Books, watch: Watch) -> None:
    """Keep how far the group's posts have come."""
    values = {"in_group": books.group_id, "up_to": watch.posted_to, "due_at": watch.next_at}
    books.connection.execute(_SET_WATCH, values)


def make_once(books: Books, key: str, due: datetime, outcome: Outcome) -> bool:
    """True the first time a post of this key is made in the group."""
    values = {"in_group": books.group_id, "under_key": key, "fell_due": due, "came_out": outcome.value}
    return books.connection.execute(_MAKE, values).rowcount == 1


def keys_made(books: Books, since: datetime) -> set[str]:
    """The keys of the posts that have been made, or dropped, of those due since a time of the group's own clock."""
    own = (timed_posts.c.group_id == books.group_id, timed_posts.c.due >= since)
    return set(books.connection.execute(select(timed_posts.c.key).where(*own)).scalars())


def outcome_of(books: Books, key: str) -> Outcome | None:
    """What became of the post of a key; None where it has not fallen due."""
    own = (timed_posts.c.group_id == books.group_id, timed_posts.c.key == key)
    found = books.connection.execute(select(timed_posts.c.outcome).where(*own)).scalar()
    return None if found is None else Outcome(found)
