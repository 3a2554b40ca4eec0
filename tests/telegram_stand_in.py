"""A stand-in for the Bot API server on loopback, and the verbs of people who chat through it.

It follows the published manual (core.telegram.org/bots/api) as far as the clerk uses it: the envelope of
"Making requests", `getUpdates`, `sendMessage`, `editMessageText`, `editMessageReplyMarkup`, `answerCallbackQuery`
and a few more. Limits that are cited by name stand in that manual or in the Bots FAQ (core.telegram.org/bots/faq).
"""

from __future__ import annotations

import threading
from collections import Counter, deque
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from itertools import count
from types import TracebackType
from typing import Any, Self

from bot import clock
from tests.telegram_http import ApiError, ApiServer, Params

TOKEN = "123456789:AAE-stand_in_token_of_no_real_bot"  # noqa: S105 - of no real bot
USERNAME = "PackingClerkTestBot"
BOT_ID = 123456789
PATIENCE_SECONDS = 20.0
"""How long a test waits for what should come at once; only a failing test waits so long."""

GROUP = -1001
OTHER_GROUP = -2002


@dataclass(frozen=True, slots=True)
class Fault:
    """What goes wrong with a call: an error answer, or (code None) a connection that drops."""

    code: int | None
    description: str = ""
    parameters: Mapping[str, int] = field(default_factory=dict)

    @staticmethod
    def too_many(retry_after: int) -> Fault:
        """The flood limit's answer (manual: ResponseParameters)."""
        description = f"Too Many Requests: retry after {retry_after}"
        return Fault(429, description, {"retry_after": retry_after})

    @staticmethod
    def broken() -> Fault:
        """The server's own trouble."""
        return Fault(500, "Internal Server Error")

    @staticmethod
    def removed() -> Fault:
        """The group has shown the bot the door."""
        return Fault(403, "Forbidden: bot was kicked from the group chat")

    @staticmethod
    def two_pollers() -> Fault:
        """Two programs ask for the updates of one bot."""
        return Fault(409, "Conflict: terminated by other getUpdates request")

    @staticmethod
    def dropped() -> Fault:
        """The line goes dead in place of an answer."""
        return Fault(None)


@dataclass(frozen=True, slots=True)
class Shown:
    """A post of the bot as its chat shows it."""

    chat: int
    message_id: int
    text: str
    rows: tuple[tuple[tuple[str, str], ...], ...] = ()
    answers: int | None = None
    parse_mode: str | None = None
    link_preview: bool = True

    @property
    def buttons(self) -> list[str]:
        """The labels of the buttons that can be pressed now."""
        return [label for row in self.rows for label, _ in row]

    def action(self, label: str) -> str:
        """The callback data behind a label."""
        return dict(key for row in self.rows for key in row)[label]


