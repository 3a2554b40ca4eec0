"""Deal alerts: which price or purchase is told of at once, and which is not."""

from __future__ import annotations

import pytest

from tests.chat import Chat
from tests.posts.told import deals
from tests.skills.kept import labels

PENCILS = "12 pencils 0.47 at corner store"


def test_a_price_below_the_point_is_told(chat: Chat) -> None:
    [reply, post] = chat.says("Mei", PENCILS)

    # 47 / 12 is 3.92; 120 pouches x 4 are 480, which 480 / 12 = 40 packs cover: 40 x 0.47 = 18.80
    assert reply.text.startswith("Good price: pencils")
    assert post.text.splitlines() == [
        "Deal: pencils 4¢ each at corner store (12 for $0.47).",
        "Below our price point of 5¢.",
        "480 still needed: 40 packs of 12, $18.80.",
    ]
    assert labels(post) == ["I'm buying", "Share a case", "Not for us"]
    assert post.to is None


def test_the_lowest_of_a_year_is_told(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.78 at corner store")

    [_, post] = chat.says("Mei", "12 pencils 0.72 at larkmoor")

    # 78 / 12 is 6.5 and 72 / 12 is 6 cents: over the point of 5, within the most of 7; 40 x 0.72 = 28.80
    assert post.text.splitlines() == [
        "Deal: pencils 6¢ each at Larkmoor Market (12 for $0.72).",
        "Over our price point of 5¢, but the lowest in 12 months (before: 6.5¢).",
        "480 still needed: 40 packs of 12, $28.80.",
    ]


def test_both_reasons_are_told_together(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.60 at corner store")

    [_, post] = chat.says("Mei", "12 pencils 0.48 at larkmoor")

    # 60 / 12 is 5 cents, not below the point; 48 / 12 is 4
    assert post.text.splitlines()[1] == "Below our price point of 5¢ and the lowest in 12 months (before: 5¢)."


def test_an_alert_shows_the_figures_of_the_reply_beside_it(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.42 at corner store")

    [reply, post] = chat.says("Mei", PENCILS.replace("corner store", "larkmoor"))

    # 42 / 12 is 3.5 and 47 / 12 is 3.92: both would be 4 cents, though the alert speaks of one alone
    assert "pencils at 3.9¢ each" in reply.text
    assert "pencils 3.9¢ each" in post.text


def test_a_price_of_thirteen_months_ago_is_past(chat: Chat) -> None:
    chat.says("Mei", "12 pencils 0.78 at corner store on 2025-07-02")
    chat.says("Mei", "12 pencils 0.82 at corner store on 2025-09-02")

    [_, post] = chat.says("Mei", "12 pencils 0.80 at corner store")

    # 80 / 12 is 6.67: over the 6.5 of last July, below the 82 / 12 = 6.83 of last September
    assert post.text.splitlines()[1] == "Over our price point of 5¢, but the lowest in 12 months (before: 6.8¢)."


def test_a_purchase_is_told_without_its_cost(chat: Chat) -> None:
    [_, post] = chat.says("Ines", "got 24 combs 2.40 at larkmoor")

    # 240 / 24 is 10 cents; of 80 combs 24 are there, 56 are short
    assert post.text.splitlines() == [
        "Deal: combs 10¢ each at Larkmoor Market (24 for $2.40).",
        "Below our price point of 15¢.",
        "56 still needed.",
    ]


def test_a_purchase_that_covers_all_is_silent(chat: Chat) -> None:
    posts = chat.says("Ines", "got 80 combs 8.00 at larkmoor")

    assert deals(posts) == []


def test_a_single_unit_has_no_packs(chat: Chat) -> None:
    [_, post] = chat.says("Mei", "1 notebook 0.40 at larkmoor")

    # 120 x 0.40 = 48.00
    assert post.text.splitlines()[0] == "Deal: notebooks 40¢ each at Larkmoor Market."
    assert post.text.splitlines()[-1].endswith("$48.00.")


def test_stock_leaves_less_to_buy(chat: Chat) -> None:
    chat.says("Mei", "I have 400 pencils")

    [_, post] = chat.says("Mei", PENCILS)

    # 480 - 400 = 80, which 7 packs of 12 cover: 7 x 0.47 = 3.29
    assert post.text.splitlines()[-1] == "80 still needed: 7 packs of 12, $3.29."


def test_a_limit_and_last_day_are_told(chat: Chat) -> None:
    [_, post] = chat.says("Mei", f"{PENCILS} limit 2 until august 10")

    assert post.text.splitlines()[0] == "Deal: pencils 4¢ each at corner store (12 for $0.47), until Aug 10."
    assert "at most 2 a customer" in post.text


def test_each_price_of_a_message_is_told(chat: Chat) -> None:
    posts = chat.says("Mei", "at larkmoor: 12 pens 0.60, 24 combs 2.40, 12 pencils 0.84")

    # 60 / 12 = 5 of 10 cents, 240 / 24 = 10 of 15; 84 / 12 = 7 are over the 5
    assert deals(posts) == [
        "pens 5¢ each at Larkmoor Market (12 for $0.60).",
        "combs 10¢ each at Larkmoor Market (24 for $2.40).",
    ]


@pytest.mark.parametrize(
    ("before", "said"),
    [
        pytest.param((), "12 pencils 0.60 at corner store", id="just the price point"),
        pytest.param((), "12 crayons 0.36 at corner store", id="the price point of crayons"),
        pytest.param(("12 pencils 0.96 at corner store",), "12 pencils 0.90 at larkmoor", id="over the limit"),
        pytest.param(("12 pencils 0.66 at corner store",), "24 pencils 1.32 at larkmoor", id="just the lowest"),
        pytest.param(("I have 480 pencils",), PENCILS, id="not short"),
        pytest.param(("goal 0 school pouches",), PENCILS, id="no goal"),
        pytest.param((), f"{PENCILS} on 2026-07-26", id="seen eight days ago"),
        pytest.param((), "is 0.47 for 12 pencils a good price?", id="only asked"),
        pytest.param((), "99 for 12 combs? the queue was long", id="talk"),
        pytest.param(("no more alerts",), PENCILS, id="none wanted"),
    ],
)
def test_no_deal_is_told_for_these(chat: Chat, before: tuple[str, ...], said: str) -> None:
    for told in before:
        chat.says("Mei", told)

    posts = chat.says("Mei", said)

    assert deals(posts) == []
    assert deals(chat.waits("2026-08-04T12:00")) == []


def test_a_price_a_week_old_is_told(chat: Chat) -> None:
    posts = chat.says("Mei", f"{PENCILS} on 2026-07-27")

    assert len(deals(posts)) == 1


def test_an_offer_that_is_over_is_silent(chat: Chat) -> None:
    posts = chat.says("Mei", f"{PENCILS} on 2026-07-31 until 2026-08-02")

    assert deals(posts) == []


def test_an_offer_until_today_is_told(chat: Chat) -> None:
    posts = chat.says("Mei", f"{PENCILS} until today")

    assert len(deals(posts)) == 1
