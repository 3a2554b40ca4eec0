"""A slip that is as near to one item as to another: asked about, and kept as answered."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace

import pytest

from bot.group_file import read_group
from core.items import Item
from tests.chat import Chat
from tests.conftest import HARBOUR_LANE
from tests.skills.kept import labels, sightings


@pytest.fixture
def alike() -> Iterator[Chat]:
    """Harbour Lane, which packs combs, had it coins to pack as well."""
    group = read_group(HARBOUR_LANE)
    with closing(Chat(replace(group, items=(*group.items, Item("coin"))))) as started:
        yield started


def test_doubted_name_is_asked_about(alike: Chat) -> None:
    [post] = alike.says("Mei", "12 coibs 1.20 at corner store")

    assert post.text == "Did you mean coin or comb?"
    assert labels(post) == ["coin", "comb"]
    assert sightings(alike, "comb") == sightings(alike, "coin") == []


def test_answer_is_kept_with_its_shop(alike: Chat) -> None:
    alike.says("Mei", "12 coibs 1.20 at corner store")

    [post] = alike.presses("Mei", "comb")

    assert "Kept: 12 combs $1.20, corner store." in post.text


def test_doubted_name_before_another_noun_is_asked_about(alike: Chat) -> None:
    alike.says("Mei", "12 coib cases 1.20")

    [post] = alike.presses("Mei", "comb")

    assert post.text.startswith("“comb case” is new to me.")


def test_doubted_name_said_once_for_two_shops_is_asked_about(alike: Chat) -> None:
    alike.says("Mei", "12 coibs 1.20 at larkmoor but 24 for 1.80 at corner store")

    kept, still_open = alike.presses("Mei", "comb")

    # the newest question is about the last shop; that of the first is put again
    assert "Kept: 24 combs $1.80, corner store." in kept.text
    assert still_open.text == "Did you mean coin or comb?"


def test_item_beside_the_doubted_one_is_not_doubted(alike: Chat) -> None:
    [post] = alike.says("Mei", "12 coibs and pencils 0.47 each")

    assert post.text == "Did you mean coin or comb?"
