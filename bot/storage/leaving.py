"""Leaving: a member is forgotten, two names become one member, and all data of a group goes."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import Column, ColumnElement, Row, Table, Text, and_, delete, func, select, update

from bot.storage.books import Books
from bot.storage.calendar_tables import alerts, reminder_times, reminders, settings_said, timed_posts, window_rules
from bot.storage.columns import metadata
from bot.storage.group import free_name
from bot.storage.rows import names_changed
from bot.storage.stock_tables import hazards, kits, not_packed, stock_moves
from bot.storage.tables import (
    aliases,
    arrivals,
    chats,
    claims,
    entries,
    groups,
    items,
    members,
    outbox,
    photos,
    splits,
    stores,
    taken,
)

FORMER = "Former member"
"""What somebody is called whom the books have forgotten; a number follows where there are several."""
NAMES = (
    groups.c.name,
    members.c.name,
    stores.c.name,
    items.c.name,
    aliases.c.alias,
    kits.c.name,
    window_rules.c.name,
    not_packed.c.name,
)
"""Names of others and of things; they stay, also where a text says them: "Mei 2" and "Mei's Market" are not Mei."""
CODES = (
    groups.c.currency,
    groups.c.timezone,
    groups.c.country,
    groups.c.rounding,
    groups.c.home,
    members.c.key,
    settings_said.c.setting,
    settings_said.c.value,
    window_rules.c.starts,
    window_rules.c.ends,
    window_rules.c.markdowns,
    reminder_times.c.clock,
    stock_moves.c.why,
    hazards.c.hazard,
    alerts.c.state,
    timed_posts.c.key,
    timed_posts.c.outcome,
    photos.c.photo,
    arrivals.c.chat,
    outbox.c.chat,
    outbox.c.ref,
)
"""Texts that only the clerk reads, in which no name stands."""

Reword = Callable[[str], str]


@dataclass(frozen=True, slots=True)
class Extent:
    """How much a group's books hold: entries, those taken back as well, and when the first was made."""

    entries: int
    since: datetime | None


@dataclass(frozen=True, slots=True)
class Forgotten:
    """What somebody forgotten is called from now on, and the books in which they can be told so."""

    name: str
    books: Books


def extent(books: Books) -> Extent:
    """How much the books hold."""
    own = select(func.count(), func.min(entries.c.made_at)).where(entries.c.group_id == books.group_id)
    return Extent(*books.connection.execute(own).one())


def with_account(books: Books) -> set[str]:
    """The members that have an account in a chat; others are only spoken of."""
    own = (members.c.group_id == books.group_id, members.c.key.is_not(None))
    return set(books.connection.execute(select(members.c.name).where(*own)).scalars())


def forget(books: Books, name: str, *, in_any_case: bool) -> Forgotten:
    """Take a member's name, key and rights out of the books; what they entered, owe and hold stays.

    The name goes out of every text that may hold it, in whatever case it is written unless it is a plain word too.
    """
    member = _member(books, name)
    former = free_name(books, FORMER)
    _reword_all(books, _rewording(books, name, former, in_any_case=in_any_case))
    _drop_arrivals(books, member)
    mine = (members.c.group_id == books.group_id, members.c.id == member.id)
    books.connection.execute(update(members).where(*mine).values(name=former, key=None, administrator=False))
    to_them = (reminders.c.group_id == books.group_id, reminders.c.whom_id == member.id)
    books.connection.execute(update(reminders).where(*to_them).values(live=False))
    names_changed(books)
    return Forgotten(former, _without_private_chat(books, member.key))


def _member(books: Books, name: str) -> Row[*tuple[Any, ...]]:
    own = (members.c.group_id == books.group_id, members.c.name == name)
    return books.connection.execute(select(members).where(*own)).one()


def _own(books: Books, table: Table) -> ColumnElement[bool]:
    """The group's rows of a table: those of its number or, of what nobody has heard yet, those of its chats."""
    if table is groups:
        return groups.c.id == books.group_id
    return table.c.group_id == books.group_id if "group_id" in table.c else table.c.chat.in_(_chats_of(books))


def _chats_of(books: Books) -> Any:
    return select(chats.c.chat).where(chats.c.group_id == books.group_id)


def _reword_all(books: Books, reword: Reword) -> None:
    """Reword the texts of the group's rows.

    Every text column of every table is walked: what entries and notes say, posts that wait or are delivered, questions
    with their answers, what a talk refers to, reminders, messages not heard yet, and whatever a later table keeps.
    Left out are primary keys, the names of others and of things, and what only the clerk reads.
    """
    for table in metadata.sorted_tables:
        key = list(table.primary_key)
        for column in table.c:
            if _may_hold_words(column):
                for *place, text in books.connection.execute(select(*key, column).where(_own(books, table))).all():
                    if text is not None and (reworded := _reworded(text, reword)) != text:
                        here = [part == value for part, value in zip(key, place, strict=True)]
                        books.connection.execute(update(table).where(*here).values({column: reworded}))


def _may_hold_words(column: Column[Any]) -> bool:
    kept = any(column is other for other in (*NAMES, *CODES))
    return isinstance(column.type, Text) and not (kept or column.primary_key)


def _reworded(text: str, reword: Reword) -> str:
    """A text reworded; one that is JSON in each of its strings, so that it stays JSON."""
    try:
        said = json.loads(text)
    except ValueError:
        return reword(text)
    return json.dumps(_each_string(said, reword), ensure_ascii=False) if isinstance(said, list | dict) else reword(text)


