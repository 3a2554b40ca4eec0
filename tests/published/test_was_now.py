"""Was-and-now prices against the rules on announced markdowns and their printed examples."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest

from bot.storage import entries, prices
from core.items import PricePoint
from core.markdowns import share_off, was_now
from core.money import currency
from core.prices import Sighting, Standing, judge
from tests.chat import Chat
from tests.published.listening import AT, Row, cases, table

DAY = date(2026, 8, 3)
EXAMPLES = table("was_now.toml")["example"]


def cents(amount: str) -> int:
    return currency("USD").minor(Decimal(amount))


@pytest.mark.parametrize("row", cases(EXAMPLES, "source"))
def test_a_markdown_is_held_against_the_lowest(chat: Chat, row: Row) -> None:
    now, seen = cents(row["now"]), [cents(amount) for amount in row["seen"]]
    with chat.books() as books:
        entry = entries.new_entry(books, "Mei", chat.clock, "seen before")
        for ago, price in enumerate(reversed(seen), start=1):
            prices.add_sighting(books, entry, Sighting("comb", 1, price, DAY - timedelta(days=7 * ago)))

        history = prices.history(books, "comb", DAY)
    verdict = judge(Sighting("comb", 1, now, DAY, regular=seen[-1]), PricePoint(), history)

    assert history.lowest is not None
    assert history.lowest.price == cents(row["before"])
    assert history.lowest.price - now == cents(row["saving"])
    assert verdict.standing is (Standing.BELOW if cents(row["saving"]) else Standing.EQUAL)


def test_half_off_means_off_the_prior_price() -> None:
    """Court of Justice C-330/23, 26 Sep 2024: a percentage is taken from the prior price (second-hand)."""
    from_prior, from_last = share_off(cents("20.00"), Fraction(1, 2)), share_off(cents("40.00"), Fraction(1, 2))

    # 50 % off 20 is 10; the shop's 50 % off 40 is the 20 that was asked all along.
    assert from_prior == was_now(cents("20.00"), cents("10.00"))
    assert from_last.price == cents("20.00")


def test_a_short_raise_leaves_the_usual_price(chat: Chat) -> None:
    """16 CFR 233.1(c): ten dollars for a few days is no regular price."""
    with chat.books() as books:
        entry = entries.new_entry(books, "Mei", chat.clock, "seen before")
        for ago, price in enumerate(("10.00", "10.00", "7.50", "7.50", "7.50"), start=1):
            prices.add_sighting(books, entry, Sighting("comb", 1, cents(price), AT.date() - timedelta(days=ago)))

        usual = prices.history(books, "comb", DAY).usual

    assert usual is not None
    assert usual.price == cents("7.50")
