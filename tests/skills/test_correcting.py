"""Corrections in the run of a chat: without a reply, with a question in between, of messages changed after the fact."""

from __future__ import annotations

from datetime import timedelta

import pytest

from bot.messages import Incoming, Post, Sender
from tests.chat import Chat
from tests.skills.kept import first_lines, labels, paid

PRICE = "12 pencils 0.47 at corner store"


@pytest.mark.parametrize(
    "words",
    [
        "make it 24",
        "no 7",
        "no, 6.30",
        "sorry, 24",
        "sorry 10 minutes late",
        "no 10 crayons",
        "24 not 30",
        "not 5",
        "sorry I was at larkmoor",
    ],
)
def test_without_a_reply_what_may_be_talk_changes_nothing(chat: Chat, words: str) -> None:
    chat.says("Mei", PRICE)

    chat.says("Mei", words)

    assert paid(chat, "pencil") == [(12, 47)]


@pytest.mark.parametrize(
    ("words", "count", "cents"),
    [
        ("sorry, 0.74 not 0.47", 12, 74),
        ("ugh sorry 0.74 not 0.47", 12, 74),
        ("24 not 12", 24, 47),
        ("no it was 0.60", 12, 60),
        ("no, it was 0.60", 12, 60),
        ("oops pencils were 12 for 0.74", 12, 74),
        ("sorry pencils 0.57", 12, 57),
        ("pencils were 0.57 not 0.47", 12, 57),
    ],
)
def test_without_a_reply_a_plain_correction_changes_what_one_just_said(
    chat: Chat, words: str, count: int, cents: int
) -> None:
    chat.says("Mei", PRICE)

    [answer] = chat.says("Mei", words)

    assert first_lines([answer]) == ["Corrected; it was: 12 pencils $0.47, corner store."]
    assert paid(chat, "pencil") == [(count, cents)]


@pytest.mark.parametrize("between", ["sorry, 0.74 not 0.47", "was the bus 2?", "how are you all"])
def test_once_somebody_else_has_spoken_nothing_is_a_plain_correction(chat: Chat, between: str) -> None:
    chat.says("Mei", PRICE)
    chat.says("Tobias", between)

    for words in ("no it was 2.40", "sorry, 0.74 not 0.47"):
        chat.says("Mei", words)

    assert paid(chat, "pencil") == [(12, 47)]


def test_later_nothing_is_a_plain_correction(chat: Chat) -> None:
    chat.says("Mei", PRICE)
    chat.clock += timedelta(hours=1)

    chat.says("Mei", "sorry, 0.74 not 0.47")

    assert paid(chat, "pencil") == [(12, 47)]


def test_entry_stands_until_the_question_about_its_change_is_answered(chat: Chat) -> None:
    [post] = chat.says("Mei", PRICE)

    [post] = chat.replies("Mei", "make it 240", post)
    assert first_lines([post]) == ["Until you answer, this stands: 12 pencils $0.47, corner store."]
    assert labels(post) == ["Keep it"]
    assert paid(chat, "pencil") == [(12, 47)]

    [post] = chat.presses("Mei", "Keep it")
    assert first_lines([post]) == ["Corrected; it was: 12 pencils $0.47, corner store."]
    assert paid(chat, "pencil") == [(240, 47)]


def test_change_that_is_not_kept_leaves_the_entry(chat: Chat) -> None:
    [post] = chat.says("Mei", PRICE)
    chat.replies("Mei", "make it 240", post)

    [post] = chat.says("Mei", "no")

    assert post.text == "OK, left as it was."
    assert paid(chat, "pencil") == [(12, 47)]


def test_question_about_a_change_is_answered_by_another_change(chat: Chat) -> None:
    [post] = chat.says("Mei", PRICE)
    [asked] = chat.replies("Mei", "make it 240", post)

    chat.replies("Mei", "no, 24", asked)
    [late] = chat.presses("Mei", "Keep it")

    assert late.text == "That question has been answered already."
    assert paid(chat, "pencil") == [(24, 47)]


def said(chat: Chat, ref: str, text: str) -> list[Post]:
    """What a message of Mei brings."""
    return chat.hears(Incoming(chat.key, Sender("Mei"), text, chat.clock, ref))


def changed(chat: Chat, ref: str, text: str) -> list[Post]:
    """What it brings that she changes that message."""
    return chat.hears(Incoming(chat.key, Sender("Mei"), text, chat.clock, f"{ref}: {chat.clock}", corrects=ref))


