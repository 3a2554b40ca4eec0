"""Playing written chats through the real assistant, as the command does."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner, Result

from bot.commands import app

HARBOUR_LANE = str(Path(__file__).parents[1] / "corpora" / "harbour_lane")
PRICE = "2026-08-03 10:15 Mei: 12 pencils 0.47 at corner store\n"


def play(folder: Path, chat: str, *options: str) -> Result:
    (folder / "chat.txt").write_text(chat, encoding="utf-8")
    return CliRunner().invoke(app, ["replay", str(folder / "chat.txt"), "--group", HARBOUR_LANE, *options])


def posts(folder: Path, chat: str, *options: str) -> list[dict[str, Any]]:
    played = play(folder, chat, "--json", *options)
    assert played.exit_code == 0, played.stderr
    return [json.loads(line) for line in played.stdout.splitlines()]


def test_post_is_told_as_one_object(tmp_path: Path) -> None:
    (post,) = posts(tmp_path, f"# August\n{PRICE}")

    assert list(post) == ["at", "to", "text", "buttons", "picture", "answers"]
    assert post["at"] == "2026-08-03T10:15"
    assert post["to"] == "group"
    assert "4¢" in post["text"]
    assert post["buttons"] == ["Take back"]
    assert post["picture"] is None
    assert post["answers"] == 2


def test_talk_between_people_brings_nothing(tmp_path: Path) -> None:
    assert posts(tmp_path, "2026-08-03 10:15 Mei: see you all on Thursday\n") == []


def test_clock_move_alone_brings_nothing(tmp_path: Path) -> None:
    assert posts(tmp_path, "2026-08-09 18:00\n") == []


def test_button_named_in_brackets_is_pressed(tmp_path: Path) -> None:
    recorded, taken_back = posts(tmp_path, f"{PRICE}2026-08-03 10:17 Mei: [Take back]\n")

    assert recorded["answers"] == 1
    assert taken_back["at"] == "2026-08-03T10:17"
    assert "Take back" not in taken_back["buttons"]


def test_chat_prints_as_people_see_it(tmp_path: Path) -> None:
    played = play(tmp_path, f"{PRICE}2026-08-04 09:00 Ines: see you\n  on Thursday\n2026-08-05 09:00\n")

    day, message, post, *rest = played.stdout.splitlines()
    assert day == "2026-08-03"
    assert message == "10:15 Mei: 12 pencils 0.47 at corner store"
    assert post.startswith("    Clerk: ")
    assert "    [Take back]" in rest
    assert rest[-3:] == ["2026-08-04", "09:00 Ines: see you", "      on Thursday"]


def test_lines_before_a_bad_one_are_played(tmp_path: Path) -> None:
    played = play(tmp_path, f"{PRICE}3 August Mei: 6 pens 0.50\n2026-08-03 10:30 Mei: 6 pens 0.50\n", "--json")

    assert played.exit_code == 2
    assert [json.loads(line)["answers"] for line in played.stdout.splitlines()] == [1]
    assert played.stderr.startswith("line 2: it must begin with a day and a time")


@pytest.mark.parametrize(
    ("chat", "fault"),
    [
        ("2026-08-03 10:15 Mei: [Take back]\n", "line 1: there is no button [Take back], for the clerk has"),
        (
            f"{PRICE}2026-08-03 10:16 Mei: [Go]\n",
            "line 2: the clerk's last post has no button [Go]; it has [Take",
        ),
    ],
)
def test_press_without_its_button_is_bad(tmp_path: Path, chat: str, fault: str) -> None:
    played = play(tmp_path, chat)

    assert played.exit_code == 2
    assert played.stderr.startswith(fault)
    assert "Mei: [" not in played.stdout


def test_second_play_records_nothing_again(tmp_path: Path) -> None:
    chat = f"{PRICE}2026-08-03 10:17 Mei: [Take back]\n"
    database = f"sqlite:///{tmp_path / 'books.db'}"
    first = posts(tmp_path, chat, "--database", database)

    again = posts(tmp_path, chat, "--database", database)

    assert len(first) == 2
    assert again == []


def test_another_file_adds_to_the_books(tmp_path: Path) -> None:
    database = f"sqlite:///{tmp_path / 'books.db'}"
    posts(tmp_path, PRICE, "--database", database)

    *fallen_due, september = posts(tmp_path, PRICE.replace("-08-", "-09-"), "--database", database)

    assert september["answers"] == 1
    assert [post["at"] for post in fallen_due][:2] == ["2026-08-09T18:00", "2026-08-16T18:00"]


def test_folder_holds_group_and_chat(tmp_path: Path) -> None:
    (tmp_path / "group.toml").write_text('name = "Pell Row packers"\n', encoding="utf-8")
    (tmp_path / "chat.txt").write_text(PRICE, encoding="utf-8")

    played = CliRunner().invoke(app, ["replay", str(tmp_path)])

    assert played.exit_code == 0
    assert "10:15 Mei: 12 pencils" in played.stdout


def test_missing_chat_is_said_in_one_sentence(tmp_path: Path) -> None:
    played = CliRunner().invoke(app, ["replay", str(tmp_path / "august.txt")])

    assert played.exit_code == 2
    assert played.stdout == ""
    assert "august.txt cannot be read (no such file or directory); give a written chat" in played.stderr
    assert played.stderr.count("\n") == 1


def test_bad_group_is_said_in_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "chat.txt").write_text(PRICE, encoding="utf-8")

    played = CliRunner().invoke(app, ["replay", str(tmp_path)])

    assert played.exit_code == 2
    assert "group.toml is not there" in played.stderr
    assert played.stderr.count("\n") == 1


def test_bad_database_is_said_in_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "books.db").write_text("no database, but a shopping list", encoding="utf-8")

    played = play(tmp_path, PRICE, "--database", f"sqlite:///{tmp_path / 'books.db'}")

    assert played.exit_code == 2
    assert "books.db" in played.stderr
    assert played.stderr.count("\n") == 1


OFFER = "2026-08-03 10:15 Ines: i can get 200 bar soaps for 31.00, who wants some? by friday 6pm\n"


def test_button_of_any_post_that_the_last_line_brought_is_pressed(tmp_path: Path) -> None:
    claimed = f"{OFFER}2026-08-03 10:16 Tobias: put me down for 24\n"

    *_, taken_back, _ = posts(tmp_path, f"{claimed}2026-08-03 10:17 Tobias: [Take back]\n")
    *_, live = posts(tmp_path, f"{claimed}2026-08-03 10:17 Mei: [48]\n")

    assert taken_back["text"] == "Taken back: Tobias 24 bar soaps."
    assert "Tobias 24, Mei 48." in live["text"]


def test_clock_move_brings_what_fell_due_at_its_own_time(tmp_path: Path) -> None:
    *_, closed, _, summary = posts(tmp_path, f"{OFFER}2026-08-03 10:16 Tobias: [24]\n2026-08-09 18:00\n")

    assert closed["at"] == "2026-08-07T18:00"
    assert closed["answers"] is None
    assert closed["text"].startswith("Closed: 200 bar soaps $31.00")
    assert summary["at"] == "2026-08-09T18:00"


def test_what_fell_due_comes_before_the_next_line(tmp_path: Path) -> None:
    later = "2026-08-08 09:00 Mei: who owes what?\n"
    *_, told = posts(tmp_path, f"{OFFER}2026-08-03 10:16 Tobias: [24]\n{later}")

    assert told["text"].startswith("Ines is owed $3.72.")
