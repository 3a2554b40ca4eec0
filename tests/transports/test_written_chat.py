"""What the lines of a written chat become, and what a bad one is answered with."""

from __future__ import annotations

import pytest

from bot.transports.written_chat import BadLineError, ClockMove, Line, Pressed, Said, minutes, read_chat

CHAT = """\
# August
2026-08-03 10:15 Mei: 12 pencils 0.47 at corner store
2026-08-03 10:16 Ines: is 1.25 for 10 pens
  a good price?

2026-08-03 10:17 Mei: [Take back]
2026-08-09 18:00
"""


def played_before_fault(text: str) -> tuple[list[Line], str]:
    lines: list[Line] = []
    with pytest.raises(BadLineError) as caught:
        lines.extend(read_chat(text))
    return lines, str(caught.value)


def test_lines_become_messages_presses_and_moves() -> None:
    first, second, press, move = read_chat(CHAT)

    assert isinstance(first, Said)
    assert (first.number, first.name, first.text) == (2, "Mei", "12 pencils 0.47 at corner store")
    assert minutes(first.at) == "2026-08-03 10:15"
    assert isinstance(second, Said)
    assert isinstance(press, Pressed)
    assert (press.number, press.name, press.label) == (6, "Mei", "Take back")
    assert isinstance(move, ClockMove)
    assert (move.number, minutes(move.at)) == (7, "2026-08-09 18:00")


def test_indented_line_continues_the_message() -> None:
    message = list(read_chat(CHAT))[1]

    assert isinstance(message, Said)
    assert message.text == "is 1.25 for 10 pens\na good price?"


def test_message_may_begin_under_its_name() -> None:
    (message,) = read_chat("2026-08-03 10:15 Mei:\n  12 pencils 0.47\n  # 2 ones\n")

    assert isinstance(message, Said)
    assert message.text == "12 pencils 0.47\n# 2 ones"


def test_colons_and_brackets_stay_in_the_text() -> None:
    shop, photo = read_chat("2026-08-03 10:15 Mei: corner store: crayons 55c\n2026-08-03 10:15 Mei: [new] pens 1.00")

    assert isinstance(shop, Said)
    assert shop.text == "corner store: crayons 55c"
    assert isinstance(photo, Said)
    assert photo.text == "[new] pens 1.00"


def test_windows_line_ends_count_the_same() -> None:
    assert list(read_chat(CHAT.replace("\n", "\r\n"))) == list(read_chat(CHAT))


def test_form_feed_begins_no_new_line() -> None:
    (message,) = read_chat("2026-08-03 10:15 Mei: 12 pencils\x0c0.47")

    assert message.number == 1


@pytest.mark.parametrize(
    ("bad", "fault"),
    [
        ("Mei: hello", "it must begin with a day and a time"),
        ("2026-08-03 Mei: hello", "it must begin with a day and a time"),
        ("2026-08-03 10:15:30 Mei: hello", "it must begin with a day and a time"),
        ("2026-02-30 10:15 Mei: hello", "2026-02-30 10:15 is no moment of the calendar"),
        ("0026-08-09 18:00", "0026-08-09 18:00 is no moment that a group can mean"),
        ("2026-08-09 25:00", "2026-08-09 25:00 is no moment of the calendar"),
        ("2026-08-09 18:00 hello", "a name and a colon must follow the time"),
        ("2026-08-09 18:00 : hello", "a name and a colon must follow the time"),
        ("2026-08-09 18:00 Mei:", "Mei says nothing"),
        ("2026-08-02 18:00 Mei: hello", "time goes backwards, it was 2026-08-09 18:00 already"),
        ("  hello", "there is no message above it to continue"),
    ],
)
def test_bad_line_is_named_after_those_before(bad: str, fault: str) -> None:
    lines, said = played_before_fault(f"{CHAT}{bad}\n2026-08-10 10:00 Mei: 6 pens 0.50\n")

    assert lines == list(read_chat(CHAT))
    assert said.startswith("line 8: ")
    assert fault in said


def test_press_cannot_be_continued() -> None:
    lines, said = played_before_fault("2026-08-03 10:17 Mei: [Take back]\n  and this\n")

    assert [line.number for line in lines] == [1]
    assert said.startswith("line 2: ")


def test_text_cannot_begin_with_blanks() -> None:
    lines, said = played_before_fault("  hello\n")

    assert lines == []
    assert said.startswith("line 1: ")
