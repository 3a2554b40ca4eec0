"""The numbers that the messages of chats have, where the transport numbers them: which of them are known."""

from __future__ import annotations

import json
import re

from sqlalchemy import ColumnElement, Text, and_, cast, func, or_, select

from bot.storage.books import Database
from bot.storage.tables import arrivals, chats, outbox, taken

_NUMBER = re.compile(r"(?:part:\d+:)?(\d+)\??")
"""The ref of a message, or of a post shown in whole or in part."""


def newest_shown(database: Database, chat: str) -> int:
    """The highest number of a post shown in a chat; 0 for none."""
    group = select(chats.c.group_id).where(chats.c.chat == chat).scalar_subquery()
    own = (outbox.c.group_id == group, outbox.c.chat == chat, outbox.c.ref.is_not(None))
    with database.reading() as connection:
        return max(map(_number, connection.execute(select(outbox.c.ref).where(*own)).scalars()), default=0)


def known_above(database: Database, least: int, chats_like: str, not_like: str = "") -> frozenset[int]:
    """The numbers above this one of the messages and posts known in the chats whose keys are like a pattern of LIKE."""

    def of_those(chat: ColumnElement[str]) -> ColumnElement[bool]:
        return and_(chat.like(chats_like), chat.not_like(not_like))

    refs = (
        select(taken.c.ref).where(of_those(taken.c.chat), _is_above(taken.c.ref, least)),
        select(outbox.c.ref).where(of_those(outbox.c.chat), _is_above(outbox.c.ref, least)),
    )
    with database.reading() as connection:
        found = [ref for one in refs for ref in connection.execute(one).scalars()]
        unheard = connection.execute(select(arrivals.c.written).where(of_those(arrivals.c.chat))).scalars()
        found += [json.loads(written)["ref"] for written in unheard]
    return frozenset(number for number in map(_number, found) if number > least)


def _is_above(ref: ColumnElement[str | None], least: int) -> ColumnElement[bool]:
    """Whether a ref is a higher number, as far as text tells: it may be no number at all."""
    written = str(least)
    as_long = func.length(ref) == len(written)
    return or_(func.length(ref) > len(written), and_(as_long, ref > cast(written, Text)))


def _number(ref: str) -> int:
    found = _NUMBER.fullmatch(ref)
    return int(found[1]) if found else 0
