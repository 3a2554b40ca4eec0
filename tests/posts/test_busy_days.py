"""Days with many deals: those beyond the day's number are gathered into one post the next morning."""

from __future__ import annotations

from tests.chat import Chat
from tests.posts.told import deals

NIGHT, MORNING = "2026-08-03T23:00", "2026-08-04T07:00"
PENCILS = "12 pencils 0.47 at corner store"
PENS = "10 pens 0.80 at corner store"
COMBS = "24 combs 2.40 at corner store"
SHARPENERS = "12 sharpeners 0.84 at corner store"
CRAYONS = "24 crayons 0.60 at corner store"
WASHCLOTHS = "10 washcloths 3.00 at corner store"


def told(chat: Chat, *prices: str) -> list[str]:
    """The deals that several prices bring at once, each said by itself."""
    return [line for price in prices for line in deals(chat.says("Mei", price))]


def test_the_fourth_of_a_day_waits(chat: Chat) -> None:
    at_once = told(chat, PENCILS, PENS, COMBS, SHARPENERS, CRAYONS)

    evening = chat.waits("2026-08-04T06:59")
    [post] = chat.waits(MORNING)

    # 84 / 12 = 7 cents, 60 / 24 = 2.5 cents
    assert (len(at_once), evening) == (3, [])
    assert post.text.splitlines() == [
        "Other deals since yesterday:",
        "• sharpeners 7¢ each at corner store: below our price point of 11¢; 120 needed",
        "• crayons 2.5¢ each at corner store: below our price point of 3¢; 960 needed",
    ]


def test_more_than_three_of_a_night(chat: Chat) -> None:
    chat.waits(NIGHT)
    at_once = told(chat, PENCILS, PENS, COMBS, SHARPENERS, CRAYONS)

    posts = chat.waits(MORNING)

    assert at_once == []
    assert [line.partition(" ")[0] for line in deals(posts)] == ["pencils", "pens", "combs", "Other"]
    assert len(posts[-1].text.splitlines()) == 3


def test_one_taken_back_makes_room(chat: Chat) -> None:
    told(chat, PENCILS, PENS, COMBS)
    chat.says("Mei", "take that back")

    assert told(chat, SHARPENERS) == ["sharpeners 7¢ each at corner store (12 for $0.84)."]
    assert told(chat, CRAYONS) == []


def test_the_next_day_counts_anew(chat: Chat) -> None:
    told(chat, PENCILS, PENS, COMBS)
    chat.waits("2026-08-04T10:00")

    assert told(chat, SHARPENERS) == ["sharpeners 7¢ each at corner store (12 for $0.84)."]


def test_a_gathered_one_taken_back_is_dropped(chat: Chat) -> None:
    told(chat, PENCILS, PENS, COMBS, SHARPENERS)
    chat.says("Mei", "take that back")

    assert chat.waits("2026-08-05T12:00") == []


def test_a_gathered_deal_is_not_repeated(chat: Chat) -> None:
    told(chat, PENCILS, PENS, COMBS, SHARPENERS)
    chat.waits("2026-08-05T10:00")

    assert told(chat, SHARPENERS) == []


def test_a_gathered_post_leaves_the_day(chat: Chat) -> None:
    told(chat, PENCILS, PENS, COMBS, SHARPENERS, CRAYONS, "24 colored pencils 0.90 at corner store")
    chat.waits("2026-08-04T10:00")

    assert told(chat, WASHCLOTHS) == ["washcloths 30¢ each at corner store (10 for $3.00)."]


def test_gathered_after_quiet_days_waits(chat: Chat) -> None:
    chat.says("Mei", "what do we pay for pens?")
    chat.waits("2026-08-05T12:00")
    told(chat, PENCILS, PENS, COMBS, SHARPENERS)

    day = chat.waits("2026-08-06T06:59")
    morning = chat.waits("2026-08-06T07:00")

    assert (day, deals(morning)) == ([], ["Other deals since yesterday:"])
