"""The chats of a group: its home, the private chats in which members see its books, and what happens to them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from sqlalchemy import Connection, insert, select, update

from bot.storage.books import Books, Database
from bot.storage.tables import chats, groups, members, outbox, taken


@dataclass(frozen=True, slots=True)
class Membership:
    """A group that somebody is a member of."""

    group_id: int
    group: str


def memberships(books: Books, key: str) -> list[Membership]:
    """The groups that the holder of a key is a member of and that the clerk is in, the oldest first."""
    rows = books.connection.execute(
        select(groups.c.id, groups.c.name)
        .join(members, members.c.group_id == groups.c.id)
        .join(chats, chats.c.chat == groups.c.home)
        .where(members.c.key == key, groups.c.private.is_not(True), chats.c.silent_since.is_(None))
        .order_by(groups.c.id)
    )
    return [Membership(*row) for row in rows]


def show(books: Books, membership: Membership) -> Books:
    """From now on the chat shows the books of this group: they are open, in the same transaction."""
    connection = books.connection
    found = connection.execute(
        select(groups.c.home).where(groups.c.id == membership.group_id).with_for_update(of=groups)
    ).scalar_one()
    own = chats.c.chat == books.chat
    connection.execute(update(chats).where(own).values(group_id=membership.group_id, talk=None))
    return replace(books, group_id=membership.group_id, home=found)


def group_of(books: Books, post: str | None, message: str | None) -> int | None:
    """The group out of whose books the post under a ref came in this chat, or into whose a message has gone."""
    shown = select(outbox.c.group_id).where(outbox.c.chat == books.chat, outbox.c.ref == post)
    entered = select(taken.c.group_id).where(
        taken.c.chat == books.chat, taken.c.ref == message, taken.c.entry_id.is_not(None)
    )
    wanted = entered if message is not None else shown.order_by(outbox.c.id.desc()).limit(1) if post else None
    found: int | None = None if wanted is None else books.connection.execute(wanted).scalar()
    return found


def private_chat(books: Books, member: str) -> str | None:
    """The private chat in which a member sees the books: its key is the member's own."""
    found: str | None = books.connection.execute(
        select(chats.c.chat)
        .join(members, members.c.key == chats.c.chat)
        .where(members.c.group_id == books.group_id, members.c.name == member, chats.c.group_id == books.group_id)
    ).scalar()
    return found


def homes(database: Database) -> list[str]:
    """The home chats of all groups in which the clerk is."""
    with database.reading() as connection:
        told = select(groups.c.home).join(chats, chats.c.chat == groups.c.home)
        return [str(home) for home in connection.execute(told.where(chats.c.silent_since.is_(None))).scalars()]


def fall_silent(books: Books, at: datetime) -> None:
    """The clerk was removed from the chat: nothing is said there until it is added again; what waits is let go."""
    books.connection.execute(update(chats).where(chats.c.chat == books.chat).values(silent_since=at))
    waiting = (outbox.c.group_id == books.group_id, outbox.c.chat == books.chat, outbox.c.sent_at.is_(None))
    books.connection.execute(update(outbox).where(*waiting).values(ref="", sent_at=at))


def speak_again(books: Books) -> None:
    """The clerk is in the chat again."""
    books.connection.execute(update(chats).where(chats.c.chat == books.chat).values(silent_since=None))


def move(database: Database, old: str, new: str, at: datetime) -> bool:
    """A chat goes on under another key: its group speaks up there, and what waits goes there.

    Nothing where it has moved already. False where the new one has kept books of its own by now, or the old has none.
    """
    with database.transaction() as connection:
        group_id = connection.execute(select(groups.c.id).where(groups.c.home == old)).scalar()
        if group_id is None:
            return _is_shared(connection, old, new)
        if connection.execute(select(chats.c.chat).where(chats.c.chat == new)).first() is not None:
            return False
        connection.execute(insert(chats), {"chat": new, "group_id": group_id})
        connection.execute(update(groups).where(groups.c.id == group_id).values(home=new))
        connection.execute(update(chats).where(chats.c.chat == old).values(silent_since=at))
        waiting = (outbox.c.chat == old, outbox.c.sent_at.is_(None))
        connection.execute(update(outbox).where(*waiting).values(chat=new))
    return True


def _is_shared(connection: Connection, old: str, new: str) -> bool:
    groups_of = select(chats.c.group_id).where(chats.c.chat.in_((old, new)))
    found = connection.execute(groups_of).scalars().all()
    return len(found) == 2 and found[0] == found[1]
