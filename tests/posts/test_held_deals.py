"""Deals of the quiet hours wait for the morning, and come as far as they still are deals."""

from __future__ import annotations

import pytest

from bot.storage.timed import Outcome
from tests.chat import Chat
from tests.posts.told import deals, outcome
from tests.skills.kept import labels

NIGHT, MORNING = "2026-08-03T23:00", "2026-08-04T07:00"
PENCILS = "12 pencils 0.47 at corner store"
PENS = "10 pens 0.80 at corner store"
COMBS = "24 combs 2.40 at corner store"


def told(chat: Chat, *prices: str) -> list[str]:
    """The deals that several prices bring at once, each said by itself."""
    return [line for price in prices for line in deals(chat.says("Mei", price))]


def test_a_deal_of_the_night_waits(chat: Chat) -> None:
    said = deals(chat.says("Mei", PENCILS, at=NIGHT))

    night = chat.waits("2026-08-04T06:59")
    [post] = chat.waits(MORNING)

    # 40 x 0.47 = 18.80, as if it were told at once
    assert (said, night) == ([], [])
    assert post.text.splitlines() == [
        "Deal: pencils 4¢ each at corner store (12 for $0.47).",
        "Below our price point of 5¢.",
        "480 still needed: 40 packs of 12, $18.80.",
    ]
    assert labels(post) == ["I'm buying", "Share a case", "Not for us"]
    assert outcome(chat, "alerts:2026-08-04T07:00") is Outcome.POSTED


@pytest.mark.parametrize(
    ("at", "at_once"),
    [
        ("2026-08-03T21:59", True),
        ("2026-08-03T22:00", False),
        ("2026-08-04T00:00", False),
        ("2026-08-04T06:59", False),
        ("2026-08-04T07:00", True),
    ],
)
def test_the_edges_of_the_night(chat: Chat, at: str, at_once: bool) -> None:
    said = deals(chat.says("Mei", PENCILS, at=at))

    later = deals(chat.waits("2026-08-05T12:00"))

    assert (len(said), len(later)) == ((1, 0) if at_once else (0, 1))


def test_a_held_deal_comes_once(chat: Chat) -> None:
    chat.says("Mei", PENCILS, at=NIGHT)
    chat.waits(MORNING)

    posts = chat.waits("2026-08-08T12:00")

    assert posts == []


@pytest.mark.parametrize("how", ["said", "pressed"])
def test_a_price_taken_back_drops_it(chat: Chat, how: str) -> None:
    chat.says("Mei", PENCILS, at=NIGHT)
    if how == "said":
        chat.says("Mei", "take that back")
    else:
        chat.presses("Ines", "Take back")

    assert chat.waits("2026-08-05T12:00") == []


def test_one_taken_back_leaves_the_others(chat: Chat) -> None:
    told(chat, PENCILS)
    chat.waits(NIGHT)
    told(chat, COMBS, PENS)
    chat.says("Mei", "take that back")

    posts = chat.waits(MORNING)

    assert deals(posts) == ["combs 10¢ each at corner store (24 for $2.40)."]


def test_what_is_short_no_more_is_dropped(chat: Chat) -> None:
    chat.says("Mei", PENCILS, at=NIGHT)
    chat.says("Ines", "I have 480 pencils")

    posts = chat.waits(MORNING)

    assert posts == []


def test_what_is_still_short_is_reckoned_anew(chat: Chat) -> None:
    chat.says("Mei", PENCILS, at=NIGHT)
    chat.says("Ines", "I have 400 pencils")

    [post] = chat.waits(MORNING)

    # 480 - 400 = 80: 7 packs of 12 for 7 x 0.47 = 3.29
    assert post.text.splitlines()[-1] == "80 still needed: 7 packs of 12, $3.29."


def test_an_offer_over_by_morning_is_dropped(chat: Chat) -> None:
    chat.says("Mei", f"{PENCILS} until today", at=NIGHT)

    posts = chat.waits("2026-08-04T12:00")

    assert posts == []


@pytest.mark.parametrize("prices", [(PENCILS,), (PENCILS, PENS)])
def test_a_night_after_quiet_days_waits(chat: Chat, prices: tuple[str, ...]) -> None:
    chat.says("Mei", "what do we pay for pens?")
    chat.waits("2026-08-05T23:00")
    told(chat, *prices)

    night = chat.waits("2026-08-06T06:59")
    morning = chat.waits("2026-08-06T07:00")

    assert (night, len(deals(morning))) == ([], len(prices))


def test_a_held_deal_keeps_its_limit(chat: Chat) -> None:
    chat.says("Mei", f"{PENCILS} limit 2", at=NIGHT)

    [post] = chat.waits(MORNING)

    assert "at most 2 a customer" in post.text


def test_a_better_one_takes_its_place(chat: Chat) -> None:
    chat.waits(NIGHT)
    told(chat, PENCILS, "12 pencils 0.45 at corner store")

    posts = chat.waits(MORNING)

    assert deals(posts) == ["pencils 3.8¢ each at corner store (12 for $0.45)."]
