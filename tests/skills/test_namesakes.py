"""A first name that two members have is asked about; who has it too means the other one by it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace

import pytest

from bot.group_file import read_group
from tests.chat import Chat
from tests.conftest import HARBOUR_LANE
from tests.skills.kept import labels


@pytest.fixture
def two_meis() -> Iterator[Chat]:
    """Harbour Lane with a second Mei."""
    group = read_group(HARBOUR_LANE)
    with closing(Chat(replace(group, members=(*group.members, "Mei Okafor")))) as started:
        yield started


def _owes(chat: Chat, name: str) -> str:
    [post] = chat.says("Tobias", f"what does {name} owe?")
    return post.text.splitlines()[0]


@pytest.mark.parametrize(
    "said",
    [
        "split 12 notebooks 6.00 with Mei",
        "split 12 notebooks 6.00 with mei pls",
        "paid Mei .20",
        "Mei paid me 4.20",
        "gave mei 5 bucks",
        "book that Mei owes me 3.00 for stamps",
        "what does mei owe?",
        "what's at Mei's?",
        "moved 24 pencils to mei",
        "gave Mei 20 crayons",
    ],
)
def test_a_shared_first_name_is_asked_about(two_meis: Chat, said: str) -> None:
    [asked] = two_meis.says("Ines", said)

    assert asked.text == "Which one: Mei or Mei Okafor?"
    assert labels(asked) == ["Mei", "Mei Okafor"]


@pytest.mark.parametrize("name", ["Mei", "Mei Okafor"])
def test_the_pressed_one_is_meant(two_meis: Chat, name: str) -> None:
    two_meis.says("Ines", "split 12 notebooks 6.00 with Mei")

    [split] = two_meis.presses("Ines", name)

    assert f"{name}: 6 for $3.00" in split.text.splitlines()
    other = {"Mei": "Mei Okafor", "Mei Okafor": "Mei the first"}[name]
    assert "square" in _owes(two_meis, other)


def test_the_typed_name_answers(two_meis: Chat) -> None:
    two_meis.says("Ines", "paid Mei .20")

    [paid] = two_meis.says("Ines", "mei okafor")

    assert "Mei Okafor" in paid.text


def test_who_has_the_name_means_the_other(two_meis: Chat) -> None:
    [first] = two_meis.says("Mei", "split 12 notebooks 6.00 with Mei")
    [second] = two_meis.says("Mei Okafor", "paid Mei 1.00")

    assert "Mei Okafor: 6 for $3.00" in first.text.splitlines()
    assert "Mei Okafor paid Mei $1.00" in second.text


def test_a_claim_for_one_of_them_is_asked_about(two_meis: Chat) -> None:
    two_meis.says("Tobias", "I can get 200 bar soaps for 31.00, who wants some?")

    [asked] = two_meis.says("Ines", "put Mei down for 24")
    [kept, *_] = two_meis.presses("Ines", "Mei Okafor")

    assert asked.text == "Which one: Mei or Mei Okafor?"
    assert "Mei Okafor" in kept.text


def test_one_named_in_full_is_not_asked_about(two_meis: Chat) -> None:
    [paid] = two_meis.says("Ines", "paid Mei Okafor 4.20")

    assert "Mei Okafor" in paid.text
    assert "Which" not in paid.text


def test_talk_that_names_one_stays_talk(two_meis: Chat) -> None:
    assert two_meis.says("Ines", "mei looked well on sunday") == []


def test_three_are_told_apart_as_well(two_meis: Chat) -> None:
    group = replace(two_meis.group, members=("Ines", "Mei", "Mei Okafor", "Mei Lind"))
    with closing(Chat(group)) as three:
        [asked] = three.says("Mei Okafor", "paid Mei 4.20")

    assert labels(asked) == ["Mei", "Mei Lind"]
