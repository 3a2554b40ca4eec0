"""What the Bot API reports, turned into messages for the assistant."""

from __future__ import annotations

import re
from datetime import datetime

from telegram import CallbackQuery, Message, Update, User
from telegram.constants import ChatType

from bot.messages import Incoming, Sender

CHAT = "telegram:"
"""Stands before the chat id in the key of a chat, so that no other transport's chat is taken for ours."""
PRESS = "press:"
"""Stands before the id of a press in its ref, since messages and presses are numbered apart."""

_ADDRESSED_COMMAND = re.compile(r"(/\w+)@(\w+)(.*)", re.DOTALL)


def incoming(update: Update, username: str, now: datetime) -> Incoming | None:
    """The message or press of an update; None where there is nothing for the clerk to hear.

    ``username`` is the bot's own; ``now`` the moment of a press, for which the Bot API gives none.
    """
    if update.callback_query is not None:
        return _press(update.callback_query, now)
    return None if update.message is None else _message(update.message, username)


def _message(message: Message, username: str) -> Incoming | None:
    text = _for_us(message.text or message.caption or "", username)
    if not text or message.from_user is None or message.from_user.is_bot:
        return None
    replied_to = message.reply_to_message
    return Incoming(
        chat=f"{CHAT}{message.chat.id}",
        sender=sender(message.from_user),
        text=text,
        at=message.date,
        ref=str(message.message_id),
        answers=None if replied_to is None else str(replied_to.message_id),
        private=message.chat.type == ChatType.PRIVATE,
        has_administrators=message.chat.type != ChatType.PRIVATE,
    )


def _press(query: CallbackQuery, now: datetime) -> Incoming | None:
    if query.message is None or query.data is None:
        return None
    return Incoming(
        chat=f"{CHAT}{query.message.chat.id}",
        sender=sender(query.from_user),
        text="",
        at=now,
        ref=f"{PRESS}{query.id}",
        answers=str(query.message.message_id),
        pressed=query.data,
        private=query.message.chat.type == ChatType.PRIVATE,
        has_administrators=query.message.chat.type != ChatType.PRIVATE,
    )


def sender(user: User) -> Sender:
    return Sender(user.first_name, f"{CHAT}{user.id}")


def _for_us(text: str, username: str) -> str:
    """The text with our name cut off its command; empty where the command is for another bot."""
    command = _ADDRESSED_COMMAND.fullmatch(text)
    if command is None:
        return text
    return command[1] + command[3] if command[2].lower() == username.lower() else ""
