"""Notes: kept in the words of whoever made them, and told with the verdict."""

from __future__ import annotations

from bot.messages import TAKE_BACK
from tests.chat import Chat
from tests.skills.kept import labels

BREAKS = "note: the blue sharpeners break"


def test_note_is_echoed_with_its_item(chat: Chat) -> None:
    [post] = chat.says("Ines", BREAKS)

    assert post.text == "Noted on sharpeners: the blue sharpeners break"
    assert labels(post) == [TAKE_BACK]


def test_note_is_told_with_a_price(chat: Chat) -> None:
    chat.says("Ines", BREAKS)

    [post] = chat.says("Mei", "6 sharpeners 0.54 at larkmoor")

    assert post.text.splitlines()[-1] == "Note from Ines: the blue sharpeners break"


def test_note_is_told_with_a_check(chat: Chat) -> None:
    chat.says("Ines", BREAKS)

    [post] = chat.says("Mei", "is 0.54 for 6 sharpeners a good price?")

    assert post.text.splitlines()[-1] == "Note from Ines: the blue sharpeners break"


def test_newest_note_tells_of_more(chat: Chat) -> None:
    chat.says("Ines", BREAKS)
    chat.says("Mei", "the red sharpeners are sturdy")

    [post] = chat.says("Mei", "6 sharpeners 0.54")

    assert post.text.splitlines()[-1] == "Note from Mei: the red sharpeners are sturdy (and 1 more)"


def test_note_stays_with_its_own_item(chat: Chat) -> None:
    chat.says("Ines", BREAKS)

    [post] = chat.says("Mei", "12 pencils 0.47")

    assert "Note" not in post.text


def test_note_taken_back_is_told_no_more(chat: Chat) -> None:
    chat.says("Ines", BREAKS)
    [taken] = chat.presses("Ines", TAKE_BACK)

    [post] = chat.says("Mei", "6 sharpeners 0.54")

    assert taken.text == "Taken back: note on sharpener."
    assert "Note" not in post.text


def test_note_keeps_its_capitals_and_signs(chat: Chat) -> None:
    [post] = chat.says("Mei", "Note: sharpeners by Brindle & Co - NOT worth it")

    assert post.text == "Noted on sharpeners: sharpeners by Brindle & Co - NOT worth it"
