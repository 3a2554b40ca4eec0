"""What passes between a transport and the assistant: messages in, posts out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Protocol

TAKE_BACK = "Take back"
"""The label of the button that undoes an entry (contract.md)."""
STAYS = "+"
"""Begins the action of a button that may be pressed again."""


@dataclass(frozen=True, slots=True)
class Sender:
    """Who speaks: a name as the chat shows it and, where the transport has them, a lasting key and a surname."""

    name: str
    key: str | None = None
    surname: str | None = None


@dataclass(frozen=True, slots=True)
class Incoming:
    """A message, or the press of a button.

    ``chat`` is the transport's lasting key of the chat; ``ref`` its key of this message or press, unique in
    the chat, by which one that arrives twice is taken once; ``answers`` the ref of the post replied to;
    ``corrects`` the ref of the message whose text this one replaces; ``pressed`` the action of the pressed button,
    with ``text`` empty; ``private`` tells that nobody else is there. ``photo`` is the transport's key of a picture
    sent with the text, ``topic`` its key of the part of the chat in which it was said.
    ``administrators`` are those of the chat, None where nobody has asked the chat; ``has_administrators`` tells that
    it can be asked. ``title`` is what the chat is called; ``arrival`` its number among what has arrived and is not
    heard yet.
    """

    chat: str
    sender: Sender
    text: str
    at: datetime
    ref: str
    answers: str | None = None
    pressed: str | None = None
    private: bool = False
    administrators: tuple[Sender, ...] | None = None
    has_administrators: bool = False
    corrects: str | None = None
    photo: str | None = None
    topic: str | None = None
    title: str | None = None
    arrival: int | None = None


class Turn(StrEnum):
    """What may happen in a chat beside its talk."""

    ADDED = "added"
    REMOVED = "removed"
    MOVED = "moved"
    """The chat goes on under another key."""
    LEFT = "left"
    """A member has left the chat."""
    HEARING = "hearing"
    """From now on the clerk hears plain messages there, or does not."""
    UNBLOCKED = "unblocked"
    """Somebody lets the clerk write to them again."""


@dataclass(frozen=True, slots=True)
class ChatTurn:
    """Something that happens in a chat, by somebody's doing.

    ``moved_to`` is the chat's new key, or ``moved_from`` its old one; ``hears_all`` tells whether plain messages reach
    the clerk there, None where that is not known.
    """

    chat: str
    sender: Sender
    turn: Turn
    at: datetime
    ref: str
    moved_to: str | None = None
    moved_from: str | None = None
    hears_all: bool | None = None
    title: str | None = None
    arrival: int | None = None


Arrival = Incoming | ChatTurn
"""Whatever a transport hands on."""


class AdministratorsWantedError(Exception):
    """The message cannot be answered without knowing who administers the chat ``chat``; nothing was recorded."""

    def __init__(self, chat: str) -> None:
        super().__init__(chat)
        self.chat = chat


@dataclass(frozen=True, slots=True)
class Button:
    """A choice under a post; ``action`` comes back when pressed, at most 64 bytes.

    It is opaque to the transport, but for its first letter: a post loses its buttons when one is pressed, unless
    that one's action begins with STAYS.
    """

    label: str
    action: str


@dataclass(frozen=True, slots=True)
class Post:
    """What the clerk says. ``to`` None is the group, else a member's name; ``answers`` a message's ref.

    ``split`` is the number of the open split that the post shows: a later post of the same split takes its place.
    ``reaction`` is a sign that says as much where the transport can put one on the message answered; ``topic`` the
    part of the chat that the post belongs to; ``edits`` the ref of a post whose place it takes; ``picture`` the
    transport's key of a picture to be shown with it. ``only_changes`` is for a post that a transport which cannot
    change what it has shown passes over; of its ``reaction`` an empty one takes the sign off again.
    """

    text: str
    buttons: tuple[Button, ...] = ()
    to: str | None = None
    answers: str | None = None
    picture: str | None = None
    split: int | None = None
    reaction: str | None = None
    topic: str | None = None
    edits: str | None = None
    only_changes: bool = False


@dataclass(frozen=True, slots=True)
class Queued:
    """A post waiting in the outbox under its number, for one chat.

    ``replaces`` is the ref of a delivered post whose place it takes, where the transport can change a post; so many
    ``parts`` of it are shown already, where the transport shows a long one in several. ``is_doubtful`` tells that it
    may have been shown without the transport's hearing so.
    """

    number: int
    chat: str
    made_at: datetime
    post: Post
    replaces: str | None = None
    parts: int = 0
    is_doubtful: bool = False


class Transport(Protocol):
    """Receives messages and shows posts; knows nothing of pencils."""

    def run(self) -> None:
        """Serve until the chat ends or the process is told to stop."""

    def deliver(self, queued: Queued) -> str:
        """Show a post; return the transport's ref of it, unique in the chat."""

    def close(self) -> None:
        """Let go of whatever ``run`` took."""
