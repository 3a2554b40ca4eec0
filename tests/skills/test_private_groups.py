"""In the private chat of somebody in two groups nothing goes silently into the books of one of them."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace

import pytest

from bot.group_file import read_group
from bot.messages import Incoming, Post
from bot.storage.books import Database
from tests.conftest import HARBOUR_LANE
from tests.skills.test_private_balances import INES, MEI, Town

PRICE = "12 pencils 0.47 at corner store"
NORTH, SOUTH = "North Packers", "South Packers"


class _Two(Town):
    """Two groups; Mei has heard of the first in private before she comes into the second, where she owes Ines 3.00."""

    def joins_both(self) -> None:
        self.group = replace(self.group, name=NORTH)
        self.database.found("north", self.group)
        self.database.found("south", replace(self.group, name=SOUTH))
        self.says("north", MEI, "hello all")
        self.says("@mei", MEI, "what do i owe")
        self.says("south", MEI, "hello all")
        self.says("south", INES, "split 24 pens 6.00 with Mei")

    def writes(self, text: str) -> str:
        return "\n".join(post.text for post in self.says("@mei", MEI, text))

    def picks(self, asked: Post, group: str) -> list[Post]:
        return self.presses("@mei", MEI, next(one.action for one in asked.buttons if one.label == group))

    def knows(self, group: str) -> bool:
        """Whether anybody has told the group of pencils."""
        [post] = self.says(group, INES, "where are pencils cheapest?")
        return "corner store" in post.text


@pytest.fixture
def town() -> Iterator[_Two]:
    with closing(Database("sqlite://")) as database:
        database.migrate()
        town = _Two(read_group(HARBOUR_LANE), database)
        town.joins_both()
        yield town


def test_a_second_group_is_asked_about(town: _Two) -> None:
    [asked] = town.says("@mei", MEI, PRICE)
    [kept] = town.picks(asked, SOUTH)

    assert asked.text == "In which group? You are in North Packers now."
    assert kept.text.startswith("South Packers: what you write here goes into the group’s books")
    assert "Kept: 12 pencils" in kept.text
    assert (town.knows("north"), town.knows("south")) == (False, True)


def test_each_reply_names_the_group_from_then_on(town: _Two) -> None:
    [asked] = town.says("@mei", MEI, "what do i owe")
    town.picks(asked, SOUTH)

    assert town.writes(PRICE).startswith("South Packers:\nGood price")
    assert town.writes("what do i owe") == "South Packers:\nMei owes $3.00.\nTo be square: Mei pays Ines $3.00."


@pytest.mark.parametrize(
    "answer", ["South Packers", "south packers!", "south", "Sout Packers", "the south packers", "in south"]
)
def test_the_typed_name_answers(town: _Two, answer: str) -> None:
    town.writes("what do i owe")

    assert "Mei owes $3.00." in town.writes(answer)


def test_all_that_waits_is_heard_in_its_order(town: _Two) -> None:
    town.writes(PRICE)
    town.writes("got 24 pens 3.00 at corner store")
    [asked] = town.says("@mei", MEI, "what do i owe")
    kept, bought, owes = town.picks(asked, SOUTH)

    assert asked.text == "In which group? You are in North Packers now. 3 messages wait for it."
    assert "Kept: 12 pencils" in kept.text
    assert bought.text.startswith("South Packers:\nBought")
    assert "Mei owes $3.00." in owes.text
    assert not town.knows("north")


def test_a_message_changed_while_it_waits_is_heard_once(town: _Two) -> None:
    ref = "said once"
    first = Incoming("@mei", MEI, PRICE, town.clock, ref, private=True)
    town.hears(first)
    town.hears(replace(first, text="24 pencils 0.94 at corner store", ref="changed", corrects=ref))

    [kept] = town.says("@mei", MEI, "South Packers")

    assert "Kept: 24 pencils" in kept.text


@pytest.mark.parametrize(
    "turning",
    [SOUTH, "switch to South Packers", "go to the south packers", "use South Packers pls", "no, South Packers"],
)
def test_a_groups_name_turns_to_it(town: _Two, turning: str) -> None:
    town.writes(NORTH)

    assert town.writes(turning).startswith("South Packers: what you write here")
    assert "Mei owes $3.00." in town.writes("what do i owe")


@pytest.mark.parametrize(
    "asking",
    [
        "change group",
        "other group",
        "which group?",
        "which group is this",
        "what group am I in?",
        "wrong group",
        "/group",
        "switch groups",
        "groups",
    ],
)
def test_another_group_can_be_asked_for(town: _Two, asking: str) -> None:
    town.writes(NORTH)

    [asked] = town.says("@mei", MEI, asking)

    assert asked.text == "In which group? You are in North Packers now."
    assert town.picks(asked, SOUTH)[0].text.startswith("South Packers: what you write here")


@pytest.mark.parametrize(
    "asked",
    [
        "what do i owe in South Packers",
        "what do I owe in the south packers?",
        "South Packers: what do i owe",
        "what do i owe in the other group?",
    ],
)
def test_a_message_may_say_its_group(town: _Two, asked: str) -> None:
    town.writes(NORTH)

    assert "Mei owes $3.00." in town.writes(asked)


def test_a_group_named_in_passing_is_asked_about(town: _Two) -> None:
    town.writes(NORTH)

    assert town.writes("what do i owe south packers by now").startswith("In which group?")


def test_the_group_shown_may_be_named(town: _Two) -> None:
    town.writes(NORTH)

    assert town.writes("what do i owe in north packers") == "North Packers:\nMei is square."


def test_an_old_entry_is_taken_back_where_it_is(town: _Two) -> None:
    town.writes(NORTH)
    [kept] = town.says("@mei", MEI, PRICE)
    town.writes(SOUTH)
    press = Incoming("@mei", MEI, "", town.clock, "press", kept_ref(town, kept), kept.buttons[0].action, private=True)

    [undone] = town.hears(press)

    assert undone.text.splitlines()[0].startswith("North Packers: ")
    assert "Taken back: 12 pencils" in undone.text


def test_a_message_changed_later_is_put_right_where_it_is(town: _Two) -> None:
    town.writes(NORTH)
    first = Incoming("@mei", MEI, PRICE, town.clock, "said", private=True)
    town.hears(first)
    town.writes(SOUTH)

    [changed] = town.hears(replace(first, text="24 pencils 0.94 at corner store", ref="changed", corrects="said"))

    assert "North Packers" in changed.text
    assert "Corrected; it was: 12 pencils" in changed.text
    assert not town.knows("south")


def test_an_open_question_is_answered_after_the_group_is_picked_again() -> None:
    with closing(Database("sqlite://")) as database:
        database.migrate()
        other = _Two(read_group(HARBOUR_LANE), database)
        database.found("north", replace(other.group, name=NORTH))
        database.found("south", replace(other.group, name=SOUTH))
        other.says("north", MEI, "hello all")
        other.says("@mei", MEI, "got 3 packs of pencils 3.00 at corner store")
        other.says("south", MEI, "hello all")
        [asked] = other.says("@mei", MEI, "24")

        [kept] = other.picks(asked, NORTH)

    assert "72 pencils" in kept.text


def test_who_has_left_one_is_asked_about_the_other(town: _Two) -> None:
    town.writes(SOUTH)
    town.leaves("south", MEI)

    [asked] = town.says("@mei", MEI, PRICE)

    assert [one.label for one in asked.buttons] == [NORTH]


def kept_ref(town: _Two, post: Post) -> str:
    """Under what a post was shown."""
    return town.shown[id(post)]