def _each_string(said: Any, reword: Reword) -> Any:
    match said:
        case str():
            return reword(said)
        case list():
            return [_each_string(one, reword) for one in said]
        case dict():
            return {key: _each_string(one, reword) for key, one in said.items()}
        case _:
            return said


def _rewording(books: Books, name: str, new: str, *, in_any_case: bool) -> Reword:
    """Puts a new name in the place of an old one, where it stands as a word of its own and in no longer name."""
    plain = name.casefold()
    longer = {one for column in NAMES for one in _names(books, column) if plain in one.casefold() != plain}
    if not any(map(str.isalpha, name)):
        return lambda text: text  # it could not be told from a number or a sign
    words = "|".join(map(re.escape, [*sorted(longer, key=len, reverse=True), name]))
    pattern = re.compile(rf"(?<!\w)(?:{words})(?!\w)", re.IGNORECASE if in_any_case else 0)
    return lambda text: pattern.sub(lambda found: new if found[0].casefold() == plain else found[0], text)


def _names(books: Books, column: Column[Any]) -> list[str]:
    return list(books.connection.execute(select(column).where(_own(books, column.table))).scalars())


def _drop_arrivals(books: Books, member: Row[*tuple[Any, ...]]) -> None:
    """Let go of what a member has sent and nobody has heard yet."""
    came = select(arrivals.c.number, arrivals.c.written).where(_own(books, arrivals))
    for number, written in books.connection.execute(came).all():
        sender = json.loads(written)["sender"]
        if sender["key"] == member.key and (member.key is not None or sender["name"] == member.name):
            books.connection.execute(delete(arrivals).where(arrivals.c.number == number))


def _without_private_chat(books: Books, key: str | None) -> Books:
    """Let a member's private chat, whose key is their own, show the group no more; where they are answered now."""
    if key is None:
        return books
    for table in (outbox, taken):
        books.connection.execute(delete(table).where(_own(books, table), table.c.chat == key))
    _show_their_own(books, chats.c.chat == key)
    shown = books.connection.execute(select(chats.c.group_id).where(chats.c.chat == books.chat)).scalar_one()
    return books if shown == books.group_id else replace(books, group_id=shown, home=books.chat)


def _show_their_own(books: Books, which: ColumnElement[bool]) -> None:
    """Let private chats that show the group show the books again that are their own."""
    home = groups.alias("home")
    of_theirs = select(home.c.id).where(home.c.home == chats.c.chat, home.c.id != books.group_id).scalar_subquery()
    showing = (chats.c.group_id == books.group_id, of_theirs.is_not(None), which)
    books.connection.execute(update(chats).where(*showing).values(group_id=of_theirs, talk=None))


def erase(books: Books) -> None:
    """Delete every row of the group, and whatever else its chats have left; nothing of it is known afterwards."""
    connection = books.connection
    connection.execute(delete(arrivals).where(_own(books, arrivals)))
    connection.execute(delete(outbox).where(_offers(books)))
    _show_their_own(books, chats.c.chat != books.home)
    for table in (outbox, taken):
        connection.execute(delete(table).where(table.c.chat.in_(_chats_of(books))))
    for table in reversed(metadata.sorted_tables):
        connection.execute(delete(table).where(_own(books, table)))


def _offers(books: Books) -> ColumnElement[bool]:
    """The posts in its members' own books that ask in which group something was said, and name this one."""
    keys = select(members.c.key).where(members.c.group_id == books.group_id)
    return and_(outbox.c.chat.in_(keys), outbox.c.post.contains(f'"own:{books.group_id}:'))


def both_claimed(books: Books, one: str, other: str) -> list[str]:
    """The items of the open splits of which both members have asked for some."""
    asked = [
        select(claims.c.split_id)
        .join(members, (members.c.group_id == claims.c.group_id) & (members.c.id == claims.c.member_id))
        .where(claims.c.group_id == books.group_id, claims.c.live, members.c.name == name)
        for name in (one, other)
    ]
    still_open = (splits.c.live, splits.c.shared_by.is_(None), splits.c.called_off_by.is_(None))
    found = (
        select(items.c.name)
        .join(splits, (splits.c.group_id == items.c.group_id) & (splits.c.item_id == items.c.id))
        .where(splits.c.group_id == books.group_id, *still_open, *(splits.c.id.in_(claimed) for claimed in asked))
        .order_by(splits.c.id)
    )
    return list(dict.fromkeys(books.connection.execute(found).scalars()))


def join(books: Books, name: str, account: str, called: str) -> None:
    """Make the member of a name and the one of an account one, called by one of the two names in all texts as well.

    What is booked under either is theirs. Of claims and reservations, in which a member's newest counts, the newest
    of both does.
    """
    gone, kept = _member(books, name), _member(books, account)
    _reword_all(books, _rewording(books, account if called == name else name, called, in_any_case=False))
    for column in references_to_members():
        theirs = (_own(books, column.table), column == gone.id)
        books.connection.execute(update(column.table).where(*theirs).values({column: kept.id}))
    own = members.c.group_id == books.group_id
    books.connection.execute(delete(members).where(own, members.c.id == gone.id))
    together = {"balance": kept.balance + gone.balance, "administrator": bool(kept.administrator or gone.administrator)}
    books.connection.execute(update(members).where(own, members.c.id == kept.id).values(name=called, **together))
    names_changed(books)


def references_to_members() -> list[Column[Any]]:
    """Every column that refers to a member."""
    return [
        element.parent
        for table in metadata.sorted_tables
        for constraint in table.foreign_key_constraints
        for element in constraint.elements
        if element.column is members.c.id
    ]
