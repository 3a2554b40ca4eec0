"""What must be true once all is quiet: of the books, of the outbox, of the chats; and how often a post came twice."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Row, func, select

from bot.storage.books import Database
from bot.storage.tables import arrivals, entries, outbox, sightings, taken
from tests.telegram.asking import call
from tests.telegram.envelope import integer
from tests.telegram_stand_in import Call, TelegramStandIn
from tests.transports.crowd import Price, Said

Sent = tuple[int, int | None, str]
"""A post as it is sent: its chat, what it answers, its text."""
_KEPT = select(
    sightings.c.count.label("pencils"), sightings.c.price, sightings.c.live, entries.c.id, entries.c.undone_at
).join(entries, entries.c.id == sightings.c.entry_id)


def under_way(telegram: TelegramStandIn, database: Database) -> dict[str, int]:
    """How much is on its way still; asked in the order in which things go, so that nothing is overlooked."""
    updates = call(telegram, "getWebhookInfo")["pending_update_count"]
    with database.reading() as connection:
        unheard = connection.execute(select(func.count()).select_from(arrivals)).scalar_one()
    with database.reading() as connection:
        unshown = connection.execute(select(func.count()).where(outbox.c.sent_at.is_(None))).scalar_one()
    found = {"updates": updates, "arrivals": unheard, "posts": unshown}
    return {name: number for name, number in found.items() if number}


@dataclass(frozen=True, slots=True)
class Figures:
    """How often what happened."""

    messages: int
    posts: int
    faults: int
    lost: int
    """Posts sent whose answer was lost, by the storm."""
    found: int
    """Posts that were there already and were not sent again."""
    doubles: int

    def __str__(self) -> str:
        return (
            f"{self.messages} messages, {self.posts} posts, {self.faults} calls went wrong,"
            f" {self.lost} sent posts had their answers lost, {self.found} posts were found, {self.doubles} came twice"
        )


class Reckoning:
    """The database and the chats, against what was said there."""

    def __init__(self, telegram: TelegramStandIn, database: Database, said: Sequence[Said]) -> None:
        self._telegram = telegram
        self._said = said
        with database.reading() as connection:
            self._posts = [_queued(row) for row in connection.execute(select(outbox).order_by(outbox.c.id))]
            self._kept = [(Price(row.pencils, row.price), row) for row in connection.execute(_KEPT)]
            self._taken = {(_number(row.chat), row.ref): row.entry_id for row in connection.execute(select(taken))}
        self._entries = dict(self._kept)

    def faults(self) -> Iterator[str]:
        """Whatever is not as it must be."""
        if len(self._kept) != len(self._entries):
            yield f"{len(self._kept)} prices are kept, of which {len(self._entries)} differ"
        if strange := set(self._entries) - set(self._all_prices()):
            yield f"nobody said {strange}"
        for one in self._said:
            yield from (f"{one}: {fault}" for fault in (*self._in_books(one), *self._in_outbox(one)))
        yield from self._not_in_order()
        yield from self._not_shown()
        for post, copies in self._copies().items():
            if copies > 1 + max(self._lost()[post], 1):
                yield f"{post} came {copies} times"

    def figures(self) -> Figures:
        """How often what happened."""
        return Figures(
            len(self._said),
            len(self._posts),
            sum(one.outcome != "ok" and not one.outcome.startswith("Bad Request") for one in self._telegram.log),
            self._lost().total(),
            len(set(self._found())),
            sum(copies - 1 for copies in self._copies().values()),
        )

    def _all_prices(self) -> Iterator[Price]:
        for one in self._said:
            yield one.price
            if one.changed_to is not None:
                yield one.changed_to

    def _in_books(self, one: Said) -> Iterator[str]:
        """Each price stands in the books once, and the last of a message alone, unless it was taken back."""
        first = self._entries.get(one.price)
        last = self._entries.get(one.changed_to or one.price)
        if first is None or last is None:
            yield "not in the books"
            return
        if last.live == one.is_taken_back or (last.undone_at is None) == one.is_taken_back:
            yield "taken back" if one.is_taken_back is False else "not taken back"
        if last is not first and first.live:
            yield "not changed"
        if self._taken.get((one.chat, str(one.number))) != last.id:
            yield "another entry is noted for it"

    def _in_outbox(self, one: Said) -> Iterator[str]:
        """Each message was answered once, each change and each press once more."""
        answers = sum((post.chat, post.answers) == (one.chat, str(one.number)) for post in self._posts)
        if answers != 1 + (one.changed_to is not None):
            yield f"answered {answers} times"
        undone = sum(post.text.startswith(f"Taken back: {one.price.summary}") for post in self._posts)
        if undone != one.is_taken_back:
            yield f"taken back {undone} times"
        if not any(post.answers == one.number for post in self._telegram.posts(one.chat)):
            yield "no answer is shown"

    def _not_in_order(self) -> Iterator[str]:
        """The entries of one chat are in the order of its messages, but for those that came mixed up."""
        chats: dict[int, list[int]] = {}
        for one in self._said:
            if one.in_order and one.price in self._entries:
                chats.setdefault(one.chat, []).append(self._entries[one.price].id)
        yield from (
            f"the entries of {chat} are not in order" for chat, found in chats.items() if found != sorted(found)
        )

    def _not_shown(self) -> Iterator[str]:
        """Each post of the outbox is shown under its number, unless a later one took its place."""
        last = {(post.chat, post.ref): post for post in self._posts}
        shown: dict[tuple[int, str | None], str] = {}
        for chat in {one.chat for one in self._said}:
            shown |= {(chat, str(post.message_id)): post.text for post in self._telegram.posts(chat)}
        for place, post in last.items():
            if shown.get(place) != post.text:
                yield f"{post} is shown as {shown.get(place)!r}"

    def _copies(self) -> Counter[Sent]:
        """How often each post was sent so that it stands in its chat."""
        return Counter(_shown(one) for one in self._sends() if one.took_effect)

    def _lost(self) -> Counter[Sent]:
        return Counter(_shown(one) for one in self._sends() if one.outcome == "lost")

    def _found(self) -> Iterator[tuple[int, int]]:
        """The places of posts that were looked for where they stood."""
        sent = {(post[0], post[2]) for post in self._copies()}
        for one in self._telegram.log:
            if one.method == "editMessageText" and "not modified" in one.outcome:
                chat = integer(one.params, "chat_id")
                if (chat, one.params["text"]) in sent:
                    yield chat, integer(one.params, "message_id")

    def _sends(self) -> Iterable[Call]:
        return (one for one in self._telegram.log if one.method == "sendMessage")


def _shown(one: Call) -> Sent:
    reply = one.params.get("reply_parameters") or {}
    return integer(one.params, "chat_id"), reply.get("message_id"), str(one.params["text"])


@dataclass(frozen=True, slots=True)
class _Post:
    """A post of the outbox, and under which ref it is shown."""

    chat: int
    text: str
    answers: str | None
    ref: str | None


def _queued(row: Row[Any]) -> _Post:
    text, _, _, answers, *_ = json.loads(row.post)
    return _Post(_number(row.chat), text, answers, row.ref)


def _number(chat: str) -> int:
    return int(chat.removeprefix("telegram:"))
