"""A post of the outbox, shown by the Bot API: as a message, a change of one, or a sign on the message answered."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from telegram import Bot, InlineKeyboardButton, InlineKeyboardMarkup, LinkPreviewOptions, ReplyParameters
from telegram.error import BadRequest, ChatMigrated, Forbidden, NetworkError, RetryAfter, TelegramError

from bot.delivery import GoneError, MovedError, NeverError, NotNowError
from bot.messages import Button, Post, Queued
from bot.transports.telegram.http import LostAnswerError
from bot.transports.telegram.pacing import Pace
from bot.transports.telegram.updates import chat_id, chat_key, is_supergroup

BUTTONS_IN_A_ROW = 3
LONGEST = 4096
"""Of a text, in UTF-16 code units, in which the Bot API counts (manual: sendMessage, MessageEntity)."""
LONGEST_CAPTION = 1024
_NO_PREVIEW = LinkPreviewOptions(is_disabled=True)
_NO_TOPIC = ("thread not found", "topic_closed", "topic_deleted")


class Sender:
    """Sends posts with one bot, no faster than it may."""

    def __init__(self, bot: Bot, pace: Pace) -> None:
        self._bot = bot
        self._pace = pace
        self._ruled_out: dict[int, set[int]] = {}
        """Where a post in doubt was looked for in vain: a look that is broken off goes on from there."""

    async def send(self, queued: Queued, part: str, *, is_last: bool, follows: Sequence[int] = ()) -> str:
        """Show one part of a post, or its sign; the ref of the message.

        Where it may have been sent before without our having heard so, it is looked for first, among the messages
        that bear the numbers of ``follows``.
        Raises NotNowError where it may go later, MovedError where the chat has another key now, GoneError where the
        clerk was put out, NeverError where the chat will not take it. A post whose answer is lost and that is not
        found counts as not sent: it may come twice.
        """
        try:
            return await self._shown(queued, part, is_last=is_last, follows=follows)
        except ChatMigrated as moved:
            raise MovedError(chat_key(moved.new_chat_id)) from moved
        except Forbidden as refusal:
            raise GoneError(refusal.message) from refusal
        except BadRequest as refusal:
            raise NeverError(refusal.message) from refusal
        except RetryAfter as wait:
            raise NotNowError(wait.message, _seconds(wait), is_unsure=bool(follows)) from wait
        except NetworkError as trouble:
            unsure = bool(follows) or isinstance(trouble, LostAnswerError) or "502" in trouble.message
            raise NotNowError(trouble.message, is_unsure=unsure) from trouble
        except TelegramError as trouble:
            raise NotNowError(trouble.message, is_unsure=bool(follows)) from trouble

    async def _shown(self, queued: Queued, part: str, *, is_last: bool, follows: Sequence[int] = ()) -> str:
        post = queued.post
        if post.reaction is not None and post.answers and (ref := await self._reacted(queued.chat, post)):
            return ref
        keyboard = _keyboard(post.buttons) if is_last else None
        place = queued.replaces or post.edits
        if place and place.isdecimal() and (ref := await self._changed(queued.chat, place, part, keyboard)):
            return ref
        if post.only_changes:
            return ""
        if post.picture:
            return await self._pictured(queued.chat, post, part, keyboard)
        if ref := await self._there(queued, follows, part, keyboard):
            return ref
        return await self._sent(queued.chat, post, part, keyboard)

    async def _turn(self, chat: int) -> None:
        """Wait for our turn. Raises NotNowError where the chat is full."""
        seconds = await self._pace.turn(chat)
        if seconds is not None:
            raise NotNowError("the chat is full", seconds)

    async def _reacted(self, chat: str, post: Post) -> str | None:
        """Put the sign on the message; None where the chat has no such signs or the message is gone."""
        if not (post.answers or "").isdecimal():
            return None
        try:
            await self._bot.set_message_reaction(chat_id(chat), int(post.answers or 0), post.reaction or None)
        except BadRequest:
            return None
        return f"sign:{post.answers}"

    async def _changed(self, chat: str, ref: str, text: str, keyboard: InlineKeyboardMarkup | None) -> str | None:
        """Change the post under a ref into this one; None where it is gone or too old to change."""
        await self._turn(chat_id(chat))
        try:
            await self._bot.edit_message_text(
                text,
                chat_id=chat_id(chat),
                message_id=int(ref),
                reply_markup=keyboard,
                link_preview_options=_NO_PREVIEW,
            )
        except BadRequest as refusal:
            return ref if "not modified" in refusal.message.lower() else None
        return ref

    async def _there(
        self, queued: Queued, follows: Sequence[int], text: str, keyboard: InlineKeyboardMarkup | None
    ) -> str | None:
        """The post, if it is among the messages that follow the newest one known.

        The Bot API has no way to ask for a message; but it refuses to change a message into what it is, and one of
        somebody else or none at all in other words. No other post of ours can be among them: each chat gets one at
        a time, and those known are not looked at. Nothing new is shown, so that no look takes a turn of the chat's.
        """
        ruled_out = self._ruled_out.setdefault(queued.number, set())
        there = None
        for number in follows:
            if number in ruled_out:
                continue
            found = await self._is_at(number, queued.chat, text, keyboard)
            there = str(number) if found else None
            if found or (found is None and is_supergroup(chat_id(queued.chat))):
                break  # a supergroup numbers its messages without gaps
            ruled_out.add(number)
        del self._ruled_out[queued.number]
        return there

    async def _is_at(self, number: int, chat: str, text: str, keyboard: InlineKeyboardMarkup | None) -> bool | None:
        """Whether a message is this post; None where there is no message of that number."""
        try:
            await self._bot.edit_message_text(
                text,
                chat_id=chat_id(chat),
                message_id=number,
                reply_markup=keyboard,
                link_preview_options=_NO_PREVIEW,
            )
        except BadRequest as refusal:
            said = refusal.message.lower()
            return None if "not found" in said else "not modified" in said
        return True

    async def _sent(self, chat: str, post: Post, text: str, keyboard: InlineKeyboardMarkup | None) -> str:
        send = partial(
            self._bot.send_message,
            chat_id(chat),
            text,
            reply_markup=keyboard,
            reply_parameters=_reply(post.answers),
            link_preview_options=_NO_PREVIEW,
        )
        topic = int(post.topic) if post.topic else None
        await self._turn(chat_id(chat))
        try:
            sent = await send(message_thread_id=topic)
        except BadRequest as refusal:
            if topic is None or not any(sign in refusal.message.lower() for sign in _NO_TOPIC):
                raise
            sent = await send()
        return str(sent.message_id)

    async def _pictured(self, chat: str, post: Post, text: str, keyboard: InlineKeyboardMarkup | None) -> str:
        await self._turn(chat_id(chat))
        sent = await self._bot.send_photo(
            chat_id(chat),
            post.picture or "",
            caption=parts(text, LONGEST_CAPTION)[0],
            message_thread_id=int(post.topic) if post.topic else None,
            reply_markup=keyboard,
            reply_parameters=_reply(post.answers),
        )
        return str(sent.message_id)


def parts(text: str, longest: int = LONGEST) -> list[str]:
    """A text in parts that the Bot API takes, cut at line ends, else at blanks, else anywhere."""
    found = []
    rest = text.strip()
    while _units(rest) > longest:
        fits = _fitting(rest, longest)
        cut = max(rest.rfind("\n", 0, fits + 1), 0) or max(rest.rfind(" ", 0, fits + 1), 0) or fits
        found.append(rest[:cut].rstrip())
        rest = rest[cut:].lstrip()
    return [*found, rest]


def _units(text: str) -> int:
    return len(text.encode("utf-16-le")) // 2


def _fitting(text: str, longest: int) -> int:
    """How many characters of a text make so many UTF-16 code units, and no more."""
    return len(text.encode("utf-16-le")[: 2 * longest].decode("utf-16-le", "ignore"))


def _seconds(wait: RetryAfter) -> float:
    after = wait.retry_after
    return float(after) if isinstance(after, int | float) else after.total_seconds()


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
