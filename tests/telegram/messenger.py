"""The chats with what is in them, and whom the bot may write to."""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import count

from telegram.constants import ReactionEmoji

from tests.telegram.envelope import ApiError, Json, Params, integer
from tests.telegram.shapes import LAST_GROUP, Shown, kind, shown_message

REACTIONS = frozenset(str(emoji) for emoji in ReactionEmoji)
"""The emoji that a bot may react with (library, which has them from the manual)."""


@dataclass(slots=True)
class Chat:
    """A chat with all that was said in it."""

    chat_id: int
    numbers: Iterator[int]
    title: str = "Packers"
    bot: str = "member"
    """The bot's status, as a ChatMember has it."""
    messages: dict[int, Json] = field(default_factory=dict)
    """What people said and what the messenger itself did."""
    said_at: dict[int, float] = field(default_factory=dict)
    """When, on the clock of ``time.monotonic``."""
    posts: dict[int, Shown] = field(default_factory=dict)
    topics: dict[int, bool] = field(default_factory=dict)
    """The topics by their thread id, and whether they are open."""
    reactions: defaultdict[int, list[str]] = field(default_factory=lambda: defaultdict(list))
    allowed_reactions: frozenset[str] = REACTIONS
    upgraded_to: int | None = None

    @property
    def kind(self) -> str:
        """What sort of chat it is."""
        return kind(self.chat_id)

    @property
    def has_bot(self) -> bool:
        """Whether the bot is in it."""
        return self.bot in ("member", "administrator")

    def json(self) -> Json:
        """A Chat."""
        named = {"first_name": self.title} if self.kind == "private" else {"title": self.title}
        return {"id": self.chat_id, "type": self.kind, **named, **({"is_forum": True} if self.topics else {})}

    def message(self, message_id: int) -> Json | None:
        """Whatever has that number; None where nothing has, or has no longer."""
        if (post := self.posts.get(message_id)) is not None:
            return shown_message(post, self.json())
        return self.messages.get(message_id)

    def keep(self, message: Json) -> None:
        """Take a message that somebody wrote."""
        self.messages[message["message_id"]] = message
        self.said_at[message["message_id"]] = time.monotonic()

    def show(self, post: Shown) -> Json:
        """Take a post of the bot, a new one or a change of one."""
        self.posts[post.message_id] = post
        self.said_at.setdefault(post.message_id, time.monotonic())
        return shown_message(post, self.json())


class Messenger:
    """All chats, the people seen in them, and what the bot said about itself."""

    def __init__(self) -> None:
        self.chats: dict[int, Chat] = {}
        self.people: dict[int, Json] = {}
        """Everybody seen so far, by id."""
        self.presses: set[str] = set()
        """The presses that still wait for their answer."""
        self.answered_presses: list[str] = []
        self.files: set[str] = set()
        self.administrators: list[str] = []
        """Who administers every group, by first name."""
        self.reads_everything = True
        """Whether privacy mode is off (manual, User: can_read_all_group_messages)."""
        self.profile: Json = {}
        """What setMyCommands, setMyDescription and setMyShortDescription were given last."""
        self._shared = count(1)
        self._supergroups = count(LAST_GROUP - 501, -1)

    def chat(self, chat_id: int) -> Chat:
        """The chat of an id, which is there from the first time it is spoken of."""
        if chat_id not in self.chats:
            # Supergroups number their messages each for itself, all other chats of an account together (from memory).
            numbers = count(1) if kind(chat_id) == "supergroup" else self._shared
            self.chats[chat_id] = Chat(chat_id, numbers)
        return self.chats[chat_id]

    def new_supergroup(self, title: str) -> Chat:
        """A supergroup that was not there before."""
        chat = self.chat(next(self._supergroups))
        chat.title = title
        return chat

    def reached(self, params: Params) -> Chat:
        """The chat that a call is about. Raises ApiError where the bot has no way into it.

        The sentences are quoted in public code, but for "is not a member", which has its like there for supergroups.
        """
        chat_id = integer(params, "chat_id")
        chat = self.chats.get(chat_id)
        if chat is None:
            if chat_id in self.people:
                raise ApiError(403, "Forbidden: bot can't initiate conversation with a user")
            raise ApiError(400, "Bad Request: chat not found")
        if chat.upgraded_to is not None:
            upgraded = "Bad Request: group chat was upgraded to a supergroup chat"
            raise ApiError(400, upgraded, {"migrate_to_chat_id": chat.upgraded_to})
        if not chat.has_bot:
            raise ApiError(403, _shut_out(chat))
        return chat


def _shut_out(chat: Chat) -> str:
    if chat.kind == "private":
        return "Forbidden: bot was blocked by the user"
    return f"Forbidden: bot {'was kicked from' if chat.bot == 'kicked' else 'is not a member of'} the {chat.kind} chat"
