"""A name that others have used for somebody is joined to the account they write from."""

from __future__ import annotations

import pytest

from bot.storage.group import load_group
from bot.storage.ledger import balances
from tests.added_up import added_up
from tests.chat import Chat
from tests.examples import read
from tests.skills.kept import first_lines, labels


@pytest.fixture
def hes(chat: Chat) -> Chat:
    """Ines and Hes write; Amara, who is Hes, is only spoken of: she owes Ines 1.20 and holds 12 pens."""
    chat.accounts = {"Ines": "user 1", "Hes": "user 2", "Tobias": "user 3"}
    chat.says("Tobias", "hello")
    chat.says("Ines", "split 24 pens 2.40 with Amara")
    chat.says("Hes", "I have 6 pens")
    return chat


def test_it_is_asked_first(hes: Chat) -> None:
    [asked] = hes.says("Hes", "I'm Amara")

    assert asked.text == (
        "Are Hes and Amara one person? Then all that is booked under either is theirs, and I say Amara from now on. "
        "Amara owes $1.20; that goes along. This cannot be taken apart again."
    )
    assert labels(asked) == ["Yes, I am Amara", "Yes, but say Hes", "No"]
    assert first_lines(hes.presses("Ines", "Yes, I am Amara")) == ["That is for Hes to say."]


def test_both_names_are_one_member(hes: Chat) -> None:
    hes.says("Hes", "I am Amara in your books")
    assert first_lines(hes.presses("Hes", "Yes, I am Amara")) == ["Hes is Amara in the books from now on."]

    assert first_lines(hes.says("Ines", "who has the pens?")) == [
        "Pens: 30 in all: Amara 18; Ines 12. Still short: 210."
    ]
    assert first_lines(hes.says("Hes", "what do I owe?")) == ["Amara owes $1.20."]
    with hes.books() as books:
        assert balances(books) == added_up(books) == {"Ines": 120, "Amara": -120}
        assert "Hes" not in load_group(books).members
    assert first_lines(hes.says("Hes", "take that back"))[0].startswith("Taken back: ")


def test_the_name_of_the_account_may_be_kept(hes: Chat) -> None:
    hes.says("Hes", "that Amara is me")
    assert first_lines(hes.presses("Hes", "Yes, but say Hes")) == ["Amara is Hes in the books from now on."]

    assert first_lines(hes.says("Hes", "what do I owe?")) == ["Hes owes $1.20."]


def test_others_may_tell_who_is_who(hes: Chat) -> None:
    [asked] = hes.says("Ines", "Hes is Amara")
    assert labels(asked) == ["Yes, Hes is Amara", "No"]
    hes.presses("Ines", "Yes, Hes is Amara")

    assert first_lines(hes.says("Hes", "what do I owe?")) == ["Amara owes $1.20."]


def test_the_order_of_the_names_does_not_matter(hes: Chat) -> None:
    [asked] = hes.says("Ines", "Amara is Hes")

    assert labels(asked) == ["Yes, Hes is Amara", "No"]


def test_no_joins_nothing(hes: Chat) -> None:
    hes.says("Hes", "Amara is my other name")

    assert first_lines(hes.presses("Hes", "No")) == ["OK, not kept."]
    assert first_lines(hes.says("Hes", "what do I owe?")) == ["Hes is square."]


def test_somebody_with_an_account_is_somebody_else(hes: Chat) -> None:
    assert first_lines(hes.says("Hes", "I'm Ines")) == ["Ines has an account of their own."]
    assert first_lines(hes.says("Ines", "Hes is Tobias")) == ["Tobias has an account of their own."]


def test_a_name_nobody_has_is_said_to_be_unknown(hes: Chat) -> None:
    assert first_lines(hes.says("Hes", "I am Rosa in your books")) == ["Nobody is called Rosa in the books."]


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("Ines", "I'm Ines"),
        ("Ines", "I'm hungry"),
        ("Hes", "I'm Amara's cousin"),
        ("Hes", "Amara is my sister"),
        ("Ines", "Amara is Mei"),
        ("Nadia", "I'm Amara"),
    ],
)
def test_small_talk_stays_unanswered(hes: Chat, name: str, words: str) -> None:
    """Neither Amara nor Mei has an account, nor has Nadia here: there is nothing to join them to."""
    assert hes.says(name, words) == []


def test_somebody_forgotten_is_nobody_s_other_name(hes: Chat) -> None:
    hes.says("Hes", "forget me")
    hes.presses("Hes", "Yes, forget me")

    assert hes.says("Ines", "I am Former member in your books") == []


def test_two_parts_of_one_open_case_are_not_mixed(hes: Chat) -> None:
    hes.says("Ines", "case of 144 pens 7.20 at corner store, who wants some?")
    hes.says("Hes", "put me down for 24")
    hes.says("Ines", "put Amara down for 12 pens")

    assert first_lines(hes.says("Hes", "I'm Amara")) == [
        "Hes and Amara both have a part in the open case of pen. Close that case first."
    ]


def test_what_the_buttons_say_reads_back() -> None:
    assert read("I am Amara in your books, call me Mei") == [{"kind": "join_name", "name": "Amara", "keeps": True}]
    assert read("Tobias is Amara in your books") == [{"kind": "join_name", "name": "Amara", "other": "Tobias"}]
