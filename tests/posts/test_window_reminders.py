"""Reminders of sales: some days before each of the country's and the group's own, with the shopping list for it."""

from __future__ import annotations

import pytest

from bot.storage.timed import Outcome
from tests.chat import Chat
from tests.posts.told import line_of, outcome
from tests.skills.kept import first_lines

SCHOOL = "Back-to-school clearance begins in 3 days: Sep 8 to Sep 28, usually 50% off, 75% after 7 days."
HELLO = "what do we pay for pens?"


def sales(chat: Chat, until: str) -> list[str]:
    """The heads of the reminders of sales that come up to a moment, up to their colon."""
    heads = first_lines(chat.waits(until))
    return [head.partition(":")[0] for head in heads if " begin in " in head or " begins in " in head]


def test_a_sale_comes_three_days_before(chat: Chat) -> None:
    chat.says("Mei", HELLO, at="2026-09-04T10:00")

    early = chat.waits("2026-09-05T08:59")
    [post] = chat.waits("2026-09-05T09:00")

    assert early == []
    assert post.text.splitlines()[0] == SCHOOL
    assert post.text.splitlines()[1] == "Look for:"
    assert outcome(chat, "window:2026:back-to-school clearance") is Outcome.POSTED


def test_each_sale_of_a_year_comes_once(chat: Chat) -> None:
    chat.says("Mei", HELLO)

    assert sales(chat, "2027-08-02T09:00") == [
        "Back-to-school clearance begins in 3 days",
        "Halloween clearance begins in 3 days",
        "Thanksgiving sales begin in 3 days",
        "After-Christmas clearance begins in 3 days",
        "Valentine's clearance begins in 3 days",
        "St. Patrick's clearance begins in 3 days",
        "Easter clearance begins in 3 days",
        "Independence Day clearance begins in 3 days",
        "Back-to-school sales begin in 3 days",
    ]


def test_another_country_has_its_own_sales(chat: Chat) -> None:
    chat.says("Mei", "set the country to Canada")

    assert sales(chat, "2026-12-31T09:00") == [
        "Back-to-school clearance begins in 3 days",
        "Thanksgiving clearance begins in 3 days",
        "Halloween clearance begins in 3 days",
        "After-Christmas clearance begins in 3 days",
    ]


def test_the_list_holds_what_is_short(chat: Chat) -> None:
    chat.says("Mei", "I have 480 pencils and 700 colored pencils", at="2026-09-04T10:00")

    [post] = chat.waits("2026-09-05T09:00")

    # 120 pouches x 6 colored pencils are 720, less 700 are 20; 120 x 4 pencils are 480, all there
    assert post.text.splitlines()[2:] == [
        "• 20 colored pencils: price point 6¢",
        "• 960 crayons: price point 3¢",
        "• 240 pens: price point 10¢",
        "• 120 sharpeners: price point 11¢",
        "• 120 notebooks: price point 60¢",
    ]


def test_nothing_short_is_told_so(chat: Chat) -> None:
    chat.says("Mei", "I have 480 pencils and 720 colored pencils", at="2026-10-28T10:00")

    [post] = chat.waits("2026-10-29T09:00")

    assert post.text.startswith("Halloween clearance begins in 3 days: Nov 1 to Nov 11")
    assert post.text.endswith("Nothing that we are short of usually drops then.")


def test_a_price_of_last_year_is_told(chat: Chat) -> None:
    chat.says("Mei", "24 pencils 0.72 at larkmoor", at="2026-11-03T10:00")
    chat.says("Mei", "10 notebooks 4.00 at wickerby hall")

    post = next(post for post in chat.waits("2027-10-29T09:00")[::-1] if post.text.startswith("Halloween"))

    # 72 / 24 = 3 cents; notebooks are no usual find of that sale, but were seen in it for 400 / 10 = 40 cents
    assert line_of(post, "• 480 pencils") == ("• 480 pencils: price point 5¢, 3¢ at Larkmoor Market then (Nov 3 2026)")
    assert line_of(post, "• 120 notebooks").endswith("40¢ at Wickerby Hall then (Nov 3 2026)")


def test_a_sale_switched_off_is_silent(chat: Chat) -> None:
    chat.says("Mei", "switch off the halloween window", at="2026-10-28T10:00")

    posts = chat.waits("2026-10-31T08:00")

    assert posts == []
    assert outcome(chat, "window:2026:Halloween clearance") is None


def test_switched_off_and_taken_back_comes(chat: Chat) -> None:
    chat.says("Mei", "switch off the halloween window", at="2026-10-28T10:00")
    chat.says("Mei", "take that back")

    [post] = chat.waits("2026-10-29T09:00")

    assert post.text.startswith("Halloween clearance begins in 3 days")


def test_a_sale_of_our_own_comes(chat: Chat) -> None:
    chat.says("Mei", "add a window: church rummage sale first saturday of october", at="2026-09-29T10:00")

    [post] = chat.waits("2026-09-30T09:00")

    assert post.text.startswith("Church rummage sale begins in 3 days: Oct 3.")


def test_our_own_sale_comes_every_year(chat: Chat) -> None:
    chat.says("Mei", "add a window: church rummage sale first saturday of october", at="2026-09-29T10:00")

    chat.waits("2028-10-01T09:00")

    # first Saturdays: 2026-10-03, 2027-10-02, 2028-10-07
    told = [post.text for post in chat.posts if post.text.startswith("Church rummage sale begins")]
    assert len(told) == 2
    assert outcome(chat, "window:2026:church rummage sale") is Outcome.POSTED
    assert outcome(chat, "window:2027:church rummage sale") is Outcome.POSTED


def test_a_sale_taken_back_is_silent(chat: Chat) -> None:
    chat.says("Mei", "add a window: church rummage sale first saturday of october", at="2026-09-29T10:00")
    chat.says("Mei", "take that back")

    assert chat.waits("2026-10-02T12:00") == []


@pytest.mark.parametrize(
    ("hours", "early", "due"),
    [
        ("quiet hours 10pm to 10am", "2026-09-05T09:59", "2026-09-05T10:00"),
        ("no quiet hours", "2026-09-05T08:59", "2026-09-05T09:00"),
    ],
)
def test_quiet_hours_hold_a_sale(chat: Chat, hours: str, early: str, due: str) -> None:
    chat.says("Mei", hours, at="2026-09-04T11:00")

    held = chat.waits(early)
    [post] = chat.waits(due)

    assert held == []
    assert post.text.splitlines()[0] == SCHOOL
