"""Several readings in one message: one answer, one entry, one way to take it all back."""

from __future__ import annotations

import pytest

from bot.messages import TAKE_BACK
from tests.chat import Chat
from tests.skills.kept import first_lines, labels, paid

LIST = "at corner store: 12 pencils 0.47, 24 crayons 55c and a notebook 0.60"


def test_list_is_answered_in_one_post(chat: Chat) -> None:
    [post] = chat.says("Mei", LIST)

    kept = [line for line in post.text.splitlines() if line.startswith("Kept:")]
    assert [line.partition(", corner store")[0] for line in kept] == [
        "Kept: 12 pencils $0.47",
        "Kept: 24 crayons $0.55",
        "Kept: 1 notebook $0.60",
    ]
    assert labels(post) == [TAKE_BACK]


def test_one_press_takes_back_the_list(chat: Chat) -> None:
    chat.says("Mei", LIST)

    [post] = chat.presses("Mei", TAKE_BACK)

    assert post.text == (
        "Taken back: 12 pencils $0.47, corner store; 24 crayons $0.55, corner store; 1 notebook $0.60, corner store."
    )
    assert [paid(chat, item) for item in ("pencil", "crayon", "notebook")] == [[], [], []]


def test_kinds_of_all_sorts_share_an_entry(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.47; bought 24 crayons .55; price point for pens 9 cents; note: the blue pens leak")

    [post] = chat.says("Mei", "undo")

    assert post.text == (
        "Taken back: 12 pencils $0.47; bought 24 crayons $0.55, Mei; price point for pen; note on pen."
    )


def test_price_beside_a_question_is_kept(chat: Chat) -> None:
    [post] = chat.says("Mei", "12 pencils 0.47\nwhere are crayons cheapest?")

    assert post.text.splitlines()[-1].startswith("Crayons: no prices in the books yet.")
    assert labels(post) == [TAKE_BACK]
    assert paid(chat, "pencil") == [(12, 47)]


def test_unclear_part_is_asked_on_its_own(chat: Chat) -> None:
    answer, question = chat.says("Mei", "12 pencils 0.47, 12 combs 99")

    assert first_lines([question]) == ["99: is that 0.99 or 99.00?"]
    assert labels(answer) == [TAKE_BACK]
    assert (paid(chat, "pencil"), paid(chat, "comb")) == ([(12, 47)], [])


def test_answer_makes_an_entry_of_its_own(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.47, 12 combs 99")
    chat.presses("Mei", "0.99")

    chat.says("Mei", "undo")

    assert (paid(chat, "pencil"), paid(chat, "comb")) == ([(12, 47)], [])


def test_two_unknown_items_are_two_questions(chat: Chat) -> None:
    posts = chat.says("Mei", "8 glue sticks 1.60, 6 flannels 1.80")

    assert [post.text.partition(" is new")[0] for post in posts] == ["“glue stick”", "“flannel”"]


def test_same_price_said_twice_is_one(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.47, 12 pencils 0.47")

    assert paid(chat, "pencil") == [(12, 47)]


@pytest.mark.parametrize("joint", [" and ", ", "])
def test_price_beside_a_price_point_is_kept(chat: Chat, joint: str) -> None:
    chat.says("Mei", f"12 pencils 0.47{joint}price point for pens 9 cents")

    assert paid(chat, "pencil") == [(12, 47)]


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("clerk i paid Ines 4.20, are we square now?", ["Noted: Mei paid Ines $4.20.", "Mei is owed $4.20."]),
        ("summary please and the balances", ["The week to Mon Aug 3 was quiet", "All square: nobody owes anything."]),
    ],
)
def test_request_beside_another_is_answered_too(chat: Chat, said: str, told: list[str]) -> None:
    [post] = chat.says("Mei", said)

    assert [line for line in told if line in post.text] == told


def test_remark_behind_a_purchase_is_kept_with_it(chat: Chat) -> None:
    chat.says("Mei", "bought 20 pens 2.00 corner store, they leak tho, dont get more")

    [post] = chat.says("Mei", "undo")

    assert post.text == "Taken back: bought 20 pens $2.00, corner store, Mei; note on pen."