class TelegramStandIn:
    """The server, its chats and their people; used as a context manager."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._numbers = count(1)
        self._updates: deque[dict[str, Any]] = deque()
        self._last_update: dict[str, Any] = {}
        self._posts: list[Shown] = []
        self._chats: dict[int, set[int]] = {}
        self._presses: set[str] = set()
        self._faults: dict[str, deque[Fault]] = {}
        self._closing = False
        self.calls: Counter[str] = Counter()
        self.answered_presses: list[str] = []
        self.administrators: list[str] = []
        """Who administers every group, by first name."""
        self._server = ApiServer(self.answer)

    @property
    def url(self) -> str:
        """What BOT_API_URL should be."""
        return self._server.url

    def __enter__(self) -> Self:
        threading.Thread(target=self._server.serve_forever, daemon=True).start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        with self._changed:
            self._closing = True
            self._changed.notify_all()
        self._server.shutdown()
        self._server.server_close()

    # What people do

    def says(self, user: str, text: str, chat: int = GROUP, **fields: object) -> int:
        """A person says something; return the message id. ``fields`` add to the message or replace."""
        with self._changed:
            message_id = self._new_message_id(chat)
            message = {
                "message_id": message_id,
                "from": _person(user),
                "chat": _chat(chat),
                "date": int(clock.now().timestamp()),
                "text": text,
            }
            self._report({"message": message | fields})
            return message_id

    def presses(self, user: str, label: str, chat: int = GROUP) -> None:
        """A person presses the button of that label on the last post in the chat that has one."""
        with self._changed:
            post = next(post for post in reversed(self._posts_in(chat)) if label in post.buttons)
            press = str(next(self._numbers))
            self._presses.add(press)
            self._report(
                {
                    "callback_query": {
                        "id": press,
                        "from": _person(user),
                        "chat_instance": str(chat),
                        "message": _message(post),
                        "data": post.action(label),
                    }
                }
            )

    def deletes(self, post: Shown) -> None:
        """An administrator deletes a post of the bot."""
        with self._changed:
            self._posts = [kept for kept in self._posts if kept.message_id != post.message_id]

    def says_again(self) -> None:
        """The last update comes once more, as after a crash that came before its confirmation."""
        with self._changed:
            self._updates.append(self._last_update)
            self._changed.notify_all()

    # What a test sees and waits for

    def posts(self, chat: int = GROUP) -> list[Shown]:
        """The bot's posts in a chat, oldest first."""
        with self._changed:
            return self._posts_in(chat)

    def wait_for_posts(self, number: int, chat: int = GROUP) -> list[Shown]:
        """Wait until the bot has posted that often in the chat; return its posts."""
        self.wait_until(lambda: len(self._posts_in(chat)) >= number, f"{number} posts")
        return self.posts(chat)

    def wait_for_calls(self, method: str, number: int = 1) -> None:
        """Wait until a method has been called that often, well or badly."""
        self.wait_until(lambda: self.calls[method] >= number, f"{number} calls of {method}")

    def wait_until(self, holds: Callable[[], bool], what: str) -> None:
        """Wait for a change that makes ``holds`` true. Raises AssertionError after PATIENCE_SECONDS."""
        with self._changed:
            if not self._changed.wait_for(holds, PATIENCE_SECONDS):
                raise AssertionError(f"no {what}; calls: {dict(self.calls)}; posts: {self._posts}")

    # What goes wrong

    def fails(self, method: str, fault: Fault, times: int = 1) -> None:
        """The next calls of a method end in a fault."""
        with self._changed:
            self._faults.setdefault(method, deque()).extend([fault] * times)

    def recovers(self) -> None:
        """Faults that have not come up yet never will."""
        with self._changed:
            self._faults.clear()

    # How calls are answered

    def answer(self, token: str, method: str, params: Params) -> object | None:
        """The result of a call; None to drop the line. Raises ApiError."""
        with self._changed:
            self.calls[method] += 1
            self._changed.notify_all()
            if faults := self._faults.get(method):
                fault = faults.popleft()
                if fault.code is None:
                    return None
                raise ApiError(fault.code, fault.description, fault.parameters)
            if token != TOKEN:
                raise ApiError(401, "Unauthorized")
            known = _METHODS.get(method.lower())  # manual: method names are case-insensitive
            if known is None:
                raise ApiError(404, "Not Found")
            result = known(self, params)
            self._changed.notify_all()
            return result

    def _get_me(self, _: Params) -> object:
        return {"id": BOT_ID, "is_bot": True, "first_name": "Clerk", "username": USERNAME}

    def _agree(self, _: Params) -> object:
        return True

    def _get_updates(self, params: Params) -> object:
        offset, limit = int(params.get("offset", 0)), int(params.get("limit", 100))
        if not 1 <= limit <= 100:  # manual, getUpdates
            raise ApiError(400, "Bad Request: limit must be between 1 and 100")
        self._forget_below(offset)
        self._changed.wait_for(lambda: self._updates or self._closing, float(params.get("timeout", 0)))
        return list(self._updates)[:limit]

    def _forget_below(self, update_id: int) -> None:
        """Confirm: the manual says that an offset higher than an update's id does."""
        while self._updates and self._updates[0]["update_id"] < update_id:
            self._updates.popleft()

    def _send_message(self, params: Params) -> object:
        chat = self._known_chat(params)
        text = str(params.get("text", "")).strip()
        if not text:
            raise ApiError(400, "Bad Request: message text is empty")
        if len(text) > 4096:  # manual, sendMessage: 1-4096 characters
            raise ApiError(400, "Bad Request: message is too long")
        post = Shown(
            chat=chat,
            message_id=self._new_message_id(chat),
            text=text,
            rows=_rows(params.get("reply_markup")),
            answers=self._replied_to(chat, params.get("reply_parameters")),
            parse_mode=params.get("parse_mode"),
            link_preview=not params.get("link_preview_options", {}).get("is_disabled", False),
        )
        self._posts.append(post)
        return _message(post)

    def _edit_reply_markup(self, params: Params) -> object:
        place = self._place_of(params)
        return self._change(place, replace(self._posts[place], rows=_rows(params.get("reply_markup"))))

    def _edit_text(self, params: Params) -> object:
        place = self._place_of(params)
        rows = _rows(params.get("reply_markup"))
        return self._change(place, replace(self._posts[place], text=str(params["text"]).strip(), rows=rows))

    def _place_of(self, params: Params) -> int:
        wanted = (self._known_chat(params), int(params.get("message_id", 0)))
        ours = [(post.chat, post.message_id) for post in self._posts]
        if wanted not in ours:
            raise ApiError(400, "Bad Request: message to edit not found")
        return ours.index(wanted)

    def _change(self, place: int, post: Shown) -> object:
        if post == self._posts[place]:
            raise ApiError(400, "Bad Request: message is not modified")
        self._posts[place] = post
        return _message(post)

    def _answer_press(self, params: Params) -> object:
        press = str(params.get("callback_query_id"))
        if len(str(params.get("text", ""))) > 200:  # manual, answerCallbackQuery: 0-200 characters
            raise ApiError(400, "Bad Request: MESSAGE_TOO_LONG")
        if press not in self._presses:
            raise ApiError(400, "Bad Request: query is too old and response timeout expired")
        self._presses.discard(press)
        self.answered_presses.append(press)
        return True

    def _get_administrators(self, params: Params) -> object:
        if self._known_chat(params) > 0:
            raise ApiError(400, "Bad Request: there are no administrators in the private chat")
        return [_administrator(name) for name in self.administrators]

    def _known_chat(self, params: Params) -> int:
        chat = int(params.get("chat_id", 0))
        if chat not in self._chats:
            raise ApiError(400, "Bad Request: chat not found")
        return chat

    def _replied_to(self, chat: int, reply: Params | None) -> int | None:
        if not reply:
            return None
        message_id = int(reply["message_id"])
        if message_id in self._chats[chat]:
            return message_id
        if not reply.get("allow_sending_without_reply"):
            raise ApiError(400, "Bad Request: message to be replied not found")
        return None

    def _new_message_id(self, chat: int) -> int:
        message_id = next(self._numbers)
        self._chats.setdefault(chat, set()).add(message_id)
        return message_id

    def _posts_in(self, chat: int) -> list[Shown]:
        return [post for post in self._posts if post.chat == chat]

    def _report(self, update: dict[str, Any]) -> None:
        self._last_update = {"update_id": next(self._numbers)} | update
        self._updates.append(self._last_update)
        self._changed.notify_all()


