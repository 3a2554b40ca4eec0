"""Questions the clerk has asked, what each is about, and whether it was answered."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import Executable, Text, bindparam, false, insert, select, update

from bot.storage.books import Books
from bot.storage.columns import Moment, Number
from bot.storage.tables import chats, members, questions

_GROUP = bindparam("in_group", type_=Number)
_MEMBER = bindparam("by_member", type_=Text)

_ASK = (
    insert(questions)
    .from_select(
        ["group_id", "member_id", "asked_at", "payload", "answered"],
        select(
            members.c.group_id,
            members.c.id,
            bindparam("at_moment", type_=Moment),
            bindparam("about", type_=Text),
            false(),
        ).where(members.c.group_id == _GROUP, members.c.name == _MEMBER),
    )
    .returning(questions.c.id)
)
_QUESTION = (
    select(questions.c.id, members.c.name, questions.c.asked_at, questions.c.payload, questions.c.answered)
    .join(members, (members.c.group_id == questions.c.group_id) & (members.c.id == questions.c.member_id))
    .where(questions.c.group_id == _GROUP)
)
_TALK = select(chats.c.talk).where(chats.c.chat == bindparam("in_chat", type_=Text))
_SET_TALK = (
    update(chats)
    .where(chats.c.chat == bindparam("in_chat", type_=Text))
    .values(talk=bindparam("as_written", type_=Text))
)
_NUMBERED = _QUESTION.where(questions.c.id == bindparam("number"))


@dataclass(frozen=True, slots=True)
class Talk:
    """What a word said next may refer to, kept with the chat so that a restart does not lose it.

    ``awaited`` are the questions of the last message that asked any, while nothing came between: a typed word alone
    answers the last of them. ``only_asked`` is the member whose last message was answered with nothing but questions.
    In a private chat ``known`` are the groups out of which the one shown was picked, and ``unplaced`` the questions of
    messages that wait for a group to be picked. Up to ``setting_up`` typed words answer the welcome's questions.
    ``just_kept`` is the last entry and whose it is, while nobody else has said anything since.
    """

    awaited: tuple[int, ...] = ()
    only_asked: str | None = None
    known: tuple[int, ...] = ()
    unplaced: tuple[int, ...] = ()
    setting_up: datetime | None = None
    just_kept: tuple[int, str] | None = None


_NOT_WRITTEN: list[Any] = [(), (), None, None]
"""What stands for the later parts of a talk that an earlier clerk has written down."""


def talk(books: Books) -> Talk:
    """What a word said next may refer to."""
    written = books.connection.execute(_TALK, {"in_chat": books.chat}).scalar()
    if not written:
        return Talk()
    awaited, only_asked, *later = json.loads(written)
    known, unplaced, until, kept = later + _NOT_WRITTEN[len(later) :]
    return Talk(
        tuple(awaited),
        only_asked,
        tuple(known),
        tuple(unplaced),
        datetime.fromisoformat(until) if until else None,
        tuple(kept) if kept else None,
    )


def set_talk(books: Books, talk: Talk) -> None:
    """Keep what a word said next may refer to."""
    until = talk.setting_up.isoformat() if talk.setting_up else None
    told = [talk.awaited, talk.only_asked, talk.known, talk.unplaced, until, talk.just_kept]
    written = json.dumps(told, ensure_ascii=False)
    books.connection.execute(_SET_TALK, {"in_chat": books.chat, "as_written": written})


@dataclass(frozen=True, slots=True)
class Question:
    """A question to a member; ``payload`` is whatever the asker needs to go on from the answer."""

    number: int
    by: str
    asked_at: datetime
    payload: str
    answered: bool


def ask(books: Books, by: str, at: datetime, payload: str) -> int:
    """Keep a question to a member; its number. Raises KeyError for an unknown member."""
    values = {"in_group": books.group_id, "by_member": by, "at_moment": at, "about": payload}
    number: int | None = books.connection.execute(_ASK, values).scalar()
    if number is None:
        raise KeyError(by)
    return number


def question(books: Books, number: int) -> Question | None:
    """The question of this number, answered or not."""
    return _question(books, _NUMBERED, number=number)


def last_question(books: Books, by: str) -> Question | None:
    """The newest question to a member; None where it is answered, or none was put."""
    newest = _QUESTION.where(members.c.name == _MEMBER).order_by(questions.c.id.desc()).limit(1)
    found = _question(books, newest, by_member=by)
    return None if found is None or found.answered else found


def restate(books: Books, number: int, payload: str) -> None:
    """Say anew what a question is about."""
    own = (questions.c.group_id == books.group_id, questions.c.id == number)
    books.connection.execute(update(questions).where(*own).values(payload=payload))


def close(books: Books, number: int) -> bool:
    """Mark a question as answered; True only the first time."""
    own = (questions.c.group_id == books.group_id, questions.c.id == number, ~questions.c.answered)
    return books.connection.execute(update(questions).where(*own).values(answered=True)).rowcount == 1


def _question(books: Books, statement: Executable, **values: object) -> Question | None:
    row = books.connection.execute(statement, {"in_group": books.group_id, **values}).first()
    return Question(*row) if row else None
