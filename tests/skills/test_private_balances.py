"""What a member asks in a private chat is answered there, out of the groups they are in, and no others."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import count

import pytest

from bot.assistant import Assistant
from bot.delivery import empty
from bot.group_file import read_group
from bot.messages import ChatTurn, Incoming, Post, Queued, Sender, Turn
from bot.storage.books import Database
from core.group import Group
from tests.conftest import HARBOUR_LANE

MEI, INES = Sender("Mei", "user 1"), Sender("Ines", "user 2")


@dataclass
class Town:
    """Several chats with one clerk; ``posts`` are those of each chat."""

    group: Group
    database: Database
    posts: dict[str, list[Post]] = field(default_factory=dict)
    shown: dict[int, str] = field(default_factory=dict)
    """Under what each post was shown, by its identity."""

    def __post_init__(self) -> None:
        self.assistant = Assistant(self.database, self.group)
        self.clock = datetime.fromisoformat("2026-08-03T10:15").replace(tzinfo=self.group.settings.zone)
        self.refs = count(1)

    def says(self, chat: str, sender: Sender, text: str) -> list[Post]:
        return self.hears(Incoming(chat, sender, text, self.clock, str(next(self.refs)), private=chat[0] == "@"))

    def presses(self, chat: str, sender: Sender, action: str) -> list[Post]:
        ref = str(next(self.refs))
        return self.hears(Incoming(chat, sender, "", self.clock, ref, pressed=action, private=chat[0] == "@"))

    def hears(self, incoming: Incoming) -> list[Post]:
        self.posts[incoming.chat] = []
        self.assistant.hear(incoming)
        empty(self.database, None, self)
        self.clock += timedelta(minutes=1)
        return self.posts[incoming.chat]

    def leaves(self, chat: str, sender: Sender) -> None:
        self.assistant.meet(ChatTurn(chat, sender, Turn.LEFT, self.clock, str(next(self.refs))))

    def deliver(self, queued: Queued) -> str:
        self.posts.setdefault(queued.chat, []).append(queued.post)
        self.shown[id(queued.post)] = f"clerk:{queued.number}"
        return f"clerk:{queued.number}"

    def run(self) -> None:
        """Nothing: the test speaks."""

    def close(self) -> None:
        """Nothing was taken."""


@pytest.fixture
def town() -> Iterator[Town]:
    """A group in which Mei owes Ines 1.20 for pens."""
    with closing(Database("sqlite://")) as database:
        database.migrate()
        town = Town(read_group(HARBOUR_LANE), database)
        town.says("harbour", MEI, "hello all")
        town.says("harbour", INES, "split 24 pens 2.40 with Mei")
        yield town


def test_the_only_group_answers_in_the_private_chat(town: Town) -> None:
    [post] = town.says("@mei", MEI, "what do i owe")

    assert post.text.splitlines() == [
        "Harbour Lane packers: what you write here goes into the group’s books, and my answers come to you alone.",
        "Mei owes $1.20.",
        "To be square: Mei pays Ines $1.20.",
    ]


def test_what_is_said_there_first_goes_into_the_books_of_the_group(town: Town) -> None:
    [post] = town.says("@mei", MEI, "12 pencils 0.47 at corner store")
    [checked] = town.says("harbour", INES, "is 0.47 for 12 pencils good?")

    assert "Kept: 12 pencils $0.47, corner store." in post.text
    assert "corner store" in checked.text


def test_why_is_answered_there_too(town: Town) -> None:
    [post] = town.says("@mei", MEI, "why do I owe Ines 1.20?")

    assert "split of 24 pens $2.40" in post.text


def test_of_several_groups_it_asks_which(town: Town) -> None:
    town.says("quarry", MEI, "split 24 pens 4.80 with Tobias")
    [asked] = town.says("@mei", MEI, "what do i owe")
    assert asked.text == "In which group?"
    assert len(asked.buttons) == 2

    [post] = town.presses("@mei", MEI, asked.buttons[1].action)

    # 4.80 in two: Tobias owes her 2.40
    assert post.text.endswith("Mei is owed $2.40.\nTo be square: Tobias pays Mei $2.40.")


def test_a_forged_press_reaches_no_group_of_others(town: Town) -> None:
    town.says("quarry", INES, "hello")
    [asked] = town.says("@ines", INES, "what do i owe")
    foreign = asked.buttons[1].action

    assert town.presses("@mei", MEI, foreign) == []


def test_a_stranger_is_answered_out_of_their_own_books(town: Town) -> None:
    [post] = town.says("@rosa", Sender("Rosa", "user 9"), "what do i owe")

    assert post.text == "Rosa is square."


def test_in_the_group_the_answer_stays_in_the_group(town: Town) -> None:
    [post] = town.says("harbour", MEI, "what do i owe")

    assert post.text.startswith("Mei owes $1.20.")


def test_place_of_alerts_is_no_private_chat(town: Town) -> None:
    here = Incoming("@mei", MEI, "post alerts here", town.clock, "here", private=True, administrators=(MEI,))

    [post] = town.hears(here)

    assert post.text.endswith("Say that in the group’s chat, in the topic where my alerts are to come.")
