"""Open splits: the live post, claims, changes to them, and the last units."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from threading import Thread

import pytest

from bot.assistant import Assistant
from bot.group_file import read_group
from bot.messages import Incoming, Post, Sender
from bot.storage.books import Database
from bot.storage.outbox import waiting
from bot.storage.shares import open_splits
from core.shares import Wanted
from tests.chat import Chat
from tests.conftest import HARBOUR_LANE
from tests.skills.kept import labels
from tests.skills.test_splits import owed

SOAP = "i can get 200 bar soaps for 31.00, who wants some?"


TALK = ("drop me a note", "I'd need 12 but not now", "I might want 12")


def taken(chat: Chat) -> tuple[Wanted, ...]:
    """Who has asked for how many of the only open split."""
    with chat.books() as books:
        [standing] = open_splits(books)
    return standing.taken


def test_the_live_post_shows_price_point_unit_cost_and_what_is_left(chat: Chat) -> None:
    [post] = chat.says("Ines", SOAP)

    # 31.00 / 200 is 15.5 cents
    assert post.text.splitlines()[0] == "Ines can get 200 bar soaps $31.00: 15.5¢ each (price point 40¢)."
    assert labels(post) == ["12", "24", "48", "All 200 left", "Close"]
    assert owed(chat) == {}


def test_a_press_takes_units_for_whoever_pressed(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    [live] = chat.presses("Tobias", "24")
    chat.presses("Mei", "48")

    assert "Tobias 24." in live.text
    assert taken(chat) == (Wanted("Tobias", 24), Wanted("Mei", 48))


def test_the_same_press_twice_takes_once(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.presses("Tobias", "24")
    chat.presses("Tobias", "24")

    assert taken(chat) == (Wanted("Tobias", 24),)


def test_words_take_change_and_let_go(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    [echo, live] = chat.says("Tobias", "put me down for 2 dozen")
    # 24 of 200 at 31.00 is 3.72
    assert echo.text == "Tobias: 24 bar soaps, about $3.72. 176 left."
    assert "176 left." in live.text

    chat.says("Tobias", "make that 36")
    assert taken(chat) == (Wanted("Tobias", 36),)

    chat.says("Tobias", "12 more please")
    assert taken(chat) == (Wanted("Tobias", 48),)

    chat.says("Tobias", "drop me")
    assert taken(chat) == ()


def test_asking_again_is_asked_about(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.says("Tobias", "put me down for 24")
    [asked] = chat.says("Tobias", "put me down for 12")
    assert asked.text == "Tobias has 24 already. Is that 12 in all, or 12 more?"
    assert labels(asked) == ["12 in all", "12 more, 36 in all"]

    chat.presses("Tobias", "12 more, 36 in all")

    assert taken(chat) == (Wanted("Tobias", 36),)


def test_a_claim_for_another_member(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.says("Mei", "Tobias wants 12 soaps")

    assert taken(chat) == (Wanted("Tobias", 12),)


def test_taking_a_claim_back_brings_the_one_before(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.says("Tobias", "put me down for 24")
    chat.says("Tobias", "make that 36")
    posts = chat.presses("Tobias", "Take back")

    assert taken(chat) == (Wanted("Tobias", 24),)
    assert "Tobias 24." in posts[-1].text


def test_more_than_is_left_is_refused_with_what_is(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.says("Tobias", "190 soaps for me")
    [told] = chat.says("Mei", "24 soaps please")
    assert told.text == "Only 10 bar soaps are left."

    chat.presses("Mei", "Take 10")

    # all 200 are taken: 190 cost 29.45, 10 cost 1.55
    assert owed(chat) == {"Ines": 3100, "Tobias": -2945, "Mei": -155}


def test_two_open_cases_are_told_apart(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    [combs] = chat.says("Tobias", "i can get 144 combs for 14.40, who wants some?")
    [asked] = chat.says("Mei", "put me down for 12")
    assert (asked.text, labels(asked)) == ("Which case?", ["bar soap", "comb"])

    chat.replies("Mei", "put me down for 24", combs)

    with chat.books() as books:
        soap, comb = open_splits(books)
    assert soap.taken == ()
    assert comb.taken == (Wanted("Mei", 24),)


def test_words_that_sound_like_a_claim_are_let_pass_where_nothing_is_open(chat: Chat) -> None:
    assert chat.says("Mei", "put me down for 2 dozen") == []
    assert chat.says("Mei", "close it") == []
    assert chat.says("Mei", "didn't buy it") == []


def test_a_price_behind_an_open_split_is_not_yet_one(chat: Chat) -> None:
    chat.says("Ines", SOAP)

    [post] = chat.says("Mei", "where is soap cheapest?")

    assert post.text.startswith("Bar soaps: no prices in the books yet.")


@pytest.fixture
def crowded(tmp_path: Path) -> Iterator[Database]:
    """A database in a file, in which Ines offers 200 soaps."""
    group = read_group(HARBOUR_LANE)
    with closing(Database(f"sqlite:///{tmp_path / 'books.db'}")) as database:
        database.migrate()
        assistant = Assistant(database, group)
        at = Chat(group).moment("2026-08-03T10:15")
        assistant.hear(Incoming("crowd", Sender("Ines"), SOAP, at, "offer"))
        yield database


def test_twenty_at_once_never_oversell(crowded: Database) -> None:
    group = read_group(HARBOUR_LANE)
    at = Chat(group).moment("2026-08-03T10:16")

    def claim(number: int) -> None:
        message = Incoming("crowd", Sender(f"Packer{number}"), "put me down for 24 soaps", at, f"claim {number}")
        Assistant(crowded, group).hear(message)

    threads = [Thread(target=claim, args=(number,)) for number in range(20)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    with crowded.open("crowd") as books:
        [standing] = open_splits(books)
    # 8 times 24 are 192; the 12 others are told that 8 are left
    assert [one.units for one in standing.taken] == [24] * 8
    assert standing.left == 8
    assert len(told(crowded, "Only 8 bar soaps are left.")) == 12


def told(database: Database, text: str) -> list[Post]:
    """The posts of a text that wait in the outbox."""
    return [queued.post for queued in waiting(database, "crowd") if queued.post.text == text]


def test_whoever_offers_may_keep_a_part(chat: Chat) -> None:
    [live] = chat.says("Amara", "I can get 200 bar soaps for 31.00, I'll take 50, who wants the rest?")

    assert "Amara 50.\n150 left." in live.text


def test_only_if_all_are_taken_is_the_whole_case(chat: Chat) -> None:
    [live] = chat.says("Ines", f"{SOAP} only if all are taken")

    assert "Worth it from 200 on: 200 more needed." in live.text


def test_a_closing_time_that_has_passed_is_told(chat: Chat) -> None:
    [post] = chat.says("Ines", f"{SOAP} by 9am")

    assert post.text.startswith("That time has passed.")
    with chat.books() as books:
        assert open_splits(books) == []


def test_some_less_and_all_the_rest(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.says("Tobias", "50")
    chat.says("Tobias", "drop 10 of mine")
    assert taken(chat) == (Wanted("Tobias", 40),)

    chat.says("Mei", "I'll take the rest")

    # 40 cost 6.20, the other 160 cost 24.80
    assert owed(chat) == {"Ines": 3100, "Tobias": -620, "Mei": -2480}


def test_two_claims_in_one_message(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    [echo, _] = chat.says("Tobias", "20 for me and 10 for Mei")

    assert taken(chat) == (Wanted("Tobias", 20), Wanted("Mei", 10))
    assert "170 left." in echo.text


def test_two_cases_of_one_item_are_told_apart_by_whose_they_are(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.says("Tobias", "i can get 200 bar soaps for 29.00, who wants some?")
    [asked] = chat.says("Mei", "put me down for 20")
    assert labels(asked) == ["Ines’s, $31.00", "Tobias’s, $29.00"]

    chat.presses("Mei", "Tobias’s, $29.00")

    with chat.books() as books:
        first, second = open_splits(books)
    assert (first.taken, second.taken) == ((), (Wanted("Mei", 20),))


def test_talk_during_an_open_case_claims_nothing(chat: Chat) -> None:
    chat.says("Ines", SOAP)

    for said in (
        "I don't want 50",
        "should I take 20?",
        "I'd take 30 but I'm broke",
        "put me down for saturday at 10",
        *TALK,
    ):
        assert chat.says("Mei", said) == [], said
    assert taken(chat) == ()


@pytest.mark.parametrize(
    "said",
    [
        "put me down for 24 and Amara for 12",
        "put Amara down for 12 and me for 24",
        "24 for me and the same for Amara",
        "I'll take 24, drop Tobias",
    ],
)
def test_claims_for_two_that_may_be_mixed_up_are_taken_one_at_a_time(chat: Chat, said: str) -> None:
    chat.says("Ines", SOAP)
    [post] = chat.says("Mei", said)

    assert post.text == "One at a time, please, such as: put me down for 24"
    assert taken(chat) == ()


def test_all_that_is_left_in_two_words(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.presses("Tobias", "48")
    assert chat.says("Mei", "the rest of us are at the hall") == []
    chat.says("Mei", "the rest")

    # 31.00 x 48 / 200 = 7.44, x 152 / 200 = 23.56
    assert owed(chat) == {"Ines": 3100, "Tobias": -744, "Mei": -2356}


def test_the_least_may_be_said_in_boxes(chat: Chat) -> None:
    [post] = chat.says("Ines", "I can get 10 boxes of 12 soaps for 40.00, who wants some? min 5 boxes")

    assert "120 left. Worth it from 60 on: 60 more needed." in post.text


@pytest.mark.parametrize("said", ["actually 36", "36 instead", "just 36"])
def test_a_number_alone_may_change_what_was_asked(chat: Chat, said: str) -> None:
    chat.says("Ines", SOAP)
    chat.presses("Tobias", "24")
    chat.says("Tobias", said)

    assert taken(chat) == (Wanted("Tobias", 36),)


def test_the_same_amount_pressed_again_does_nothing(chat: Chat) -> None:
    [post] = chat.says("Ines", SOAP)
    amount = labels(post)[0]
    chat.presses("Mei", amount)

    assert chat.presses("Mei", amount) == []
    assert len(taken(chat)) == 1
