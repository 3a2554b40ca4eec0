"""A new group's first choices in words: the first questions are answered as they are by their buttons."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import timedelta

import pytest

from bot.assistant import Assistant
from bot.delivery import empty
from bot.group_file import default_group
from bot.messages import ChatTurn, Sender, Turn
from bot.storage.group import load_group
from core.group import Settings
from tests.chat import Chat
from tests.skills.kept import labels


@pytest.fixture
def new() -> Iterator[Chat]:
    """A new group that has just been asked the first question; Ines administers it."""
    with closing(Chat(replace(default_group(), members=("Ines", "Mei"), administrators=("Ines",)))) as chat:
        added = ChatTurn(chat.key, Sender("Ines"), Turn.ADDED, chat.clock, "added")
        Assistant(chat.database, chat.group).meet(added)
        empty(chat.database, chat.key, chat)
        yield chat


def _settings(chat: Chat) -> Settings:
    with chat.books() as books:
        return load_group(books).settings


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("USD", "USD"),
        ("usd please", "USD"),
        ("dollars", "USD"),
        ("we pay in dollars", "USD"),
        ("$", "USD"),
        ("we use euros", "EUR"),
        ("€", "EUR"),
        ("Euro", "EUR"),
        ("canadian dollars", "CAD"),
        ("pounds", "GBP"),
        ("CHF", "CHF"),
        ("currency eur", "EUR"),
        ("set the currency to CAD", "CAD"),
    ],
)
def test_a_typed_currency_moves_on_to_the_time_zone(new: Chat, typed: str, code: str) -> None:
    posts = new.says("Ines", typed)

    assert _settings(new).currency.code == code
    assert "Which time zone" in posts[-1].text
    assert "as before" not in posts[0].text


@pytest.mark.parametrize(
    ("typed", "zone", "country"),
    [
        ("Central", "America/Chicago", "US"),
        ("central time", "America/Chicago", "US"),
        ("CST", "America/Chicago", "US"),
        ("we're in chicago", "America/Chicago", "US"),
        ("london", "Europe/London", "GB"),
        ("we live near zurich", "Europe/Zurich", "CH"),
        ("new york please", "America/New_York", "US"),
    ],
)
def test_a_typed_zone_moves_on_to_the_kit(new: Chat, typed: str, zone: str, country: str) -> None:
    new.says("Ines", "USD")
    posts = new.says("Ines", typed)

    assert (_settings(new).timezone, _settings(new).country) == (zone, country)
    assert "Which kit" in posts[-1].text


@pytest.mark.parametrize("typed", ["school pouch", "the school pouch please", "School pouches", "school"])
def test_a_typed_kit_ends_it(new: Chat, typed: str) -> None:
    new.says("Ines", "USD")
    new.says("Ines", "central")
    [post] = new.says("Ines", typed)

    assert "New kit: each school pouch gets" in post.text
    assert "Ready." in post.text


def test_a_reply_to_the_question_answers_it_later_too(new: Chat) -> None:
    [welcome] = new.posts
    new.clock += timedelta(days=3)

    assert new.says("Ines", "EUR") == []
    [noted] = new.replies("Ines", "EUR", welcome)

    assert noted.text.startswith("Noted: currency EUR.")


def test_a_place_that_is_no_zone_is_told(new: Chat) -> None:
    new.says("Ines", "USD")
    [told] = new.says("Ines", "we're in Boston")
    [then] = new.says("Ines", "new york")

    assert told.text == "I know no time zone “boston”. Write the biggest city of yours, such as: new york"
    assert "time zone America/New_York" in then.text


def test_a_reply_that_names_no_currency_is_told(new: Chat) -> None:
    [told] = new.replies("Ines", "shells", new.posts[0])

    assert told.text == "I know no currency “shells”. Write its code, such as: CHF"


def test_words_and_presses_may_take_turns(new: Chat) -> None:
    new.says("Ines", "we use euros")
    [pressed] = new.presses("Ines", "Berlin")

    assert pressed.text.startswith("Noted: time zone Europe/Berlin; country DE.")
    assert labels(pressed)[:2] == ["school pouch", "wash pouch"]


def test_a_first_press_says_what_is_set(new: Chat) -> None:
    [first] = new.presses("Ines", "USD")
    [again] = new.says("Ines", "set the currency to USD")

    assert first.text.startswith("Noted: currency USD.")
    assert again.text == "Currency: USD, as before."


def test_only_administrators_answer_in_words(new: Chat) -> None:
    assert new.says("Mei", "EUR") == []
    assert _settings(new).currency.code == "USD"

    [refused] = new.replies("Mei", "EUR", new.posts[0])

    assert refused.text == "Only Ines can change that: please ask."


@pytest.mark.parametrize(
    "talk",
    [
        "good morning",
        "i love london",
        "central park was nice",
        "dollars are scarce these days",
        "school is out",
        "boston",
        "we are there in ten",
        "is it USD?",
        "see you at school at 5",
        "who has the euros from the fair",
    ],
)
def test_talk_is_no_answer(new: Chat, talk: str) -> None:
    assert new.says("Ines", talk) == []
    assert _settings(new) == default_group().settings


def test_nothing_is_answered_once_all_is_set(new: Chat) -> None:
    for typed in ("USD", "central", "school pouch"):
        new.says("Ines", typed)

    assert new.says("Ines", "london") == []
