"""Asking whether a price is good: the verdict of a price, and nothing recorded."""

from __future__ import annotations

import pytest

from bot.storage.entries import last_entry
from tests.chat import Chat
from tests.skills.kept import first_lines, labels, paid

CHECK = "is 0.47 for 12 pencils a good price?"


@pytest.mark.parametrize(
    "message",
    [
        CHECK,
        "12 pencils 0.47?",
        "is 4.70 for 12 pencils at corner store ok?",
        "is 1.20 for 10 pens at copper kettle any good?",
    ],
)
def test_check_records_nothing_at_all(chat: Chat, message: str) -> None:
    [post] = chat.says("Mei", message)

    assert labels(post) == []
    with chat.books() as books:
        assert last_entry(books, None) is None


def test_check_judges_as_the_price_would_be(chat: Chat) -> None:
    asked = chat.says("Mei", CHECK)

    said = chat.says("Mei", "12 pencils 0.47")

    assert first_lines(asked) == first_lines(said)


def test_check_is_judged_by_what_stands(chat: Chat) -> None:
    chat.says("Ines", "12 pencils 0.36 at larkmoor")

    [post] = chat.says("Mei", CHECK)

    # 36/12 is 3 cents
    assert post.text.splitlines() == [
        "Good price: pencils at 4¢ each (price point 5¢, at most 7¢). Buy.",
        "Lowest before 3¢ (Larkmoor Market, today); usual 3¢ (1 price, newest today).",
    ]


def test_checks_leave_no_history(chat: Chat) -> None:
    for _ in range(3):
        chat.says("Mei", "is 0.24 for 12 pencils good?")

    [post] = chat.says("Mei", "12 pencils 0.47")

    assert "The first price in the books." in post.text


def test_unlikely_price_is_judged_without_doubt(chat: Chat) -> None:
    [post] = chat.says("Mei", "is 4.70 for 12 pencils a good price?")

    assert post.text.startswith("Too dear: pencils at 40¢ each")


def test_check_of_a_new_shop_adds_none(chat: Chat) -> None:
    chat.says("Mei", "is 1.20 for 10 pens at copper kettle good?")

    [post] = chat.says("Mei", "10 pens 1.20 at copper kettle")

    assert "copper kettle (new shop)" in post.text


def test_new_item_of_a_check_has_no_price(chat: Chat) -> None:
    chat.says("Mei", "is 1.60 for 8 glue sticks a good price?")

    [post] = chat.presses("Mei", "New item")

    assert post.text.startswith("First price: glue sticks at 20¢ each.")
    assert paid(chat, "glue stick") == []
