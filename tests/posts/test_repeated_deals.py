"""Deals told before: the same one again within a week, a better one, and those the group has turned down."""

from __future__ import annotations

import pytest

from tests.chat import Chat
from tests.posts.told import deals

PENCILS = "12 pencils 0.47 at corner store"
CORNER = ["pencils 4¢ each at corner store (12 for $0.47)."]


def again(chat: Chat, at: str, said: str = PENCILS) -> list[str]:
    """The deals that a price said at a later moment brings, with all that fell due before it done."""
    chat.waits(at)
    return deals(chat.says("Ines", said))


@pytest.mark.parametrize(
    "said",
    [
        pytest.param(PENCILS, id="the same"),
        pytest.param("24 pencils 0.94 at corner store", id="two packs of it"),
        pytest.param("12 pencils 0.50 at corner store", id="a worse one"),
        pytest.param("got 12 pencils 0.47 at corner store", id="bought"),
    ],
)
def test_the_same_deal_is_told_once(chat: Chat, said: str) -> None:
    chat.says("Mei", PENCILS)

    assert again(chat, "2026-08-03T12:00", said) == []


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("12 pencils 0.46 at corner store", "pencils 3.8¢ each at corner store (12 for $0.46)."),
        (PENCILS.replace("corner store", "larkmoor"), "pencils 4¢ each at Larkmoor Market (12 for $0.47)."),
        ("12 pencils 0.47", "pencils 4¢ each (12 for $0.47)."),
        ("10 pens 0.80 at corner store", "pens 8¢ each at corner store (10 for $0.80)."),
    ],
)
def test_a_better_or_other_one_is_told(chat: Chat, said: str, told: str) -> None:
    chat.says("Mei", PENCILS)

    assert again(chat, "2026-08-03T12:00", said) == [told]


def test_the_same_deal_after_a_week(chat: Chat) -> None:
    chat.says("Mei", PENCILS)

    sixth = again(chat, "2026-08-09T12:00")
    seventh = again(chat, "2026-08-10T12:00")

    assert (sixth, seventh) == ([], CORNER)


def test_one_taken_back_is_told_anew(chat: Chat) -> None:
    chat.says("Mei", PENCILS)
    chat.says("Mei", "take that back")

    assert again(chat, "2026-08-03T12:00") == CORNER


def test_not_for_us_holds_half_a_year(chat: Chat) -> None:
    chat.says("Mei", PENCILS)
    chat.presses("Tobias", "Not for us")

    weeks = again(chat, "2026-08-31T12:00")
    months = again(chat, "2027-01-31T12:00")
    later = again(chat, "2027-02-01T12:00")

    # 182 days after 2026-08-03 is 2027-02-01
    assert (weeks, months, later) == ([], [], CORNER)


def test_not_for_us_silences_worse_prices_too(chat: Chat) -> None:
    chat.says("Mei", PENCILS)
    chat.presses("Tobias", "Not for us")

    worse = again(chat, "2026-09-01T12:00", "12 pencils 0.55 at corner store")

    assert worse == []


def test_a_better_price_breaks_the_silence(chat: Chat) -> None:
    chat.says("Mei", PENCILS)
    chat.presses("Tobias", "Not for us")

    better = again(chat, "2026-09-01T12:00", "12 pencils 0.42 at corner store")

    # 42 / 12 = 3.5
    assert better == ["pencils 3.5¢ each at corner store (12 for $0.42)."]


def test_not_for_us_is_of_one_shop(chat: Chat) -> None:
    chat.says("Mei", PENCILS)
    chat.presses("Tobias", "Not for us")

    elsewhere = again(chat, "2026-08-03T12:00", "12 pencils 0.47 at larkmoor")

    assert len(elsewhere) == 1


def test_not_for_us_is_of_one_item(chat: Chat) -> None:
    chat.says("Mei", PENCILS)
    chat.presses("Tobias", "Not for us")

    other = again(chat, "2026-08-03T12:00", "10 pens 0.90 at corner store")

    assert len(other) == 1


def test_not_for_us_counts_from_the_press(chat: Chat) -> None:
    chat.says("Mei", PENCILS)
    chat.waits("2026-08-20T12:00")
    chat.presses("Tobias", "Not for us")

    within = again(chat, "2027-02-17T12:00")
    after = again(chat, "2027-02-18T12:00")

    # 182 days after 2026-08-20 is 2027-02-18
    assert (within, after) == ([], CORNER)
