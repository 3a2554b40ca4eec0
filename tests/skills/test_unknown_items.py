"""An item the group has no name for: a new one, another name of one of ours, and what is learnt."""

from __future__ import annotations

import pytest

from bot.messages import TAKE_BACK
from tests.chat import Chat
from tests.skills.kept import labels, paid

GLUE = "8 glue sticks 1.60 at larkmoor"


def test_unknown_item_is_asked_about_first(chat: Chat) -> None:
    [post] = chat.says("Mei", GLUE)

    assert post.text.startswith("“glue stick” is new to me.")
    assert labels(post) == ["New item"]
    assert paid(chat, "glue stick") == []


def test_new_item_keeps_the_price_at_once(chat: Chat) -> None:
    chat.says("Mei", GLUE)

    [post] = chat.presses("Mei", "New item")

    assert post.text.splitlines() == [
        "First price: glue sticks at 20¢ each. Nothing to compare with yet.",
        "Kept: 8 glue sticks $1.60, Larkmoor Market.",
        "No price point yet. Set one, for example: price point for glue sticks 10 cents",
    ]
    assert paid(chat, "glue stick") == [(8, 160)]


def test_an_open_question_is_not_put_again_in_full(chat: Chat) -> None:
    chat.says("Mei", GLUE)
    [second] = chat.says("Mei", "8 glue sticks 1.20 at corner store")
    [third] = chat.says("Mei", "got 8 glue sticks 1.00")

    [post] = chat.presses("Mei", "New item")

    assert second.text == "“glue stick” again: one answer will do for both."
    assert third.text == "“glue stick” again: one answer will do for all 3."
    assert sorted(paid(chat, "glue stick")) == [(8, 100), (8, 120), (8, 160)]
    assert "Kept: 8 glue sticks $1.60, Larkmoor Market." in post.text


def test_a_message_said_again_meanwhile_is_kept_once(chat: Chat) -> None:
    chat.says("Mei", GLUE)
    chat.says("Mei", GLUE)
    chat.presses("Mei", "New item")

    assert paid(chat, "glue stick") == [(8, 160)]


def test_anothers_message_is_a_question_of_its_own(chat: Chat) -> None:
    chat.says("Mei", GLUE)

    [post] = chat.says("Ines", GLUE)

    assert post.text.startswith("“glue stick” is new to me.")


def test_new_item_is_known_the_next_time(chat: Chat) -> None:
    chat.says("Mei", GLUE)
    chat.presses("Mei", "New item")

    [post] = chat.says("Ines", "8 glue sticks 1.20 at corner store")

    # 120/8 is 15 cents, under the 20 of before
    assert post.text.startswith("Best price yet: glue sticks at 15¢ each.")


def test_likely_item_stands_on_a_button(chat: Chat) -> None:
    [question] = chat.says("Mei", "10 washers 3.00 at larkmoor")

    [post] = chat.presses("Mei", "Same as washcloth")

    assert labels(question) == ["New item", "Same as washcloth"]
    assert post.text.startswith("Good price: washcloths at 30¢ each")
    assert paid(chat, "washcloth") == [(10, 300)]


@pytest.mark.parametrize(
    "answer",
    [
        *("washcloth", "Same as washcloth", "the washcloth", "face cloth", "washcloths", "its washcloths"),
        *("same as washcloths", "It's the same as our washcloths", "they're washcloths!", "no, washcloths"),
        *("another name for washcloths", "washcloths pls", "wash cloths", "washclohts", "i mean washcloths"),
    ],
)
def test_typed_name_says_which_item(chat: Chat, answer: str) -> None:
    chat.says("Mei", "6 flannels 1.80 at larkmoor")

    chat.says("Mei", answer)

    assert paid(chat, "washcloth") == [(6, 180)]


@pytest.mark.parametrize("answer", ["New item", "new", "yes new", "it's new", "new item pls", "yes, a new one", "yes"])
def test_typed_word_says_that_it_is_new(chat: Chat, answer: str) -> None:
    chat.says("Mei", GLUE)

    chat.says("Mei", answer)

    assert paid(chat, "glue stick") == [(8, 160)]


@pytest.mark.parametrize(
    "answer", ["new pencils are here", "pencils or washcloths", "who has the washcloths", "its late"]
)
def test_other_words_answer_nothing(chat: Chat, answer: str) -> None:
    chat.says("Mei", GLUE)

    chat.says("Mei", answer)

    assert [paid(chat, item) for item in ("glue stick", "pencil", "washcloth")] == [[], [], []]


def test_learnt_name_is_used_from_then_on(chat: Chat) -> None:
    chat.says("Mei", "6 flannels 1.80 at larkmoor")
    chat.says("Mei", "washcloth")

    [price] = chat.says("Ines", "10 flannels 3.40 at corner store")
    [answer] = chat.says("Tobias", "what do we pay for flannels?")

    assert price.text.startswith("Good price: washcloths at 34¢ each")
    assert answer.text.startswith("Washcloths: price point 35¢ each.")
    assert paid(chat, "washcloth") == [(10, 340), (6, 180)]


def test_item_taken_back_is_unknown_again(chat: Chat) -> None:
    chat.says("Mei", GLUE)
    chat.presses("Mei", "New item")
    chat.presses("Mei", TAKE_BACK)

    [post] = chat.says("Ines", GLUE)

    assert post.text.startswith("“glue stick” is new to me.")


def test_item_in_use_outlives_its_first_price(chat: Chat) -> None:
    chat.says("Mei", GLUE)
    chat.presses("Mei", "New item")
    chat.says("Ines", "8 glue sticks 1.20 at corner store")

    chat.says("Mei", "undo")

    assert paid(chat, "glue stick") == [(8, 120)]


def test_answer_counts_for_who_was_asked(chat: Chat) -> None:
    chat.says("Mei", GLUE)

    chat.presses("Ines", "New item")
    [post] = chat.says("Ines", "undo")

    assert post.text == "You have nothing to take back. The last entry is Mei’s: 8 glue sticks $1.60, Larkmoor Market."


def test_no_keeps_nothing_and_learns_nothing(chat: Chat) -> None:
    chat.says("Mei", GLUE)

    [post] = chat.says("Mei", "no")
    [again] = chat.says("Mei", GLUE)

    assert post.text == "OK, not kept."
    assert again.text.startswith("“glue stick” is new to me.")


def test_unknown_purchase_is_asked_about_too(chat: Chat) -> None:
    chat.says("Mei", "bought 8 glue sticks 1.60 at larkmoor")

    [post] = chat.presses("Mei", "New item")

    assert post.text.splitlines() == ["Bought: 8 glue sticks $1.60, Larkmoor Market, Mei.", "20¢ each."]
