"""A price that is no deal may get a sign in place of words; alerts come in the topic that people choose."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace

import pytest

from bot.group_file import read_group
from bot.messages import Incoming, Post, Sender
from core.group import Settings
from tests.chat import Chat
from tests.conftest import HARBOUR_LANE

SIGN = "👌"


def started(**changes: object) -> Chat:
    """The Harbour Lane packers with other settings."""
    group = read_group(HARBOUR_LANE)
    settings: Settings = replace(group.settings, **changes)  # type: ignore[arg-type] # settings by name
    return Chat(replace(group, settings=settings))


@pytest.fixture
def reacting() -> Iterator[Chat]:
    """Packers who want a sign, with a first price of pencils in the books."""
    with closing(started(reacts=True)) as chat:
        chat.says("Mei", "12 pencils 0.47 at corner store")
        yield chat


@pytest.mark.parametrize(
    ("said", "sign"),
    [
        ("12 pencils 0.78 at larkmoor", SIGN),
        ("12 pencils 1.20 at copper kettle", SIGN),
        ("12 pencils 0.58", None),  # good
        ("12 pencils 0.40", None),  # the lowest
        ("10 combs 2.00", None),  # the first
        ("bought 12 pencils 0.78", None),
        ("is 0.78 for 12 pencils good?", None),
        ("12 pencils 0.78, 10 pens 0.90", None),  # the pens are good
        ("12 pencils 8.00", None),  # a question
    ],
)
def test_sign_stands_for_a_price_that_is_no_deal(reacting: Chat, said: str, sign: str | None) -> None:
    posts = reacting.says("Ines", said)

    assert [post.reaction for post in posts] == [sign]
    assert posts[0].text


def test_remark_on_the_item_wants_words(reacting: Chat) -> None:
    reacting.says("Ines", "note: the yellow pencils snap")

    assert [post.reaction for post in reacting.says("Ines", "12 pencils 0.78")] == [None]


def test_change_of_an_entry_wants_words(reacting: Chat) -> None:
    [post] = reacting.says("Ines", "12 pencils 0.78")

    said, taken_off = reacting.replies("Ines", "it was 0.80", post)

    assert said.text.startswith("Corrected; it was: 12 pencils $0.78.")
    assert (said.reaction, taken_off.reaction, taken_off.answers) == (None, "", post.answers)


def test_without_the_setting_there_is_no_sign(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.47")

    assert [post.reaction for post in chat.says("Mei", "12 pencils 0.78")] == [None]


def in_topic(chat: Chat, text: str, topic: str | None) -> list[Post]:
    """The posts that a message brings which is said in a topic."""
    return chat.hears(Incoming(chat.key, Sender("Mei"), text, chat.clock, f"{topic}: {text}", topic=topic))


def test_alerts_come_where_people_say() -> None:
    with closing(started(alerts_a_day=9)) as chat:
        [echo] = in_topic(chat, "post alerts here", "17")
        alert = in_topic(chat, "12 pencils 0.47 at larkmoor", "5")[-1]
        [again] = in_topic(chat, "put the alerts here", "5")
        [back] = in_topic(chat, "alerts back to the main topic", "5")
        [settings] = in_topic(chat, "show settings", None)
        late = in_topic(chat, "10 pens 0.80 at larkmoor", "5")[-1]

    assert echo.text == "Where I speak up by myself: a topic of this chat (was the main chat)."
    assert (alert.topic, alert.answers) == ("17", None)
    assert again.text == "Where I speak up by myself: a topic of this chat."
    assert back.text.startswith("Where I speak up by myself: the main chat (was a topic of this chat).")
    assert "• where I speak up by myself: the main chat" in settings.text
    assert late.topic is None


def test_here_is_the_main_chat_where_there_is_no_topic() -> None:
    with closing(started(topic="17")) as chat:
        [echo] = in_topic(chat, "alerts here please", None)

    assert echo.text.startswith("Where I speak up by myself: the main chat (was a topic of this chat).")
