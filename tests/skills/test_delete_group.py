"""All data of a group is deleted: by an administrator, asked twice; whoever writes again begins anew."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace

import pytest

from bot.assistant import Assistant
from bot.group_file import read_group
from bot.messages import AdministratorsWantedError, Incoming, Sender
from bot.storage.chats import private_chat
from tests.chat import Chat, in_memory
from tests.conftest import HARBOUR_LANE
from tests.rows import all_rows, group_rows, saying
from tests.skills.kept import first_lines, labels
from tests.skills.test_private_balances import Town

MEI, INES = Sender("Mei", "@mei"), Sender("Ines", "@ines")


@pytest.fixture
def town() -> Iterator[Town]:
    """Two groups, in both of which Mei and Ines have bought pens."""
    with closing(in_memory()) as database:
        town = Town(read_group(HARBOUR_LANE), database)
        for chat in ("quarry", "harbour"):
            town.says(chat, MEI, "hello all")
            town.says(chat, INES, "split 24 pens 2.40 with Mei")
        yield town


def delete(town: Town, chat: str, sender: Sender) -> None:
    """Ask for it, and press yes twice."""
    [asked] = town.says(chat, sender, "delete all our data")
    [again] = town.presses(chat, sender, asked.buttons[0].action)
    assert town.presses(chat, sender, again.buttons[0].action) == []


def test_it_is_asked_twice(chat: Chat) -> None:
    chat.says("Mei", "got 24 pens 2.40 at corner store")
    [asked] = chat.says("Ines", "delete this group's data")
    [again] = chat.presses("Ines", "Yes, delete")

    assert asked.text.startswith(
        "That deletes all that I know of Harbour Lane packers: 1 entry since Aug 3 2026, 4 members, and with them"
    )
    assert again.text.startswith("Really everything? It cannot be undone.")
    assert labels(again) == ["Delete it all", "No"]
    assert len(group_rows(chat.database, chat.key)["entries"]) == 1


def test_the_second_question_cannot_be_passed_over(chat: Chat) -> None:
    [asked] = chat.says("Mei", "delete really all our data")

    assert labels(asked) == ["Yes, delete", "No"]
    assert "Really everything?" in chat.presses("Mei", "Yes, delete")[0].text


def test_only_the_asker_may_press(chat: Chat) -> None:
    chat.says("Mei", "delete all our data")
    assert first_lines(chat.presses("Ines", "Yes, delete")) == ["That is for Mei to say."]
    chat.presses("Mei", "Yes, delete")

    assert first_lines(chat.presses("Ines", "Delete it all")) == ["That is for Mei to say."]
    assert chat.database.knows(chat.key)


def test_no_keeps_everything(chat: Chat) -> None:
    chat.says("Mei", "delete all our data")
    chat.presses("Mei", "Yes, delete")

    assert first_lines(chat.presses("Mei", "No")) == ["OK, nothing is deleted."]
    assert chat.database.knows(chat.key)


def test_who_asked_still_answers_after_anothers_press(chat: Chat) -> None:
    chat.says("Mei", "delete all our data")
    chat.presses("Tobias", "Yes, delete")

    assert first_lines(chat.says("Mei", "no")) == ["OK, nothing is deleted."]


def test_only_administrators_may_ask() -> None:
    group = replace(read_group(HARBOUR_LANE), administrators=("Ines", "Amara"))
    with closing(Chat(group)) as chat:
        assert first_lines(chat.says("Mei", "delete all our data")) == ["Only Ines or Amara can ask for that."]
        assert labels(chat.says("Ines", "delete all our data")[0]) == ["Yes, delete", "No"]


def test_the_chat_is_asked_who_administers_it_at_each_press(town: Town) -> None:
    asking = Incoming("harbour", MEI, "delete all our data", town.clock, "9001", has_administrators=True)
    with pytest.raises(AdministratorsWantedError):
        town.hears(asking)
    [asked] = town.hears(replace(asking, administrators=(MEI,)))
    press = replace(asking, text="", ref="9002", pressed=asked.buttons[0].action)

    [refused] = town.hears(replace(press, administrators=(INES,)))
    assert refused.text == "Only Ines can ask for that."


def test_nothing_is_left_and_the_other_group_is_as_it_was(town: Town) -> None:
    town.says("@mei", MEI, "what do i owe")
    others = group_rows(town.database, "quarry")
    number = group_rows(town.database, "harbour")["groups"][0]["id"]
    delete(town, "harbour", MEI)

    rows = all_rows(town.database)
    assert [name for name, found in rows.items() if any(row.get("group_id") == number for row in found)] == []
    assert {column for _, column in saying(rows, "harbour")} == {"name"}  # all begin as groups of that name
    assert group_rows(town.database, "quarry") == others


def test_the_same_chat_begins_with_empty_books(town: Town) -> None:
    town.says("harbour", MEI, "got 24 glue sticks 2.40 at Pell's")
    town.says("harbour", Sender("Rosa", "@rosa"), "I have 12 pens")
    delete(town, "harbour", MEI)

    assert [post.text for post in town.says("harbour", INES, "who owes what")] == ["All square: nobody owes anything."]
    assert "4 members" in town.says("harbour", INES, "delete all our data")[0].text
    assert town.says("harbour", INES, "what do I owe Rosa?")[0].text == "Ines is square."


def test_another_worker_finds_the_books_gone_and_founds_them_anew(town: Town) -> None:
    other = Assistant(town.database, town.group)
    other.hear(Incoming("harbour", INES, "hello", town.clock, "9001"))
    delete(town, "harbour", MEI)

    other.hear(Incoming("harbour", INES, "hello", town.clock, "9002"))
    assert [post.text for post in town.says("harbour", INES, "who owes what")] == ["All square: nobody owes anything."]


def test_a_press_on_an_old_button_changes_nothing(town: Town) -> None:
    [asked] = town.says("harbour", MEI, "delete all our data")
    [again] = town.presses("harbour", MEI, asked.buttons[0].action)
    town.presses("harbour", MEI, again.buttons[0].action)

    assert town.presses("harbour", MEI, again.buttons[0].action) == []
    assert town.presses("harbour", MEI, asked.buttons[0].action) == []


def test_a_group_is_deleted_where_everybody_sees_it(town: Town) -> None:
    [asked] = town.says("@ines", INES, "what do i owe")
    town.presses("@ines", INES, asked.buttons[0].action)
    [post] = town.says("@ines", INES, "delete all our data")

    assert post.text.endswith("\nSay that in the group’s own chat, so that everybody sees it.")


def test_a_private_chat_goes_back_to_its_own_books(town: Town) -> None:
    [asked] = town.says("@ines", INES, "what do i owe")
    town.presses("@ines", INES, asked.buttons[1].action)
    with town.database.open("harbour") as books:
        assert private_chat(books, "Ines") == "@ines"
    delete(town, "harbour", MEI)

    [post] = town.says("@ines", INES, "what do i owe")
    assert post.text.splitlines()[0].startswith(
        "Harbour Lane packers: what you write here"
    )  # the other group, new here


def test_ones_own_books_can_be_deleted(town: Town) -> None:
    rosa = Sender("Rosa", "@rosa")
    town.says("@rosa", rosa, "I have 12 pens")
    delete(town, "@rosa", rosa)

    assert not town.database.knows("@rosa")
    assert saying(all_rows(town.database), "rosa") == []
