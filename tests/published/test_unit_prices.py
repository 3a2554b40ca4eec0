"""Unit prices and their rounding against the rules of unit-price labels and their printed examples."""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bot.wording.amounts import unit_price
from core.group import Settings
from core.money import Rounding, currency, half_up, shown
from core.prices import Sighting
from tests.published.listening import AT, Row, cases, prices, table

TABLE = table("unit_prices.toml")
COUNTRIES = {"USD": "US", "GBP": "GB", "AUD": "AU"}


def labelled(code: str) -> Settings:
    return Settings(currency(code), country=COUNTRIES[code], rounding=Rounding.TENTH)


@pytest.mark.parametrize("row", cases(TABLE["printed"], "source"))
def test_printed_examples_come_out_as_printed(row: Row) -> None:
    group, exact = labelled(row["currency"]), Fraction(row["exact"])

    assert shown(exact, group.rounding, group.currency) == Fraction(row["shown"])
    assert unit_price(exact, group) == row["words"]


@pytest.mark.parametrize("row", cases(TABLE["derived"], "paid"))
def test_paid_over_units_rounds_half_up(row: Row) -> None:
    dollars = currency("USD")
    seen = Sighting("pencil", row["units"], dollars.minor(Decimal(row["paid"])), AT.date())

    assert shown(seen.unit_price, Rounding.TENTH, dollars) == Fraction(row["shown"])


@pytest.mark.parametrize("row", cases(TABLE["derived"], "paid"))
def test_half_even_is_the_other_rule(row: Row) -> None:
    cents = Decimal(row["paid"]) * 100 / row["units"]

    step = Decimal("0.1") if cents < 100 else Decimal(1)

    assert cents.quantize(step, ROUND_HALF_EVEN) == Decimal(row["half_even"])
    assert cents.quantize(step, ROUND_HALF_UP) == Decimal(row["shown"])


def test_half_up_follows_the_published_table() -> None:
    figures = TABLE["half_up"]["figures"]

    assert {text: half_up(Fraction(text)) for text in figures} == figures


@given(st.decimals(min_value=-(10**9), max_value=10**9, places=3))
def test_half_up_agrees_with_decimal_arithmetic(amount: Decimal) -> None:
    assert half_up(Fraction(amount)) == int(amount.quantize(Decimal(1), ROUND_HALF_UP))


@given(st.integers(1, 10**7), st.integers(1, 10**4))
def test_labels_agree_with_decimal_arithmetic(paid: int, units: int) -> None:
    exact = Fraction(paid, units)
    step = Fraction(1, 10) if exact < 100 else Fraction(1)

    label = shown(exact, Rounding.TENTH, currency("USD"))

    # Half up: the nearest step, and of two as near the upper one.
    assert (label / step).denominator == 1
    assert label - step / 2 <= exact < label + step / 2


def test_a_unit_price_is_for_one_item() -> None:
    """SI 2024/1055 art. 2(2) and Directive 98/6/EC art. 2: goods sold by number, the final price (read)."""
    ((count, paid),) = prices("2 packs of 12 pencils 1.88")

    seen = Sighting("pencil", count, currency("USD").minor(paid), AT.date())

    # 188 cents for 24 pencils: 7.8333 cents for one, not 94 cents for a pack.
    assert seen.unit_price == Fraction(188, 24)
    assert unit_price(seen.unit_price, labelled("USD")) == "7.8¢"
