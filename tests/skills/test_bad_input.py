"""What no group can mean: one sentence with an example, and nothing recorded."""

from __future__ import annotations

import re

import pytest

from bot.storage.entries import last_entry
from tests.chat import Chat
from tests.skills.kept import labels

MOST_CHARACTERS = 4096
EXAMPLE = re.compile(r"(Try|such as): \d+ \w+ \d+\.\d\d( at corner store)?$")

REFUSED = {
    "no price": "12 pencils 0.00 at corner store",
    "no price, one digit": "12 pencils $0",
    "nothing counted": "0 pencils 0.47 at corner store",
    "negative price": "12 pencils -0.47",
    "negative count": "-12 pencils 0.47",
    "a fraction of a cent": "12 pencils 0.475",
    "four decimals": "12 pencils 0.4757",
    "over a million units": "2000000 pencils 5.00",
    "over a million dollars": "12 pencils 2000000.00",
    "far over a million dollars": "12 pencils $99999999999999999999",
    "a hidden blank in a word": "12 pen\u200bcils 0.47",
    "a mark that turns the writing": "12 pencils \u202e74.0",
    "the longest message there is": ("12 pencils 0.47 at corner store\n" * 200)[:MOST_CHARACTERS],
}


@pytest.mark.parametrize("bad", REFUSED.values(), ids=REFUSED)
def test_bad_price_gets_a_sentence_with_an_example(chat: Chat, bad: str) -> None:
    [post] = chat.says("Mei", bad)

    assert EXAMPLE.search(post.text)
    assert labels(post) == []
    assert len(post.text) < 200


@pytest.mark.parametrize("bad", REFUSED.values(), ids=REFUSED)
def test_bad_price_records_nothing(chat: Chat, bad: str) -> None:
    chat.says("Mei", bad)

    with chat.books() as books:
        assert last_entry(books, None) is None


@pytest.mark.parametrize("start", ["bought ", "is "])
@pytest.mark.parametrize("bad", ["12 pencils 0.00", "0 pencils 0.47", "2000000 pencils 5.00", "12 pencils 0.475"])
def test_bad_purchases_and_questions_fare_alike(chat: Chat, start: str, bad: str) -> None:
    [post] = chat.says("Mei", start + bad + ("?" if start == "is " else ""))

    assert EXAMPLE.search(post.text)


def test_example_given_is_understood(chat: Chat) -> None:
    [refusal] = chat.says("Mei", "12 pencils -0.47")

    [post] = chat.says("Mei", refusal.text.partition("Try: ")[2])

    assert post.text.startswith("Good price: pencils at 4¢ each")


@pytest.mark.parametrize("noise", ["x" * MOST_CHARACTERS, "9" * MOST_CHARACTERS, "\u200b" * 10, "   ", "?!"])
def test_noise_gets_no_answer(chat: Chat, noise: str) -> None:
    assert chat.says("Mei", noise) == []


def test_bare_zero_is_refused_at_once(chat: Chat) -> None:
    [post] = chat.says("Mei", "12 pencils 0 at corner store")

    assert EXAMPLE.search(post.text)
    assert labels(post) == []


@pytest.mark.parametrize("bad", ["12 pencils " + "9" * 4000, "9" * 4000 + " pencils 0.47"], ids=["price", "count"])
def test_endless_number_is_not_repeated(chat: Chat, bad: str) -> None:
    [post] = chat.says("Mei", bad)

    assert len(post.text) < MOST_CHARACTERS


def test_negative_price_point_is_refused(chat: Chat) -> None:
    chat.says("Mei", "price point for pens -5 cents")

    with chat.books() as books:
        assert last_entry(books, None) is None
