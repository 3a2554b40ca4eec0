"""A group that shows unit prices to the tenth: the words change, the judgement does not."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace

import pytest

from bot.group_file import read_group
from core.money import Rounding
from tests.chat import Chat
from tests.conftest import HARBOUR_LANE
from tests.skills.kept import first_lines


@pytest.fixture
def tenths() -> Iterator[Chat]:
    """Harbour Lane, had it chosen to show tenths of a cent."""
    group = read_group(HARBOUR_LANE)
    chosen = replace(group.settings, rounding=Rounding.TENTH)
    with closing(Chat(replace(group, settings=chosen))) as started:
        yield started


@pytest.mark.parametrize(
    ("message", "shown"),
    [
        ("is 0.47 for 12 pencils good?", "3.9¢"),  # 3.9166...
        ("is 0.60 for 12 pencils good?", "5¢"),
        ("is 0.79 for 20 pencils good?", "4¢"),  # 3.95: the half goes up
        ("is 2.01 for 2 notebooks good?", "$1.01"),  # 100.5: whole cents from a dollar on
    ],
)
def test_unit_price_is_shown_to_the_tenth(tenths: Chat, message: str, shown: str) -> None:
    [post] = tenths.says("Mei", message)

    assert f" at {shown} each" in post.text


def test_other_groups_show_whole_cents(chat: Chat) -> None:
    [post] = chat.says("Mei", "is 0.47 for 12 pencils good?")

    assert " at 4¢ each" in post.text


def test_history_is_shown_to_the_tenth(tenths: Chat) -> None:
    tenths.says("Ines", "12 pencils 0.47 at corner store")

    [post] = tenths.says("Mei", "is 0.65 for 10 pencils good?")

    assert "Lowest before 3.9¢ (corner store, today); usual 3.9¢" in post.text


def test_list_of_shops_shows_tenths(tenths: Chat) -> None:
    tenths.says("Ines", "12 pencils 0.47 at corner store")
    tenths.says("Ines", "12 pencils 0.46 at larkmoor")

    [post] = tenths.says("Mei", "where are pencils cheapest?")

    # 46/12 is 3.83, 47/12 is 3.92
    assert [line.partition(":")[0] for line in post.text.splitlines()[1:]] == [
        "3.8¢ Larkmoor Market",
        "3.9¢ corner store",
    ]


def test_rounding_changes_no_verdict(tenths: Chat, chat: Chat) -> None:
    # 61/12 is 5.08 cents, over the price point of 5: fair, though shown as 5.1 or 6
    posts = [one.says("Mei", "is 0.61 for 12 pencils good?")[0] for one in (tenths, chat)]

    assert [line.partition(" (")[0] for line in first_lines(posts)] == [
        "Fair price: pencils at 5.1¢ each",
        "Fair price: pencils at 6¢ each",
    ]


def test_amounts_paid_are_never_rounded(tenths: Chat) -> None:
    [post] = tenths.says("Mei", "12 pencils 0.47")

    assert "Kept: 12 pencils $0.47." in post.text


@pytest.mark.parametrize(
    ("before", "said", "shown"),
    [
        # 60/12 is 5 and 50/12 is 4.17: both would be 5 cents
        (["12 flutes .50"], "12 flutes .60", ["5¢ each (usual 4.2¢)", "Lowest before 4.2¢"]),
        # 59/12 is 4.92, not the 5 of the price point
        ([], "12 pencils 0.59", ["4.9¢ each (price point 5¢"]),
        # 471/120 is 3.925 and 470/120 is 3.917: the same tenth
        (["120 pencils 4.71"], "120 pencils 4.70", ["3.92¢ each", "Lowest before 3.93¢"]),
        # 68/12 is 5.67, 6 beside 4 and 5: nothing to tell apart
        (["12 pencils 0.48"], "12 pencils 0.68", ["6¢ each", "Lowest before 4¢"]),
    ],
)
def test_prices_told_together_are_told_apart(chat: Chat, before: list[str], said: str, shown: list[str]) -> None:
    for one in before:
        chat.says("Mei", one)
        if chat.posts[-1].buttons[0].label == "New item":
            chat.presses("Mei", "New item")

    [post] = chat.says("Mei", said)

    assert [words for words in shown if words not in post.text] == []