_METHODS: dict[str, Callable[[TelegramStandIn, Params], object]] = {
    "getme": TelegramStandIn._get_me,
    "deletewebhook": TelegramStandIn._agree,
    "getupdates": TelegramStandIn._get_updates,
    "sendmessage": TelegramStandIn._send_message,
    "editmessagereplymarkup": TelegramStandIn._edit_reply_markup,
    "editmessagetext": TelegramStandIn._edit_text,
    "answercallbackquery": TelegramStandIn._answer_press,
    "getchatadministrators": TelegramStandIn._get_administrators,
}


def _person(name: str) -> dict[str, Any]:
    return {"id": int.from_bytes(name.encode()[:6]), "is_bot": False, "first_name": name}


def _administrator(name: str) -> dict[str, Any]:
    """A ChatMemberAdministrator with every field that the manual says it always has."""
    rights = (
        "can_be_edited is_anonymous can_manage_chat can_delete_messages can_manage_video_chats can_restrict_members"
        " can_promote_members can_change_info can_invite_users can_post_stories can_edit_stories can_delete_stories"
    )
    return {"status": "administrator", "user": _person(name), **dict.fromkeys(rights.split(), False)}


def _chat(chat: int) -> dict[str, Any]:
    return {"id": chat, "type": "group" if chat < 0 else "private", "title": "Packers"}


def _message(post: Shown) -> dict[str, Any]:
    message = {
        "message_id": post.message_id,
        "from": {"id": BOT_ID, "is_bot": True, "first_name": "Clerk", "username": USERNAME},
        "chat": _chat(post.chat),
        "date": int(clock.now().timestamp()),
        "text": post.text,
    }
    keys = [[{"text": label, "callback_data": action} for label, action in row] for row in post.rows]
    return message | ({"reply_markup": {"inline_keyboard": keys}} if keys else {})


def _rows(markup: Params | None) -> tuple[tuple[tuple[str, str], ...], ...]:
    rows = tuple(
        tuple((str(key["text"]), str(key["callback_data"])) for key in row)
        for row in (markup or {}).get("inline_keyboard", [])
    )
    for row in rows:
        for label, action in row:
            if not label:
                raise ApiError(400, "Bad Request: text buttons are unallowed in the inline keyboard")
            if not 1 <= len(action.encode()) <= 64:  # manual, InlineKeyboardButton: 1-64 bytes
                raise ApiError(400, "Bad Request: BUTTON_DATA_INVALID")
    return rows
