"""What the Bot API reports, turned into what the assistant hears."""

from __future__ import annotations

import re
from datetime import datetime

from telegram import CallbackQuery, ChatMember, ChatMemberUpdated, Message, Update, User
from telegram.constants import ChatType

from bot.messages import Arrival, ChatTurn, Incoming, Sender, Turn

CHAT = "telegram:"
"""Stands before the chat id in the key of a chat, so that no other transport's chat is taken for ours."""
PRESS = "press:"
"""Stands before the id of a press in its ref, since messages and presses are numbered apart."""
HEARD = (Update.MESSAGE, Update.EDITED_MESSAGE, Update.CALLBACK_QUERY, Update.MY_CHAT_MEMBER)

_FIRST_SUPERGROUP = -1_000_000_000_000
_SUPERGROUPS = f"-100{'_' * 10}%"
_ADDRESSED_COMMAND = re.compile(r"(/\w+)@(\w+)(.*)", re.DOTALL)
_PRESENT = frozenset((ChatMember.MEMBER, ChatMember.ADMINISTRATOR, ChatMember.OWNER, ChatMember.RESTRICTED))


def chat_key(chat_id: int) -> str:
    """The key of a chat."""
    return f"{CHAT}{chat_id}"


def chat_id(key: str) -> int:
    """The Bot API's number of a chat."""
    return int(key.removeprefix(CHAT))


def is_supergroup(chat: int) -> bool:
    """Whether a chat numbers its messages by itself, without gaps; all others of a bot are numbered together."""
    return chat < _FIRST_SUPERGROUP


def numbered_with(key: str) -> tuple[str, str]:
    """The keys of the chats numbered together with one, by patterns of LIKE: which they match, and which not."""
    return (key, "") if is_supergroup(chat_id(key)) else (f"{CHAT}%", f"{CHAT}{_SUPERGROUPS}")


def sender(user: User) -> Sender:
    """Who a user is to the assistant."""
    return Sender(user.first_name, chat_key(user.id), user.last_name)


class Ear:
    """Turns updates into what has arrived, as the bot of this name, which hears all that is said in groups or not."""

    def __init__(self, user: User) -> None:
        self._username = user.username or ""
        self._called = re.compile(rf"(?<!\w)@{self._username}\b[,:]? ?", re.IGNORECASE)
        self._hears_all = bool(user.can_read_all_group_messages)

    def arrival(self, update: Update, now: datetime) -> Arrival | None:
        """What an update brings, under its number; None where there is nothing for the clerk to hear.

        ``now`` is the moment of a press, for which the Bot API gives none.
        """
        number = update.update_id
        if update.callback_query is not None:
            return _press(update.callback_query, now, number)
        if update.my_chat_member is not None:
            return self._turn(update.my_chat_member, number)
        if update.edited_message is not None:
            return self._message(update.edited_message, number)
        return None if update.message is None else self._service(update.message, number)

    def _service(self, message: Message, number: int) -> Arrival | None:
        """A message, or what the chat itself tells in the place of one."""
        at, key = message.date, chat_key(message.chat.id)
        by = Sender("") if message.from_user is None else sender(message.from_user)
        ref = f"update:{number}"
        if message.migrate_to_chat_id is not None:
            new = chat_key(message.migrate_to_chat_id)
            return ChatTurn(key, by, Turn.MOVED, at, ref, moved_to=new, arrival=number)
        if message.migrate_from_chat_id is not None:
            old = chat_key(message.migrate_from_chat_id)
            return ChatTurn(key, by, Turn.MOVED, at, ref, moved_from=old, arrival=number)
        if message.left_chat_member is not None and not message.left_chat_member.is_bot:
            return ChatTurn(key, sender(message.left_chat_member), Turn.LEFT, at, ref, arrival=number)
        return self._message(message, number)

    def _message(self, message: Message, number: int) -> Incoming | None:
        text = self._for_us(message.text or message.caption or "")
        if not text or message.from_user is None or message.from_user.is_bot:
            return None
        is_private = message.chat.type == ChatType.PRIVATE
        ref = str(message.message_id)
        is_edited = message.edit_date is not None
        return Incoming(
            chat=chat_key(message.chat.id),
            sender=sender(message.from_user),
            text=text,
            at=message.date,
            ref=f"edit:{number}" if is_edited else ref,
            answers=_answered(message),
            private=is_private,
            has_administrators=not is_private,
            corrects=ref if is_edited else None,
            photo=_photo(message),
            topic=str(message.message_thread_id) if message.is_topic_message else None,
            title=message.chat.title,
            arrival=number,
        )

    def _turn(self, change: ChatMemberUpdated, number: int) -> ChatTurn | None:
        """What has become of the clerk itself in a chat."""
        was, now = change.old_chat_member.status, change.new_chat_member.status
        hears = self._hears_all or now in (ChatMember.ADMINISTRATOR, ChatMember.OWNER)
        if now not in _PRESENT:
            turn = Turn.REMOVED
        elif change.chat.type == ChatType.PRIVATE:
            turn = Turn.UNBLOCKED
        elif was not in _PRESENT:
            turn = Turn.ADDED
        elif not self._hears_all and (was == ChatMember.ADMINISTRATOR) != (now == ChatMember.ADMINISTRATOR):
            turn = Turn.HEARING
        else:
            return None
        by, key = sender(change.from_user), chat_key(change.chat.id)
        ref, title = f"update:{number}", change.chat.title
        return ChatTurn(key, by, turn, change.date, ref, hears_all=hears, title=title, arrival=number)

    def _for_us(self, text: str) -> str:
        """The text without our name, in a command or called; empty where the command is for another bot."""
        command = _ADDRESSED_COMMAND.fullmatch(text)
        if command is None:
            return self._called.sub("", text).strip()
        return command[1] + command[3] if command[2].lower() == self._username.lower() else ""


def _answered(message: Message) -> str | None:
    """The message replied to; in a topic, its opening is no message that anybody answers."""
    replied_to = message.reply_to_message
    if replied_to is None or (message.is_topic_message and replied_to.message_id == message.message_thread_id):
        return None
    return str(replied_to.message_id)


def _photo(message: Message) -> str | None:
    """The photo that a message brings, else the one of somebody's that it answers."""
    shown, answered = message, message.reply_to_message
    if not shown.photo and answered is not None and answered.from_user is not None and not answered.from_user.is_bot:
        shown = answered
    return shown.photo[-1].file_id if shown.photo else None


def _press(query: CallbackQuery, now: datetime, number: int) -> Incoming | None:
    if query.message is None or query.data is None:
        return None
    is_private = query.message.chat.type == ChatType.PRIVATE
    thread = getattr(query.message, "message_thread_id", None)
    in_topic = bool(getattr(query.message, "is_topic_message", None))
    return Incoming(
        chat=chat_key(query.message.chat.id),
        sender=sender(query.from_user),
        text="",
        at=now,
        ref=f"{PRESS}{query.id}",
        answers=str(query.message.message_id),
        pressed=query.data,
        private=is_private,
        has_administrators=not is_private,
        topic=str(thread) if in_topic else None,
        arrival=number,
    )
