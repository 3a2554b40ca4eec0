"""Customs of careful packers: common practice, no source."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.wording.amounts import unit_price
from core.group import Settings
from core.items import PricePoint
from core.markdowns import share_off
from core.money import Rounding, currency, shown
from core.prices import Band, History, Sighting, judge
from tests.chat import Chat
from tests.published.listening import prices

DOLLARS = currency("USD")
DAY = date(2026, 8, 3)
PACKERS = Settings(DOLLARS, rounding=Rounding.UP)


def test_unit_prices_are_carried_rounded_up() -> None:
    twelve_for_47 = Fraction(47, 12)

    # 47 / 12 = 3.9166 cents: 4 in the head, so that twelve are planned at 48 and never come out short.
    assert shown(twelve_for_47, Rounding.UP, DOLLARS) == 4
    assert unit_price(twelve_for_47, PACKERS) == "4¢"


@given(st.integers(1, 10**7), st.integers(1, 10**4))
def test_a_rounded_plan_never_comes_short(paid: int, units: int) -> None:
    carried = shown(Fraction(paid, units), Rounding.UP, DOLLARS)

    assert paid <= carried * units < paid + units


@pytest.mark.parametrize(
    ("cents", "band"),
    [(9, Band.GOOD), (10, Band.GOOD), (11, Band.FAIR), (12, Band.FAIR), (13, Band.HIGH)],
)
def test_a_price_point_has_three_bands(cents: int, band: Band) -> None:
    """Ten cents for a novelty pencil is good, eleven will do, twelve is the most."""
    point = PricePoint(target=Fraction(10), limit=Fraction(12))

    verdict = judge(Sighting("novelty pencil", 1, cents, DAY), point, History())

    assert verdict.band is band


def test_ten_for_a_dollar_halved_is_five_cents() -> None:
    halved = share_off(100, Fraction(1, 2))

    # 100 / 2 = 50 for ten: 5 each.
    assert (halved.price, halved.regular) == (50, 100)
    assert prices("10 pencils half off 1.00") == [(10, Decimal("0.50"))]
    assert unit_price(Fraction(halved.price, 10), PACKERS) == "5¢"


def test_the_chat_knows_the_halved_pack(chat: Chat) -> None:
    (post,) = chat.says("Mei", "10 pencils half off 1.00 at corner store")

    assert "pencils at 5¢ each" in post.text


@pytest.mark.parametrize(("said", "count", "carried"), [("10ct", 10, "10¢"), ("12ct", 12, "9¢")])
def test_the_count_on_the_pack_decides(said: str, count: int, carried: str) -> None:
    """Packs of ten and of twelve hang under one shelf tag."""
    ((units, price),) = prices(f"pencils {said} 1.00")

    # 100 / 10 = 10; 100 / 12 = 8.33, carried as 9.
    assert units == count
    assert unit_price(Fraction(DOLLARS.minor(price), units), PACKERS) == carried
