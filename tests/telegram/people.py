"""What people do: the verbs of the stand-in."""

from __future__ import annotations

import threading
from collections.abc import Iterable, Mapping, Sequence
from itertools import count
from typing import TypedDict, Unpack

from tests.telegram.envelope import Json
from tests.telegram.faults import Weather
from tests.telegram.messenger import Chat, Messenger
from tests.telegram.shapes import (
    BOT,
    BOT_ID,
    Person,
    Shown,
    file,
    in_topic,
    member,
    now,
    person,
    photo,
    said,
    shown_message,
    words,
)
from tests.telegram.updates import Update, Updates

GROUP = -1001
OTHER_GROUP = -2002
SUPERGROUP = -1_001_000_000_001

User = str | Person


class Manner(TypedDict, total=False):
    """How something is said."""

    reply_to: int | Shown
    topic: int
    fields: Mapping[str, object]
    """These add to the message or replace."""


class People:
    """Everybody in the chats. Message numbers are those of the chat, ``chat`` is the group where none is named."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._messenger = Messenger()
        self._updates = Updates()
        self._weather = Weather()
        self._presses = count(1)

    def says(self, user: User, text: str, chat: int = GROUP, **how: Unpack[Manner]) -> int:
        """A person says something; return the message id."""
        return self._writes(user, self._chat(chat), words(text), how)

    def sends_photo(
        self, user: User, caption: str, file_ids: Sequence[str], chat: int = GROUP, **how: Unpack[Manner]
    ) -> int:
        """A person sends a photo, which has a file for each of its sizes, the smallest first."""
        return self._sends(user, chat, photo(list(file_ids)) | {"caption": caption}, how)

    def sends_document(self, user: User, caption: str, file_id: str, chat: int = GROUP, **how: Unpack[Manner]) -> int:
        """A person sends a file; its name can be given among the fields, as {"document": ...}."""
        return self._sends(user, chat, {"document": file(file_id), "caption": caption}, how)

    def edits(self, user: User, message_id: int, text: str, chat: int = GROUP) -> None:
        """A person changes the words, or the caption, of a message of theirs."""
        with self._changed:
            there = self._chat(chat)
            message = dict(there.messages[message_id])
            message |= {"caption": text} if "caption" in message else words(text)
            there.messages[message_id] = message | {"edit_date": now()}
            self._know(user)
            if self._may_hear(there, message):
                self._report(there, "edited_message", there.messages[message_id])

    def presses(self, user: User, label: str, chat: int = GROUP) -> None:
        """A person presses the button of that label on the last post in the chat that has one."""
        with self._changed:
            posts = reversed(self._chat(chat).posts.values())
            post = next(post for post in posts if label in post.buttons)
            self.forges_press(user, chat, post, post.action(label))

    def forges_press(self, user: User, chat: int, post: Shown, data: str) -> None:
        """A person sends a press that no button need have: on any post, from any chat, with any data."""
        with self._changed:
            there, press = self._chat(chat), str(next(self._presses))
            self._messenger.presses.add(press)
            query: Json = {"id": press, "from": self._know(user), "chat_instance": str(chat), "data": data}
            self._report(there, "callback_query", query | {"message": shown_message(post, there.json())})

    def deletes(self, post: Shown) -> None:
        """An administrator deletes a post of the bot."""
        with self._changed:
            self._chat(post.chat).posts.pop(post.message_id, None)

    def opens_topic(self, user: User, name: str, chat: int = SUPERGROUP) -> int:
        """A forum gets a topic; return its thread id."""
        with self._changed:
            there = self._chat(chat)
            topic = next(there.numbers)
            there.topics[topic] = True
            event: Json = {"forum_topic_created": {"name": name, "icon_color": 7322096}} | in_topic(topic)
            self._announces(there, user, event, topic)
            return topic

    def closes_topic(self, user: User, topic: int, chat: int = SUPERGROUP) -> None:
        """Only administrators may write there from now on."""
        with self._changed:
            there = self._chat(chat)
            there.topics[topic] = False
            self._announces(there, user, {"forum_topic_closed": {}} | in_topic(topic))

    def deletes_topic(self, topic: int, chat: int = SUPERGROUP) -> None:
        """It is gone, and the bot is not told."""
        with self._changed:
            del self._chat(chat).topics[topic]

    def adds_bot(self, user: User, chat: int = GROUP) -> None:
        """The bot comes into a group, or a person starts a private chat with it."""
        with self._changed:
            there = self._chat(chat)
            self._turns_bot(user, there, "left" if there.has_bot else there.bot, "member")
            if there.kind != "private":
                self._announces(there, user, {"new_chat_members": [BOT]})

    def promotes_bot(self, user: User, chat: int = GROUP) -> None:
        """The bot becomes an administrator."""
        with self._changed:
            there = self._chat(chat)
            self._turns_bot(user, there, there.bot, "administrator")

    def removes_bot(self, user: User, chat: int = GROUP) -> None:
        """The bot is shown the door, or a person blocks it."""
        with self._changed:
            there = self._chat(chat)
            self._turns_bot(user, there, there.bot, "kicked")

    def upgrades(self, chat: int = GROUP, user: User = "Mei") -> int:
        """A group becomes a supergroup; return the new id. Each of the two chats says so."""
        with self._changed:
            old = self._chat(chat)
            new = self._messenger.new_supergroup(old.title)
            new.bot = old.bot
            self._announces(old, user, {"migrate_to_chat_id": new.chat_id})
            old.upgraded_to = new.chat_id
            self._announces(new, user, {"migrate_from_chat_id": chat})
            return new.chat_id

    def allows_reactions(self, emoji: Iterable[str], chat: int = GROUP) -> None:
        """The administrators leave only these reactions."""
        with self._changed:
            self._chat(chat).allowed_reactions = frozenset(emoji)

    # How what they did reaches the bot

    def says_again(self, back: int = 1) -> None:
        """The update that many back comes once more, as after a crash that came before its confirmation."""
        with self._changed:
            self._updates.again(self._updates.reported[-back])
            self._woken()

    def holds_back(self) -> None:
        """What is done from now on does not reach the bot yet."""
        with self._changed:
            self._updates.hold()

    def lets_go(self, seed: int) -> None:
        """What was held back reaches the bot in an order that the seed decides."""
        with self._changed:
            self._updates.let_go(seed)
            self._woken()

    def _sends(self, user: User, chat: int, content: Json, how: Manner) -> int:
        sent = [one["file_id"] for one in (*content.get("photo", ()), content.get("document")) if one]
        with self._changed:
            self._messenger.files.update(sent)
            return self._writes(user, self._chat(chat), content, how)

    def _writes(self, user: User, there: Chat, content: Json, how: Manner) -> int:
        with self._changed:
            if (topic := how.get("topic")) is not None:
                there.topics.setdefault(topic, True)
                content = content | in_topic(topic)
            if (reply_to := how.get("reply_to")) is not None:
                content = content | _reply(there, reply_to)
            message = said(next(there.numbers), self._know(user), there.json(), **content) | dict(how.get("fields", {}))
            there.keep(message)
            if self._may_hear(there, message):
                self._report(there, "message", message)
            return int(message["message_id"])

    def _announces(self, there: Chat, user: User, event: Json, message_id: int | None = None) -> None:
        """A service message, which every bot gets (FAQ), privacy mode or not."""
        message = said(message_id or next(there.numbers), self._know(user), there.json(), **event)
        there.keep(message)
        self._report(there, "message", message)

    def _turns_bot(self, user: User, there: Chat, old: str, new: str) -> None:
        there.bot = new
        change = {"old_chat_member": member(BOT, old), "new_chat_member": member(BOT, new)}
        who = {"chat": there.json(), "from": self._know(user), "date": now()}
        self._report(there, "my_chat_member", who | change)

    def _chat(self, chat: int) -> Chat:
        return self._messenger.chat(chat)

    def _know(self, user: User) -> Json:
        who = person(user)
        self._messenger.people[who["id"]] = who
        return who

    def _may_hear(self, there: Chat, message: Json) -> bool:
        """FAQ: in privacy mode only commands and replies to the bot, unless it administers the group."""
        if not there.has_bot:
            return False
        if self._messenger.reads_everything or there.kind == "private" or there.bot == "administrator":
            return True
        answered = message.get("reply_to_message", {}).get("from", {}).get("id")
        return str(message.get("text")).startswith("/") or answered == BOT_ID

    def _report(self, there: Chat, kind: str, content: Json) -> None:
        update = self._updates.report(there.chat_id, kind, content)
        self._double(update)
        self._woken()

    def _double(self, update: Update | None) -> None:
        if update is not None and self._weather.doubles():
            self._updates.again(update)

    def _woken(self) -> None:
        """There is something to fetch or to deliver."""
        self._changed.notify_all()


def _reply(there: Chat, to: int | Shown) -> Json:
    """The message that is answered, without the one that it answers itself (manual: Message)."""
    answered = there.message(to.message_id if isinstance(to, Shown) else to)
    if answered is None:
        raise AssertionError(f"nothing to answer: {to}")
    return {"reply_to_message": {name: value for name, value in answered.items() if name != "reply_to_message"}}
