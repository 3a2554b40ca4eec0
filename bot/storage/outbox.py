"""The outbox: posts written in the same transaction as their cause, so that a crash loses none."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Text, Update, bindparam, exists, func, insert, select, update

from bot.messages import Button, Post, Queued
from bot.storage.books import Books, Database
from bot.storage.columns import Moment, Number
from bot.storage.tables import outbox, questions, taken

_PART = re.compile(r"part:(\d+):(.*)", re.DOTALL)
"""The ref of a post of which only some parts are shown: how many, and the ref of the last one."""
_DOUBT = "?"
"""Ends the ref of a post that waits but may have been shown."""
_GROUP = bindparam("in_group", type_=Number)
_REF = bindparam("under_ref", type_=Text)

_CHAT = bindparam("in_chat", type_=Text)
_ENTRY = bindparam("of_entry", type_=Number)
_TAKE = (
    insert(taken)
    .from_select(
        ["group_id", "chat", "ref"],
        select(_GROUP, _CHAT, _REF).where(~exists().where(taken.c.chat == _CHAT, taken.c.ref == _REF)),
    )
    .execution_options(preserve_rowcount=True)
)
_BROUGHT = update(taken).where(taken.c.chat == _CHAT, taken.c.ref == _REF).values(group_id=_GROUP, entry_id=_ENTRY)
_QUEUE = insert(outbox).returning(outbox.c.id)
_EARLIER = outbox.alias("earlier")
_REPLACES = (
    select(_EARLIER.c.ref)
    .where(
        _EARLIER.c.group_id == outbox.c.group_id,
        _EARLIER.c.split_id == outbox.c.split_id,
        _EARLIER.c.chat == outbox.c.chat,
        _EARLIER.c.ref != "",
        _EARLIER.c.sent_at.is_not(None),
    )
    .order_by(_EARLIER.c.id.desc())
    .limit(1)
    .scalar_subquery()
)
_WAITING = (
    select(
        outbox.c.id,
        outbox.c.chat,
        outbox.c.made_at,
        outbox.c.post,
        outbox.c.split_id,
        outbox.c.ref,
        _REPLACES.label("replaces"),
    )
    .where(outbox.c.sent_at.is_(None))
    .order_by(outbox.c.id)
)
_WAITING_IN_CHAT = _WAITING.where(outbox.c.chat == bindparam("chat"))
_NOTE = update(outbox).where(
    outbox.c.chat == _CHAT, outbox.c.id == bindparam("under_number"), outbox.c.sent_at.is_(None)
)
_DELIVERED = _NOTE.values(ref=_REF, sent_at=bindparam("at_moment", type_=Moment))
_ORIGIN = (
    select(outbox.c.entry_id, outbox.c.question_id, outbox.c.post)
    .where(outbox.c.group_id == _GROUP, outbox.c.chat == bindparam("chat"), outbox.c.ref == _REF)
    .order_by(outbox.c.id.desc())
    .limit(1)
)
_SHOWN = (
    select(outbox.c.chat, outbox.c.ref, outbox.c.post)
    .where(outbox.c.group_id == _GROUP, outbox.c.entry_id == _ENTRY, outbox.c.ref != "", outbox.c.sent_at.is_not(None))
    .order_by(outbox.c.id)
)
_ASKED = (
    select(outbox.c.question_id, outbox.c.ref, outbox.c.post)
    .join(questions, (questions.c.group_id == outbox.c.group_id) & (questions.c.id == outbox.c.question_id))
    .where(outbox.c.group_id == _GROUP, outbox.c.chat == _CHAT, ~questions.c.answered)
    .order_by(outbox.c.id.desc())
    .limit(50)
)


@dataclass(frozen=True, slots=True)
class Shown:
    """A post that is shown in a chat."""

    chat: str
    ref: str
    post: Post


@dataclass(frozen=True, slots=True)
class Asked:
    """A question that nobody has answered, and the ref of its post, empty where that is not shown yet."""

    question: int
    ref: str


@dataclass(frozen=True, slots=True)
class Origin:
    """What a delivered post was about: the entry it echoed, the question it asked; and the post itself."""

    entry: int | None
    question: int | None
    post: Post


def take(books: Books, ref: str) -> bool:
    """True the first time a message of this ref is taken in the chat."""
    values = {"in_group": books.group_id, "in_chat": books.chat, "under_ref": ref}
    return books.connection.execute(_TAKE, values).rowcount == 1


def brought(books: Books, ref: str, entry: int) -> None:
    """Note which entry a message has brought, in these books: it may have been taken before its chat turned to them."""
    values = {"in_group": books.group_id, "in_chat": books.chat, "under_ref": ref, "of_entry": entry}
    books.connection.execute(_BROUGHT, values)


def entry_of(books: Books, ref: str) -> int | None:
    """The entry that a message has brought, taken back or not."""
    own = (taken.c.group_id == books.group_id, taken.c.chat == books.chat, taken.c.ref == ref)
    number: int | None = books.connection.execute(select(taken.c.entry_id).where(*own)).scalar()
    return number


def pass_on(books: Books, entry: int, to: int) -> None:
    """What brought an entry and what was said of it are of another from now on, which says it anew."""
    for table in (taken, outbox):
        own = (table.c.group_id == books.group_id, table.c.entry_id == entry)
        books.connection.execute(update(table).where(*own).values(entry_id=to))


def shown_of(books: Books, entry: int) -> list[Shown]:
    """The posts about an entry that are shown, oldest first."""
    rows = books.connection.execute(_SHOWN, {"in_group": books.group_id, "of_entry": entry})
    return [Shown(row.chat, row.ref, _post(row.post, None)) for row in rows]


def asked_of(books: Books, ref: str) -> list[Asked]:
    """The questions about a message that nobody has answered, among the last fifty of the chat, the newest first."""
    rows = books.connection.execute(_ASKED, {"in_group": books.group_id, "in_chat": books.chat}).all()
    return [Asked(row.question_id, row.ref or "") for row in rows if _post(row.post, None).answers == ref]


def queue(books: Books, post: Post, at: datetime, entry: int | None = None, question: int | None = None) -> int:
    """Put a post into the outbox, with the entry or question it is about; its number."""
    row = {
        "group_id": books.group_id,
        "chat": books.chat,
        "made_at": at,
        "post": _written(post),
        "entry_id": entry,
        "question_id": question,
        "split_id": post.split,
    }
    number: int = books.connection.execute(_QUEUE, row).scalar_one()
    return number


def has_newer(books: Books, number: int) -> bool:
    """Whether a post was made for the chat after the one of this number."""
    own = (outbox.c.group_id == books.group_id, outbox.c.chat == books.chat, outbox.c.id > number)
    return books.connection.execute(select(outbox.c.id).where(*own).limit(1)).first() is not None


def waiting(database: Database, chat: str | None) -> list[Queued]:
    """The posts not yet delivered, oldest first, of one chat or of all groups."""
    statement, values = (_WAITING, {}) if chat is None else (_WAITING_IN_CHAT, {"chat": chat})
    with database.reading() as connection:
        rows = connection.execute(statement, values).all()
    return [
        Queued(
            row.id,
            row.chat,
            row.made_at,
            _post(row.post, row.split_id),
            row.replaces,
            *_shown_so_far(row.ref or ""),
        )
        for row in rows
    ]


def chats_waiting(database: Database) -> list[str]:
    """The chats in which a post waits."""
    with database.reading() as connection:
        return list(connection.execute(select(outbox.c.chat).where(outbox.c.sent_at.is_(None)).distinct()).scalars())


def newest_posts(database: Database, chat: str) -> list[Post]:
    """The posts made for a chat at the moment of the newest one, oldest first."""
    newest = select(outbox.c.made_at).where(outbox.c.chat == chat).order_by(outbox.c.id.desc()).limit(1)
    told = select(outbox.c.post, outbox.c.split_id).where(
        outbox.c.chat == chat, outbox.c.made_at == newest.scalar_subquery()
    )
    with database.reading() as connection:
        return [_post(row.post, row.split_id) for row in connection.execute(told.order_by(outbox.c.id))]


def delivered(database: Database, queued: Queued, ref: str, at: datetime) -> None:
    """Note that a post was shown, under which ref; nothing if that was noted before."""
    _note(database, queued, _DELIVERED, under_ref=ref, at_moment=at)


def shown_in_part(database: Database, queued: Queued, parts: int, last: str) -> None:
    """Note that so many parts of a post are shown, the last under which ref, and more are to come."""
    _note(database, queued, _NOTE.values(ref=f"part:{parts}:{last}"))


def doubt(database: Database, queued: Queued) -> None:
    """Note that a post, or its next part, may have been shown: whoever tries next should look for it first."""
    if not queued.is_doubtful:
        _note(database, queued, _NOTE.values(ref=func.coalesce(outbox.c.ref, "") + _DOUBT))


def _note(database: Database, queued: Queued, statement: Update, **values: object) -> None:
    """A post belongs to its chat, whichever books the chat has turned to since."""
    with database.transaction() as connection:
        connection.execute(statement, {"in_chat": queued.chat, "under_number": queued.number, **values})


def _shown_so_far(ref: str) -> tuple[int, bool]:
    """How many parts of a post that waits are shown, and whether the next one is in doubt."""
    part = _PART.fullmatch(ref)
    return int(part[1]) if part else 0, ref.endswith(_DOUBT)


def last_number(database: Database) -> int:
    """The number of the newest post."""
    with database.reading() as connection:
        return connection.execute(select(func.max(outbox.c.id))).scalar() or 0


def origin(books: Books, ref: str) -> Origin | None:
    """What the post delivered under this ref was about; None if no post was."""
    values = {"in_group": books.group_id, "chat": books.chat, "under_ref": ref}
    row = books.connection.execute(_ORIGIN, values).first()
    return Origin(row.entry_id, row.question_id, _post(row.post, None)) if row else None


def _written(post: Post) -> str:
    buttons = [[button.label, button.action] for button in post.buttons]
    rest = [post.reaction, post.topic, post.edits, post.only_changes]
    return json.dumps([post.text, buttons, post.to, post.answers, post.picture, *rest], ensure_ascii=False)


def _post(written: str, split: int | None) -> Post:
    text, buttons, to, answers, picture, *rest = json.loads(written)
    return Post(text, tuple(Button(*button) for button in buttons), to, answers, picture, split, *rest)
