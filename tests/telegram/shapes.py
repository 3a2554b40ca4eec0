"""People, chats and messages as the Bot API writes them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from hashlib import blake2b

from bot import clock
from tests.telegram.envelope import ApiError, Json, Params

USERNAME = "PackingClerkTestBot"
BOT_ID = 123456789
BOT: Json = {"id": BOT_ID, "is_bot": True, "first_name": "Clerk", "username": USERNAME}
LAST_GROUP = -1_000_000_000_000
"""The ids of supergroups lie below (manual: they "have at most 52 significant bits"; the bound is from memory)."""
RIGHTS = (
    "can_be_edited is_anonymous can_manage_chat can_delete_messages can_manage_video_chats can_restrict_members"
    " can_promote_members can_change_info can_invite_users can_post_stories can_edit_stories can_delete_stories"
    " can_send_welcome_messages"
).split()
"""What a ChatMemberAdministrator always has (manual, as aiogram 3.31 carries it)."""

Rows = tuple[tuple[tuple[str, str], ...], ...]


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody with more than a first name; a bare string is somebody with no other."""

    first_name: str
    last_name: str | None = None
    username: str | None = None

    def json(self) -> Json:
        """A User."""
        more = {"last_name": self.last_name, "username": self.username}
        user = {"id": person_id(self), "is_bot": False, "first_name": self.first_name}
        return user | {name: value for name, value in more.items() if value}


@cache
def person_id(user: str | Person) -> int:
    """The id of a person, which is also that of their private chat; always the same for the same name."""
    name = user if isinstance(user, str) else " ".join(filter(None, (user.first_name, user.last_name)))
    return int.from_bytes(blake2b(name.encode(), digest_size=6).digest())


def person(user: str | Person) -> Json:
    """A User of a name."""
    return (Person(user) if isinstance(user, str) else user).json()


def member(user: Json, status: str) -> Json:
    """A ChatMember with the fields that the manual says it always has."""
    more: dict[str, Json] = {"administrator": dict.fromkeys(RIGHTS, False), "kicked": {"until_date": 0}}
    return {"status": status, "user": user} | more.get(status, {})


def kind(chat: int) -> str:
    """What sort of chat an id belongs to."""
    return "private" if chat > 0 else "supergroup" if chat < LAST_GROUP else "group"


@dataclass(frozen=True, slots=True)
class Shown:
    """A post of the bot as its chat shows it; ``text`` is the caption where there is a photo."""

    chat: int
    message_id: int
    text: str
    rows: Rows = ()
    answers: int | None = None
    parse_mode: str | None = None
    link_preview: bool = True
    topic: int | None = None
    photo: str | None = None

    @property
    def buttons(self) -> list[str]:
        """The labels of the buttons that can be pressed now."""
        return [label for row in self.rows for label, _ in row]

    def action(self, label: str) -> str:
        """The callback data behind a label."""
        return dict(key for row in self.rows for key in row)[label]


def said(message_id: int, user: Json, chat: Json, **content: object) -> Json:
    """A Message of this moment."""
    return {"message_id": message_id, "from": user, "chat": chat, "date": now()} | content


def shown_message(post: Shown, chat: Json) -> Json:
    """A post as a Message."""
    message = said(post.message_id, BOT, chat, **in_topic(post.topic))
    if post.photo is None:
        message["text"] = post.text
    else:
        message |= photo([post.photo]) | ({"caption": post.text} if post.text else {})
    if post.rows:
        keys = [[{"text": label, "callback_data": action} for label, action in row] for row in post.rows]
        message["reply_markup"] = {"inline_keyboard": keys}
    return message


def in_topic(topic: int | None) -> Json:
    """The fields of a message in a topic."""
    return {} if topic is None else {"message_thread_id": topic, "is_topic_message": True}


def photo(file_ids: list[str]) -> Json:
    """The sizes of a photo, the smallest first, each a file of its own."""
    return {
        "photo": [{**file(one), "width": 90 * 2**step, "height": 60 * 2**step} for step, one in enumerate(file_ids)]
    }


def file(file_id: str) -> Json:
    """A file; its unique id is the same for all bots, its id is ours (manual: PhotoSize, Document)."""
    return {"file_id": file_id, "file_unique_id": f"unique {file_id}"}


def words(text: str) -> Json:
    """Text with the entity of its command, if it begins with one."""
    command = re.match(r"/\w+(@\w+)?", text)
    marks = [{"type": "bot_command", "offset": 0, "length": command.end()}] if command else []
    return {"text": text} | ({"entities": marks} if marks else {})


def rows(markup: Params | None) -> Rows:
    """The buttons of an inline keyboard. Raises ApiError."""
    found = tuple(tuple(_key(key) for key in row) for row in (markup or {}).get("inline_keyboard", []))
    return tuple(row for row in found if row)


def _key(key: Mapping[str, object]) -> tuple[str, str]:
    label, action = str(key["text"]), str(key.get("callback_data", ""))
    if not label:
        raise ApiError(400, "Bad Request: text buttons are unallowed in the inline keyboard")
    if not 1 <= len(action.encode()) <= 64:  # manual, InlineKeyboardButton: 1-64 bytes
        raise ApiError(400, "Bad Request: BUTTON_DATA_INVALID")
    return label, action


def now() -> int:
    """This moment in Unix time."""
    return int(clock.now().timestamp())
