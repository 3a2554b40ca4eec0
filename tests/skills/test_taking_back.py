"""Taking back: by button, by word, twice, another's, and what is left in the books."""

from __future__ import annotations

from datetime import timedelta

from bot.messages import TAKE_BACK
from tests.chat import Chat
from tests.skills.kept import first_lines, labels, paid


def test_button_takes_the_price_out(chat: Chat) -> None:
    [kept] = chat.says("Mei", "12 pencils 0.47 at corner store")

    [post] = chat.presses("Mei", TAKE_BACK)

    assert labels(kept) == [TAKE_BACK]
    assert (post.text, labels(post)) == ("Taken back: 12 pencils $0.47, corner store.", [])
    assert paid(chat, "pencil") == []


def test_word_takes_the_last_entry_out(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.47 at corner store")
    chat.says("Mei", "24 crayons 55c at larkmoor")

    [post] = chat.says("Mei", "take that back")

    assert post.text == "Taken back: 24 crayons $0.55, Larkmoor Market."
    assert paid(chat, "crayon") == []
    assert paid(chat, "pencil") == [(12, 47)]


def test_a_last_entry_of_long_ago_is_asked_about(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.47 at corner store")
    chat.clock += timedelta(days=2)

    [asked] = chat.says("Mei", "take that back")

    assert asked.text == "Your last entry is of Aug 3: 12 pencils $0.47, corner store. Take it back?"
    assert labels(asked) == [TAKE_BACK]
    assert paid(chat, "pencil") == [(12, 47)]


def test_words_work_backwards_until_nothing_is_left(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.47 at corner store")
    chat.says("Mei", "24 crayons 55c")

    posts = [post for _ in range(3) for post in chat.says("Mei", "undo")]

    assert [post.text for post in posts] == [
        "Taken back: 24 crayons $0.55.",
        "Taken back: 12 pencils $0.47, corner store.",
        "There is nothing to take back.",
    ]


def test_second_press_tells_who_was_first(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.47 at corner store")
    chat.presses("Ines", TAKE_BACK)

    [post] = chat.presses("Mei", TAKE_BACK)

    assert post.text == "Ines has taken that back already: 12 pencils $0.47, corner store."


def test_anothers_entry_goes_by_button_only(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.47 at corner store")

    [offer] = chat.says("Ines", "undo that")

    assert first_lines([offer]) == [
        "You have nothing to take back. The last entry is Mei’s: 12 pencils $0.47, corner store."
    ]
    assert paid(chat, "pencil") == [(12, 47)]

    [post] = chat.presses("Ines", TAKE_BACK)

    assert post.text == "Taken back: 12 pencils $0.47, corner store (Mei’s entry)."
    assert paid(chat, "pencil") == []


def test_word_passes_over_what_others_said_since(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.47")
    chat.says("Ines", "10 pencils 0.45")

    [post] = chat.says("Mei", "undo")

    assert post.text == "Taken back: 12 pencils $0.47."
    assert paid(chat, "pencil") == [(10, 45)]


def test_purchase_goes_with_its_price(chat: Chat) -> None:
    chat.says("Mei", "bought 12 pencils 0.47 at corner store")

    [post] = chat.says("Mei", "undo")

    assert post.text == "Taken back: bought 12 pencils $0.47, corner store, Mei."
    assert paid(chat, "pencil") == []


def test_price_taken_back_judges_nothing(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.12 was 0.60")
    chat.says("Mei", "undo")

    [post] = chat.says("Mei", "12 pencils 0.47")

    assert "The first price in the books." in post.text


def test_entry_said_again_after_taking_back_stands(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.74 at corner store")
    chat.says("Mei", "oops, undo")

    chat.says("Mei", "12 pencils 0.47 at corner store")

    assert paid(chat, "pencil") == [(12, 47)]


def test_a_named_entry_is_taken_back(chat: Chat) -> None:
    chat.says("Mei", "split 100 pens 10.00 with Ines")
    chat.says("Mei", "split 96 combs 9.60 with Ines")

    [post] = chat.says("Mei", "take back the pens split")

    assert post.text.startswith("Taken back: split of 100 pens $10.00")


def test_anothers_named_entry_is_only_offered(chat: Chat) -> None:
    chat.says("Mei", "split 100 pens 10.00 with Tobias")
    chat.says("Tobias", "paid Mei 3.30")

    [post] = chat.says("Mei", "take back what Tobias paid")

    assert (post.text, labels(post)) == ("That is Tobias’s entry: Tobias paid Mei $3.30.", [TAKE_BACK])


def test_an_entry_that_is_not_there_is_told(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.47")

    [post] = chat.says("Mei", "undo the payment to Ines")

    assert post.text.startswith("I find no such entry.")
    assert paid(chat, "pencil") == [(12, 47)]


def test_talk_of_taking_back_takes_nothing_back(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.47")

    for said in ("take that box back to the shop", "please don't take that back", "sure, I can take it back"):
        chat.says("Mei", said)

    assert paid(chat, "pencil") == [(12, 47)]
