"""A post of the outbox, sent by the Bot API as plain text with its buttons under it."""

from __future__ import annotations

from collections.abc import Sequence

from telegram import Bot, InlineKeyboardButton, InlineKeyboardMarkup, LinkPreviewOptions, ReplyParameters
from telegram.error import BadRequest, ChatMigrated, Forbidden, TelegramError

from bot.delivery import NeverError, NotNowError
from bot.messages import Button, Queued
from bot.transports.telegram.updates import CHAT

BUTTONS_IN_A_ROW = 3


async def send(bot: Bot, queued: Queued) -> str:
    """Send a post, or change the one it replaces; return the message's ref.

    Raises NeverError where the chat will not take it, NotNowError where it may go later. A post whose
    receipt was lost on the way counts as not sent: the Bot API has no key to ask by, so it may come twice.
    """
    post = queued.post
    if queued.replaces is not None and (ref := await _changed(bot, queued, queued.replaces)):
        return ref
    try:
        message = await bot.send_message(
            chat_id=int(queued.chat.removeprefix(CHAT)),
            text=post.text,
            reply_markup=_keyboard(post.buttons),
            reply_parameters=_reply(post.answers),
            link_preview_options=LinkPreviewOptions(is_disabled=True),
        )
    except (BadRequest, Forbidden, ChatMigrated) as refusal:
        raise NeverError(refusal.message) from refusal
    except TelegramError as trouble:
        raise NotNowError(trouble.message) from trouble
    return str(message.message_id)


async def _changed(bot: Bot, queued: Queued, ref: str) -> str | None:
    """Change the post under a ref into this one; None where it is gone or too old to change."""
    try:
        await bot.edit_message_text(
            queued.post.text,
            chat_id=int(queued.chat.removeprefix(CHAT)),
            message_id=int(ref),
            reply_markup=_keyboard(queued.post.buttons),
            link_preview_options=LinkPreviewOptions(is_disabled=True),
        )
    except BadRequest as refusal:
        return ref if "not modified" in refusal.message else None
    except (Forbidden, ChatMigrated) as refusal:
        raise NeverError(refusal.message) from refusal
    except TelegramError as trouble:
        raise NotNowError(trouble.message) from trouble
    return ref


def _keyboard(buttons: Sequence[Button]) -> InlineKeyboardMarkup | None:
    if not buttons:
        return None
    keys = [InlineKeyboardButton(button.label, callback_data=button.action) for button in buttons]
    rows = range(0, len(keys), BUTTONS_IN_A_ROW)
    return InlineKeyboardMarkup([keys[start : start + BUTTONS_IN_A_ROW] for start in rows])


def _reply(answers: str | None) -> ReplyParameters | None:
    if answers is None or not answers.isdecimal():
        return None  # a press is no message that could be replied to
    return ReplyParameters(int(answers), allow_sending_without_reply=True)
