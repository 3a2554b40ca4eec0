"""Payments and debts in the chat, and what is told of balances."""

from __future__ import annotations

import pytest

from tests.chat import Chat
from tests.skills.kept import labels
from tests.skills.test_splits import owed

CASE = "split 144 sharpeners 12.60 between me, Ines and Tobias"


def test_a_payment_lowers_what_is_owed(chat: Chat) -> None:
    chat.says("Mei", CASE)
    [post] = chat.says("Ines", "paid Mei 3.00")

    assert post.text == "Noted: Ines paid Mei $3.00.\nInes owes $1.20. Mei is owed $5.40."
    assert owed(chat) == {"Mei": 540, "Ines": -120, "Tobias": -420}


def test_paying_more_than_is_owed_turns_it_round_and_says_so(chat: Chat) -> None:
    chat.says("Mei", CASE)
    [post] = chat.says("Ines", "paid Mei 5.00")

    # 5.00 - 4.20 = 0.80
    assert "That is $0.80 more than Ines owed in all, so it turns round." in post.text
    assert "Ines is owed $0.80." in post.text


def test_paying_without_owing_is_said_as_well(chat: Chat) -> None:
    [post] = chat.says("Ines", "paid Mei 5.00")

    assert post.text == "Noted: Ines paid Mei $5.00.\nInes owed nothing before.\nInes is owed $5.00. Mei owes $5.00."
    assert owed(chat) == {"Ines": 500, "Mei": -500}


def test_the_other_side_reports_the_same_payment(chat: Chat) -> None:
    chat.says("Mei", CASE)
    chat.says("Mei", "Tobias gave me four bucks for the sharpeners")

    assert owed(chat) == {"Mei": 440, "Ines": -420, "Tobias": -20}


def test_a_payment_taken_back_leaves_the_debt(chat: Chat) -> None:
    chat.says("Mei", CASE)
    chat.says("Ines", "paid Mei 4.20")
    chat.presses("Ines", "Take back")

    assert owed(chat) == {"Mei": 840, "Ines": -420, "Tobias": -420}


def test_a_payment_without_its_amount_is_asked_about(chat: Chat) -> None:
    chat.says("Mei", CASE)
    [asked] = chat.says("Ines", "paid Mei back")
    assert asked.text == "How much did Ines pay Mei? Type the amount. $4.20 would settle it."

    chat.says("Ines", "4.20")

    assert owed(chat) == {"Mei": 420, "Tobias": -420}


def test_a_statement_of_debt_is_asked_about_and_not_booked(chat: Chat) -> None:
    [asked] = chat.says("Mei", "I owe Ines 5")

    assert asked.text.startswith("Shall I book that Mei owes Ines 5.00?")
    assert labels(asked) == ["Book it", "Leave it"]
    assert owed(chat) == {}


def test_a_statement_of_debt_is_booked_when_said_so(chat: Chat) -> None:
    chat.says("Mei", "I owe Ines 5")
    chat.presses("Mei", "Book it")

    assert owed(chat) == {"Mei": -500, "Ines": 500}


def test_a_statement_of_debt_can_be_left(chat: Chat) -> None:
    chat.says("Mei", "I owe Ines 5")
    [post] = chat.presses("Mei", "Leave it")

    assert post.text == "OK, not kept."
    assert owed(chat) == {}


def test_who_owes_what_names_the_fewest_payments(chat: Chat) -> None:
    chat.says("Mei", CASE)
    [post] = chat.says("Amara", "who owes what?")

    assert post.text.splitlines() == [
        "Mei is owed $8.40.",
        "Ines owes $4.20.",
        "Tobias owes $4.20.",
        "Fewest payments to be square (2):",
        "Ines pays Mei $4.20",
        "Tobias pays Mei $4.20",
    ]


def test_why_lists_the_entries_since_square(chat: Chat) -> None:
    chat.says("Mei", CASE)
    chat.says("Ines", "paid Mei 4.20")
    chat.says("Tobias", "split 24 pens 2.40 with Ines", at="2026-08-05T09:00")
    chat.says("Ines", "paid Tobias 0.20")
    [post] = chat.says("Ines", "why do I owe Tobias 1.00?", at="2026-08-06T09:00")

    assert post.text.splitlines() == [
        "Ines owes $1.00.",
        "To be square: Ines pays Mei $1.00.",
        "It comes from:",
        "Aug 5: split of 24 pens $2.40 (Tobias paid, with Ines), -$1.20",
        "Aug 5: Ines paid Tobias $0.20, +$0.20",
        "(+ is owed to Ines, - is owed by Ines)",
    ]


def test_an_entry_taken_back_is_no_reason(chat: Chat) -> None:
    chat.says("Mei", CASE)
    chat.says("Mei", "split 24 pens 2.40 with Ines")
    chat.presses("Mei", "Take back")
    [post] = chat.says("Ines", "why do I owe Mei 4.20?")

    assert "24 pens" not in post.text
    assert "144 sharpeners" in post.text


def test_what_would_settle_is_a_button(chat: Chat) -> None:
    chat.says("Mei", CASE)
    [asked] = chat.says("Ines", "settled up with Mei")
    assert asked.text == "How much did Ines pay Mei? Type the amount. $4.20 would settle it."

    chat.presses("Ines", "4.20")

    assert owed(chat) == {"Mei": 420, "Tobias": -420}


def test_two_payments_in_one_message(chat: Chat) -> None:
    [post] = chat.says("Mei", "paid Ines 4.20 and Tobias 3.10")

    assert owed(chat) == {"Mei": 730, "Ines": -420, "Tobias": -310}
    assert "Mei is owed $7.30." in post.text


@pytest.mark.parametrize(
    "said",
    [
        "gave Ines 12 soaps",
        "Tobias handed me 24 washcloths for saturday",
        "I haven't paid Ines 3.30 yet",
        "have I paid Ines 3.30?",
        "Ines gave me 3 good ideas",
        "please give Ines a ring at 5.15",
        "Ines wanted to give me 3.15 but I said no",
    ],
)
def test_goods_denials_and_questions_are_no_payments(chat: Chat, said: str) -> None:
    chat.says("Mei", said)

    assert owed(chat) == {}


@pytest.mark.parametrize("said", ["paid Ines 0", "paid Ines -3", "paid Ines 1000000000000"])
def test_sums_that_cannot_be_are_told(chat: Chat, said: str) -> None:
    [post] = chat.says("Mei", said)

    assert "Try: paid Ines 4.20" in post.text
    assert owed(chat) == {}
