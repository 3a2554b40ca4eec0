"""Being forgotten: asked once, by whoever asks alone; the name is gone, the books stay balanced."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing

import pytest

from bot.group_file import read_group
from bot.messages import Sender
from bot.storage.ledger import balances
from tests.added_up import added_up
from tests.chat import Chat, in_memory
from tests.conftest import HARBOUR_LANE
from tests.rows import group_rows, saying
from tests.skills.kept import first_lines, labels
from tests.skills.test_private_balances import Town

MEI, INES = Sender("Mei", "@mei"), Sender("Ines", "@ines")


@pytest.fixture
def town() -> Iterator[Town]:
    """A group in which Mei owes Ines 1.20 for pens; a private chat has its member's own key."""
    with closing(in_memory()) as database:
        town = Town(read_group(HARBOUR_LANE), database)
        town.says("harbour", MEI, "hello all")
        town.says("harbour", INES, "split 24 pens 2.40 with Mei")
        yield town


def names(chat: Chat) -> list[str]:
    """Those whom the books have a name for."""
    return [row["name"] for row in group_rows(chat.database, chat.key)["members"]]


def test_the_question_says_what_stays(chat: Chat) -> None:
    chat.says("Ines", "split 24 pens 2.40 with Mei")
    [asked] = chat.says("Ines", "please delete my name and number")

    assert asked.text.splitlines()[:2] == [
        "Mei owes you $1.20; it stays in the books as owed to a former member.",
        "You hold 12 pens; that stays in the books as held by a former member.",
    ]
    assert labels(asked) == ["Yes, forget me", "No"]


def test_a_part_of_an_open_case_is_named(chat: Chat) -> None:
    chat.says("Ines", "case of 144 pens 7.20 at corner store, who wants some?")
    chat.says("Mei", "put me down for 24")
    [asked] = chat.says("Mei", "forget me")

    assert asked.text.splitlines()[0] == (
        "You have asked for 24 pens of an open case; that stays unless you say first: drop me."
    )


def test_somebody_square_is_only_told_what_goes(chat: Chat) -> None:
    [asked] = chat.says("Amara", "forget me")

    assert asked.text.startswith("Your name and number go out of the books")


def test_only_the_asker_may_press(chat: Chat) -> None:
    chat.says("Mei", "forget me")

    assert first_lines(chat.presses("Ines", "Yes, forget me")) == ["That is for Mei to say."]
    assert first_lines(chat.says("Ines", "yes")) == []
    assert names(chat) == ["Ines", "Tobias", "Mei", "Amara"]


def test_no_keeps_everything(chat: Chat) -> None:
    chat.says("Mei", "forget me")

    assert first_lines(chat.presses("Mei", "No")) == ["OK, nothing is forgotten."]
    assert names(chat) == ["Ines", "Tobias", "Mei", "Amara"]


@pytest.mark.parametrize(
    ("answer", "said"), [("no", "OK, nothing is forgotten."), ("yes", "Forgotten. The books say “Former member” now.")]
)
def test_who_asked_still_answers_after_anothers_press(chat: Chat, answer: str, said: str) -> None:
    chat.says("Mei", "forget me")
    chat.presses("Tobias", "Yes, forget me")

    [post] = chat.says("Mei", answer)

    assert post.text.startswith(said)


def test_the_name_is_in_no_row_any_more(chat: Chat) -> None:
    chat.accounts = {"Amara": "user 7"}
    chat.says("Amara", "got 24 pens 2.40 at corner store")
    chat.says("Ines", "split 48 pens 4.80 with Amara")
    chat.says("Ines", "Amara paid me 1.20")
    chat.says("Ines", "note on pens: amara likes the blue ones")
    chat.says("Amara", "remind me friday at 5pm to call Ines")
    chat.says("Amara", "I owe Ines 5 for stamps")  # a question with her name in its answers
    chat.says("Amara", "forget me")
    chat.presses("Amara", "Yes, forget me")

    assert saying(group_rows(chat.database, chat.key), "amara", "user 7") == []
    with chat.books() as books:
        assert balances(books) == added_up(books) == {"Ines": 120, "Former member": -120}
    assert first_lines(chat.says("Ines", "what does former member owe?")) == ["Former member owes $1.20."]


def test_the_same_person_is_new_when_they_write_again(chat: Chat) -> None:
    chat.accounts = {"Mei": "user 1"}
    chat.says("Mei", "I have 40 pens")
    chat.says("Mei", "forget me")
    chat.presses("Mei", "Yes, forget me")

    [post] = chat.says("Mei", "take that back")
    assert post.text.startswith("You have nothing to take back. The last entry is Former member’s")
    chat.says("Mei", "I have 12 pens")
    assert first_lines(chat.says("Ines", "who has the pens?")) == [
        "Pens: 52 in all: Former member 40; Mei 12. Still short: 188."
    ]
    chat.says("Mei", "forget me")
    [forgotten] = chat.presses("Mei", "Yes, forget me")
    assert "“Former member 2”" in forgotten.text


def test_a_question_of_theirs_can_be_answered_no_more(chat: Chat) -> None:
    chat.says("Mei", "forget me")
    chat.says("Mei", "forget me")
    chat.presses("Mei", "Yes, forget me")
    first = chat.posts[0].buttons[0]

    assert first.label == "Yes, forget me"
    chat.posts.append(chat.posts[0])
    assert first_lines(chat.presses("Mei", "Yes, forget me")) == ["That is for Former member to say."]


def test_it_can_be_asked_in_the_private_chat_which_then_shows_the_group_no_more(town: Town) -> None:
    town.says("@mei", MEI, "what do i owe")
    [asked] = town.says("@mei", MEI, "forget me")
    [post] = town.presses("@mei", MEI, asked.buttons[0].action)

    assert post.text.startswith("Forgotten.")
    assert saying(group_rows(town.database, "harbour"), "mei") == []
    assert [one.text for one in town.says("@mei", MEI, "what do i owe")] == ["Mei is square."]
    assert "Former member owes $1.20." in town.says("harbour", INES, "who owes what")[0].text


def test_asked_in_the_group_it_closes_the_private_chat_too(town: Town) -> None:
    town.says("@mei", MEI, "what do i owe")
    [asked] = town.says("harbour", MEI, "forget me")
    town.presses("harbour", MEI, asked.buttons[0].action)

    assert saying(group_rows(town.database, "harbour"), "mei") == []
    assert [one.text for one in town.says("@mei", MEI, "who owes what")] == ["All square: nobody owes anything."]


def test_ones_own_books_are_deleted_instead(town: Town) -> None:
    [post] = town.says("@rosa", Sender("Rosa", "@rosa"), "forget me")

    assert post.text == "These books are yours alone. To delete all that is in them, say: delete all our data"
