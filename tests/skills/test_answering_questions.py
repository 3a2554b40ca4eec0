"""A question answered by typing or by its buttons: by whom, how, and for how long."""

from __future__ import annotations

import pytest

from tests.chat import Chat
from tests.skills.kept import labels, paid, sightings

PACKS = "2 packs of pens 3.00 at larkmoor"


@pytest.mark.parametrize(
    "answer", ["20", "20.", "about 20", "it was 20", "20 in each", "20 per pack", "packs of 20", "20 pack"]
)
def test_typed_number_fills_the_hole(chat: Chat, answer: str) -> None:
    chat.says("Mei", PACKS)

    chat.says("Mei", answer)

    # 2 packs of 20
    assert paid(chat, "pen") == [(40, 300)]


@pytest.mark.parametrize("answer", ["12", "24"])
def test_typed_label_is_as_good_as_pressed(chat: Chat, answer: str) -> None:
    chat.says("Mei", PACKS)

    chat.says("Mei", answer)

    assert paid(chat, "pen") == [(2 * int(answer), 300)]


@pytest.mark.parametrize("answer", ["12 for 0.99", "12 for 0.99."])
def test_longer_label_is_typed_too(chat: Chat, answer: str) -> None:
    chat.says("Mei", "combs at larkmoor 12 99")

    chat.says("Mei", answer)

    assert paid(chat, "comb") == [(12, 99)]


def test_question_without_buttons_is_typed(chat: Chat) -> None:
    [question] = chat.says("Mei", "a few pens 1.20 at larkmoor")

    chat.says("Mei", "12")

    assert (question.text, labels(question)) == ("How many pens exactly? Type the number.", [])
    assert paid(chat, "pen") == [(12, 120)]


def test_anothers_number_is_no_answer(chat: Chat) -> None:
    chat.says("Mei", PACKS)

    assert chat.says("Ines", "24") == []
    assert paid(chat, "pen") == []


def test_question_waits_through_small_talk(chat: Chat) -> None:
    chat.says("Mei", PACKS)
    chat.says("Ines", "see you at 7")

    chat.says("Mei", "24")

    assert paid(chat, "pen") == [(48, 300)]


def test_a_corrected_price_answers_no_older_question(chat: Chat) -> None:
    chat.says("Mei", "pencils 0.47")
    chat.says("Mei", "12 pencils 0.47")

    silence = chat.says("Mei", "yes")

    assert silence == []
    assert paid(chat, "pencil") == [(12, 47)]


def test_the_answer_to_a_friend_answers_no_question(chat: Chat) -> None:
    chat.says("Mei", PACKS)
    chat.says("Ines", "how many kids are you bringing?")

    silence = chat.says("Mei", "3")

    assert silence == []
    assert paid(chat, "pen") == []


def test_typed_number_is_taken_half_an_hour(chat: Chat) -> None:
    chat.says("Mei", PACKS, at="2026-08-03T10:15")
    late = chat.says("Mei", "24", at="2026-08-03T10:46")

    chat.says("Mei", PACKS, at="2026-08-03T11:00")
    chat.says("Mei", "24", at="2026-08-03T11:29")

    assert late == []
    assert paid(chat, "pen") == [(48, 300)]


def test_button_answers_on_the_day_asked(chat: Chat) -> None:
    chat.says("Mei", PACKS)
    asked = chat.clock.date()
    chat.clock = chat.moment("2026-08-05T09:00")

    chat.presses("Mei", "12")

    assert [(seen.count, seen.seen_on) for seen in sightings(chat, "pen")] == [(24, asked)]


def test_question_is_answered_only_once(chat: Chat) -> None:
    chat.says("Mei", PACKS)
    chat.presses("Mei", "12")

    [post] = chat.presses("Ines", "12")

    assert post.text == "That question has been answered already."
    assert paid(chat, "pen") == [(24, 300)]


def test_purchase_stays_one_through_its_question(chat: Chat) -> None:
    chat.says("Mei", "bought pens 1.20 at larkmoor")

    [post] = chat.says("Mei", "12")

    assert post.text.startswith("Bought: 12 pens $1.20, Larkmoor Market, Mei.")


def test_check_stays_one_through_its_question(chat: Chat) -> None:
    chat.says("Mei", "is 1.44 for 2 packs of pens good?")

    [post] = chat.says("Mei", "12")

    # 144/24 is 6 cents
    assert post.text.startswith("Good price: pens at 6¢ each")
    assert paid(chat, "pen") == []


def test_senseless_answer_is_told_so(chat: Chat) -> None:
    chat.says("Mei", PACKS)

    [post] = chat.says("Mei", "0")

    assert post.text == "The count must be at least 1. Try: 12 pens 0.47"
    assert paid(chat, "pen") == []


@pytest.mark.parametrize("answer", ["twelve", "a dozen"])
def test_number_word_fills_the_hole(chat: Chat, answer: str) -> None:
    chat.says("Mei", PACKS)

    chat.says("Mei", answer)

    assert paid(chat, "pen") == [(24, 300)]


@pytest.mark.parametrize("answer", ["99c", "99 cents", "$0.99", ".99"])
def test_amount_answers_in_any_form(chat: Chat, answer: str) -> None:
    chat.says("Mei", "12 combs 99")

    chat.says("Mei", answer)

    assert paid(chat, "comb") == [(12, 99)]
