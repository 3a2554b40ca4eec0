"""The weekly summary: when it comes, and what it tells of kits, finds, money, cases and sales."""

from __future__ import annotations

import pytest

from bot.storage.timed import Outcome
from tests.chat import Chat
from tests.posts.told import WASH_BAGS, has_line, line_of, outcome, summaries

ASK = "what do we pay for pens?"
SUNDAY = "2026-08-09T18:00"
SCHOOL, WASH = "School pouches:", "Wash bags:"


def test_the_summary_comes_on_sunday_evening(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.60 at corner store")

    early = chat.waits("2026-08-09T17:59")
    [post] = chat.waits(SUNDAY)

    assert early == []
    assert summaries([post]) == ["Sun Aug 9"]
    assert (post.to, post.buttons) == (None, ())


def test_every_week_has_one_summary(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.60 at corner store")

    posts = chat.waits("2026-09-01T00:00")

    assert summaries(posts) == ["Sun Aug 9", "Sun Aug 16", "Sun Aug 23", "Sun Aug 30"]
    assert outcome(chat, "summary:2026-08-09") is Outcome.POSTED
    assert outcome(chat, "summary:2026-09-06") is None


def test_a_quiet_week_is_one_line(chat: Chat) -> None:
    chat.says("Mei", ASK)

    [post] = chat.waits(SUNDAY)

    # 2025-11-15 to 2026-08-09 are 268 of 365 days: 120 x 268 / 365 = 88.1, 80 x 268 / 365 = 58.7
    assert post.text == (
        "The week to Sun Aug 9 was quiet; school pouches 0 of 120, 88 behind; wash bags 0 of 80, 58 behind. "
        "On now: back-to-school sales, until Sep 7"
    )


def test_what_was_taken_back_leaves_quiet(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.60 at corner store")
    chat.says("Mei", "take that back")

    [post] = chat.waits(SUNDAY)

    assert "was quiet" in post.text
    assert len(post.text.splitlines()) == 1


@pytest.mark.parametrize(
    ("packed", "told"),
    [
        (57, "57 of 80 by Nov 14 (+57), 1 behind"),
        (58, "58 of 80 by Nov 14 (+58), on time"),
        (60, "60 of 80 by Nov 14 (+60), 2 ahead"),
        (80, "80 of 80 by Nov 14 (+80), all done"),
    ],
)
def test_kits_stand_against_the_calendar(chat: Chat, packed: int, told: str) -> None:
    chat.says("Mei", WASH_BAGS)
    chat.says("Mei", f"packed {packed} wash bags")

    [post] = chat.waits(SUNDAY)

    # 80 x 268 / 365 = 58.7: 58 would be done at an even pace
    assert line_of(post, WASH) == f"{WASH} {told}"
    assert line_of(post, SCHOOL) == f"{SCHOOL} 0 of 120 by Nov 14, 88 behind"


def test_a_season_said_moves_the_pace(chat: Chat) -> None:
    chat.says("Mei", "season starts june 1")
    chat.says("Mei", "12 pencils 0.60 at corner store")

    [post] = chat.waits(SUNDAY)

    # June 1 to August 9 are 30 + 31 + 9 = 70 of 167 days: 120 x 70 / 167 = 50.3, 80 x 70 / 167 = 33.5
    assert line_of(post, SCHOOL).endswith(", 50 behind")
    assert line_of(post, WASH).endswith(", 33 behind")


def test_the_best_finds_are_three(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.48 at corner store")
    chat.says("Mei", "10 pens 0.90 at larkmoor")
    chat.says("Mei", "24 combs 2.40 at larkmoor")
    chat.says("Mei", "24 combs 1.92 at wickerby hall")
    chat.says("Mei", "10 notebooks 5.90 at larkmoor")
    chat.says("Mei", "12 sharpeners 1.44 at larkmoor")

    post = chat.waits(SUNDAY)[-1]

    # combs 8 of 15 cents; pencils 4 of 5; pens 9 of 10; notebooks 59 of 60 are fourth; sharpeners 12 are over 11
    assert line_of(post, "Best finds:") == (
        "Best finds: combs 8¢ at Wickerby Hall (price point 15¢); pencils 4¢ at corner store (price point 5¢); "
        "pens 9¢ at Larkmoor Market (price point 10¢)"
    )


def test_dear_prices_are_no_finds(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.60 at corner store")

    [post] = chat.waits(SUNDAY)

    assert not has_line(post, "Best finds:")


def test_spending_and_cost_of_a_kit(chat: Chat) -> None:
    for said in ("100 soaps 20.00", "100 washcloths 30.00", "100 combs 10.00", "100 toothbrushes 25.00"):
        chat.says("Mei", f"got {said} at larkmoor")
    chat.says("Mei", "packed 10 wash bags")

    [first, second] = chat.waits("2026-08-16T18:00")

    # 20 + 30 + 10 + 25 = 85.00; one bag holds 0.20 + 0.30 + 0.10 + 0.25 = 0.85
    assert line_of(first, "Spent") == "Spent $85.00, $85.00 this season; a wash bag has cost $0.85"
    assert "was quiet" in second.text


def test_open_cases_and_debts_are_told(chat: Chat) -> None:
    chat.says("Ines", "got 24 pens 2.40 at larkmoor")
    chat.says("Ines", "split that with Mei")
    chat.says("Tobias", "i can get 144 combs for 14.40, who wants some?")
    chat.says("Amara", "put me down for 24")

    [post] = chat.waits(SUNDAY)

    # half of 2.40 is 1.20; 144 - 24 = 120
    assert line_of(post, "Owed:") == "Owed: Mei owes Ines $1.20"
    assert line_of(post, "Open cases:") == "Open cases: 144 combs (Tobias), 120 left"


def test_the_most_short_are_the_dearest(chat: Chat) -> None:
    chat.says("Mei", "I have 1 comb")

    [post] = chat.waits(SUNDAY)

    # 120 x 60 = 72.00, 720 x 6 = 43.20, 80 x 40 = 32.00, 960 x 3 = 28.80; the next is 80 x 35 = 28.00
    assert line_of(post, "Most short:") == (
        "Most short: 120 notebooks, 720 colored pencils, 80 bar soaps, 960 crayons and 6 more items"
    )


def test_the_next_sale_closes_it(chat: Chat) -> None:
    chat.says("Mei", ASK)

    posts = chat.waits("2026-10-04T18:00")

    assert posts[-1].text.endswith("Next sale: Halloween clearance, Nov 1 (in 4 weeks)")
    assert posts[-3].text.endswith("On now: back-to-school clearance, until Sep 28")


def test_one_asked_for_midweek_goes_to_now(chat: Chat) -> None:
    chat.says("Mei", "24 combs 2.40 at larkmoor")

    [asked] = chat.says("Ines", "weekly summary", at="2026-08-05T10:00")
    [due] = chat.waits(SUNDAY)

    assert summaries([asked, due]) == ["Wed Aug 5", "Sun Aug 9"]
    assert line_of(asked, "Best finds:") == line_of(due, "Best finds:")


def test_one_asked_for_right_after_it_came_is_told_again(chat: Chat) -> None:
    chat.says("Mei", "24 combs 2.40 at larkmoor")
    [due] = chat.waits(SUNDAY)

    [asked] = chat.says("Ines", "weekly summary", at="2026-08-09T18:31")
    [later] = chat.says("Ines", "weekly summary", at="2026-08-11T10:00")

    assert asked.text == due.text
    assert "was quiet" in later.text