def test_question_about_a_changed_message_is_asked_no_longer(chat: Chat) -> None:
    [asked] = said(chat, "m", "got 2 packs of pencils 1.00 at larkmoor")

    [post] = changed(chat, "m", "got 2 packs of 12 pencils 1.00 at larkmoor")

    assert post.text.startswith("Bought: 24 pencils $1.00")
    assert post.edits == chat.ref_of(asked)
    assert chat.says("Mei", "12") == []
    assert paid(chat, "pencil") == [(24, 100)]


def test_question_about_a_message_changed_to_talk_is_asked_no_longer(chat: Chat) -> None:
    [asked] = said(chat, "m", "got 2 packs of pencils 1.00 at larkmoor")

    [post] = changed(chat, "m", "lol wrong chat sorry")

    assert (post.text, post.edits, post.only_changes) == (
        "No longer asked: the message was changed.",
        chat.ref_of(asked),
        True,
    )


def test_message_changed_after_a_reply_to_it_changes_what_the_reply_made(chat: Chat) -> None:
    [post] = said(chat, "m", "got 12 pencils 0.60 at larkmoor")
    chat.replies("Mei", "make it 24", post)

    assert changed(chat, "m", "got 24 pencils 0.60 at larkmoor") == []
    [post] = changed(chat, "m", "got 24 pencils 0.66 at larkmoor")

    assert first_lines([post]) == ["Corrected; it was: bought 24 pencils $0.60, Larkmoor Market, Mei."]
    assert paid(chat, "pencil") == [(24, 66)]


def test_reply_to_what_was_said_before_a_correction_is_about_what_stands(chat: Chat) -> None:
    [first] = said(chat, "m", PRICE)
    chat.replies("Mei", "make it 24", first)

    [post] = chat.replies("Mei", "take that back", first)

    assert post.text == "Taken back: 24 pencils $0.47, corner store."
    assert paid(chat, "pencil") == []


def test_reply_to_a_members_own_message_changes_what_it_entered(chat: Chat) -> None:
    said(chat, "m", PRICE)

    chat.hears(Incoming(chat.key, Sender("Tobias"), "make it 24", chat.clock, "r", answers="m"))

    assert paid(chat, "pencil") == [(24, 47)]


def test_taking_back_in_reply_to_what_entered_nothing_takes_nothing_unasked(chat: Chat) -> None:
    chat.says("Mei", PRICE)
    chat.hears(Incoming(chat.key, Sender("Tobias"), "how are you all", chat.clock, "t"))

    [post] = chat.hears(Incoming(chat.key, Sender("Mei"), "take that back", chat.clock, "r", answers="t"))

    assert post.text == "Nothing was kept of that. Your last entry: 12 pencils $0.47, corner store."
    assert labels(post) == ["Take back"]
    assert paid(chat, "pencil") == [(12, 47)]


def test_reply_that_changes_what_cannot_be_changed_so_is_told_so(chat: Chat) -> None:
    [shared] = chat.says("Mei", "split 24 pens 2.40 with Ines")

    [post] = chat.replies("Mei", "no 2.60", shared)

    assert post.text.startswith("I cannot change that by a reply: split of 24 pens")
    assert labels(post) == ["Take back"]


@pytest.mark.parametrize(
    ("first", "then"),
    [
        ("I have 6 pencils", "I have 6 pencils in my garage"),
        ("12 pencils 0.47 at corner store", "12 pencils 0.47 at corner store, limit 2"),
        ("note: the blue sharpeners break", "note: the blue sharpeners break often"),
        ("remind us friday at 5pm to call the hall", "remind us friday at 6pm to call the hall"),
        ("add a window: hall sale first saturday of october", "add a window: hall sale second saturday of october"),
    ],
)
def test_change_of_any_part_is_kept(chat: Chat, first: str, then: str) -> None:
    said(chat, "m", first)

    corrected = changed(chat, "m", then)[0]

    assert corrected.text.startswith("Corrected; it was: ")
    assert changed(chat, "m", then) == []


def test_question_about_several_messages_is_still_asked_about_those_that_stay(chat: Chat) -> None:
    for number in range(3):
        said(chat, f"m{number}", f"10 zithers {number + 1}.00 at larkmoor")

    changed(chat, "m1", "lol wrong chat sorry")
    chat.presses("Mei", "New item")

    assert sorted(paid(chat, "zither")) == [(10, 100), (10, 300)]
