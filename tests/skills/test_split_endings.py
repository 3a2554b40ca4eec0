"""How an open split ends: closed by hand, by time and when full, called off, and taken back."""

from __future__ import annotations

import pytest

from core.shares import Wanted
from tests.chat import Chat
from tests.skills.kept import labels
from tests.skills.test_open_splits import SOAP, taken
from tests.skills.test_splits import owed, stock


def test_a_full_case_closes_by_itself(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.says("Tobias", "120 soaps for me")
    posts = chat.presses("Ines", "All 80 left")

    # 120 cost 18.60, Ines's own 80 cost 12.40
    assert "Closed: 200 bar soaps $31.00, Ines buys." in posts[0].text
    assert posts[-1].text == "200 bar soaps $31.00: closed."
    assert owed(chat) == {"Ines": 1860, "Tobias": -1860}
    assert stock(chat, "bar soap") == {"Ines": 80, "Tobias": 120}


def test_closing_gives_the_rest_to_whoever_pays(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.presses("Tobias", "24")
    [closed, live] = chat.presses("Ines", "Close")

    # 24 cost 3.72, the other 176 27.28
    assert "Tobias: 24 for $3.72\nInes: 176 for $27.28\n176 left over go to Ines." in closed.text
    assert labels(live) == []
    assert owed(chat) == {"Ines": 372, "Tobias": -372}


def test_only_whoever_opened_it_or_pays_closes(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.presses("Tobias", "24")
    [post] = chat.presses("Tobias", "Close")

    assert post.text == "Only Ines can close that case."
    assert owed(chat) == {}


def test_too_little_wanted_is_asked_about_before_closing(chat: Chat) -> None:
    chat.says("Ines", f"{SOAP} only if 120 are wanted")
    chat.presses("Tobias", "24")
    [asked] = chat.says("Ines", "close it")
    assert asked.text == "Only 24 of the 120 bar soaps it takes are asked for. Buy anyway?"
    assert owed(chat) == {}

    chat.presses("Ines", "Buy anyway")

    assert owed(chat) == {"Ines": 372, "Tobias": -372}


def test_calling_off_after_too_little_was_wanted(chat: Chat) -> None:
    chat.says("Ines", f"{SOAP} only if 120 are wanted")
    chat.presses("Tobias", "24")
    chat.says("Ines", "close it")
    posts = chat.presses("Ines", "Call it off")

    assert posts[0].text == "Called off: 200 bar soaps $31.00. Nobody owes anything for it."
    assert owed(chat) == {}


def test_it_closes_by_the_clock_once(chat: Chat) -> None:
    # said on a Monday: Friday is the 7th
    [live] = chat.says("Ines", f"{SOAP} say by friday 6pm")
    assert "Closes Fri Aug 7 18:00." in live.text
    chat.presses("Tobias", "24")

    assert chat.waits("2026-08-07T17:59") == []
    [closed, _] = chat.waits("2026-08-07T18:00")
    assert chat.waits("2026-08-07T18:01") == []

    assert closed.text.startswith("Closed: 200 bar soaps $31.00, Ines buys.")
    assert owed(chat) == {"Ines": 372, "Tobias": -372}


def test_by_the_clock_too_little_wanted_is_asked_once(chat: Chat) -> None:
    chat.says("Ines", f"{SOAP} only if 120 are wanted, by friday 6pm")
    chat.presses("Tobias", "24")
    [asked] = chat.waits("2026-08-07T18:00")
    assert labels(asked) == ["Buy anyway", "Call it off"]
    assert chat.waits("2026-08-07T18:05") == []

    chat.presses("Ines", "Buy anyway")

    assert owed(chat) == {"Ines": 372, "Tobias": -372}


def test_nobody_wanting_any_closes_without_a_trace(chat: Chat) -> None:
    chat.says("Ines", f"{SOAP} by friday 6pm")
    [post, _] = chat.waits("2026-08-08T09:00")

    assert post.text.startswith("Nobody asked for any of the 200 bar soaps $31.00.")
    assert owed(chat) == {}


def test_not_bought_after_all_leaves_no_trace(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.presses("Tobias", "24")
    chat.presses("Ines", "Close")
    chat.says("Ines", "didn't buy it")

    assert owed(chat) == {}
    assert stock(chat, "bar soap") == {}
    [post] = chat.says("Mei", "who owes what?")
    assert post.text == "All square: nobody owes anything."


def test_a_closed_case_takes_no_more_claims(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.presses("Tobias", "24")
    chat.presses("Ines", "Close")
    [post] = chat.says("Mei", "12 soaps for me")

    assert post.text == "That case is closed already. To change it, take back the closing first."
    assert labels(post) == ["Take back"]


def test_taking_the_closing_back_opens_it_again(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.presses("Tobias", "24")
    chat.presses("Ines", "Close")
    chat.presses("Ines", "Take back")

    assert owed(chat) == {}
    assert taken(chat) == (Wanted("Tobias", 24),)


def test_it_closes_at_what_it_came_to(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.presses("Tobias", "24")
    [closed, _] = chat.says("Ines", "close it at 33.00")

    # 33.00 / 200 is 16.5 cents: 24 cost 3.96
    assert closed.text.startswith("Closed: 200 bar soaps $33.00")
    assert owed(chat) == {"Ines": 396, "Tobias": -396}


def test_only_the_buyer_says_buy_anyway(chat: Chat) -> None:
    chat.says("Ines", f"{SOAP} only if 120 are wanted")
    chat.presses("Tobias", "24")
    chat.says("Ines", "close it")
    [refused] = chat.presses("Tobias", "Buy anyway")
    assert refused.text == "That is for Ines to say."
    assert owed(chat) == {}

    chat.presses("Ines", "Buy anyway")

    assert owed(chat) == {"Ines": 372, "Tobias": -372}


@pytest.mark.parametrize(
    ("said", "answer"),
    [
        ("close it at 45c each", "What did it come to in all?"),
        ("close it at 5 dollars less", "What did it come to in all?"),
        ("close it for 45", "What did it come to in all?"),
        ("close it, got them 10% off", "What did it come to in all?"),
        ("close it at 5pm", "That would close it at once."),
        ("close it on friday", "That would close it at once."),
        ("close it, Tobias paid", "Whoever offers a case pays for it."),
    ],
)
def test_a_closing_that_leaves_something_open_is_asked_about(chat: Chat, said: str, answer: str) -> None:
    chat.says("Ines", SOAP)
    chat.presses("Tobias", "24")
    [post] = chat.says("Ines", said)

    assert post.text.startswith(answer)
    assert owed(chat) == {}


def test_taking_back_a_calling_off_tells_that_the_case_is_open_again(chat: Chat) -> None:
    chat.says("Ines", SOAP)
    chat.presses("Tobias", "24")
    chat.presses("Ines", "Close")
    chat.says("Ines", "didn't buy it")
    [said, live] = chat.says("Ines", "take that back")

    assert said.text.endswith("The bar soap case is open again. To share it out, say: close it")
    assert "Tobias 24." in live.text
    chat.says("Ines", "close it")
    assert owed(chat) == {"Ines": 372, "Tobias": -372}
