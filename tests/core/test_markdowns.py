"""Markdowns: the price before and after, for the same count, in cents."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.markdowns import (
    MarkdownError,
    Marked,
    amount_off,
    buy_some_get_some,
    share_off,
    share_off_after,
    was_now,
)

HALF, THIRD = Fraction(1, 2), Fraction(1, 3)
PRICES = st.integers(1, 10**6)
SHARES = st.fractions(min_value=Fraction(1, 100), max_value=Fraction(99, 100), max_denominator=100)


@pytest.mark.parametrize(
    ("regular", "off", "price"),
    [
        (600, HALF, 300),
        (100, Fraction(3, 4), 25),
        (101, Fraction(3, 4), 25),  # a quarter of 101 is 25.25
        (101, HALF, 51),  # 50.5, half up
        (100, THIRD, 67),  # 66.66...
    ],
)
def test_share_off_rounds_half_up(regular: int, off: Fraction, price: int) -> None:
    assert share_off(regular, off) == Marked(price, regular)


def test_price_before_markdown_is_found_back() -> None:
    # 300 is what half off leaves of 600; 100 is what a third off leaves of 150
    assert share_off_after(300, HALF) == Marked(300, 600)
    assert share_off_after(100, THIRD) == Marked(100, 150)


def test_amount_off_leaves_the_rest() -> None:
    assert amount_off(325, 100) == Marked(225, 325)


def test_was_and_now_stay_as_said() -> None:
    assert was_now(240, 60) == Marked(60, 240)


@pytest.mark.parametrize(
    ("regular", "buy", "get", "off", "marked"),
    [
        (110, 1, 1, Fraction(1), Marked(110, 220, 2)),
        (100, 2, 1, HALF, Marked(250, 300, 3)),  # 100 + 100 + 50
        (40, 2, 1, HALF, Marked(100, 120, 3)),  # 40 + 40 + 20
        (99, 1, 1, HALF, Marked(149, 198, 2)),  # 99 + 49.5, half up
        (30, 3, 2, Fraction(1), Marked(90, 150, 5)),
    ],
)
def test_bought_and_got_are_one_price(regular: int, buy: int, get: int, off: Fraction, marked: Marked) -> None:
    assert buy_some_get_some(regular, buy, get, off) == marked


@pytest.mark.parametrize(
    "senseless",
    [
        lambda: share_off(100, Fraction(0)),
        lambda: share_off(100, Fraction(1)),
        lambda: share_off_after(100, Fraction(3, 2)),
        lambda: amount_off(100, 101),
        lambda: amount_off(100, 0),
        lambda: was_now(100, 100),
        lambda: was_now(100, 120),
        lambda: buy_some_get_some(100, 0, 1, HALF),
        lambda: buy_some_get_some(100, 1, 0, HALF),
        lambda: buy_some_get_some(100, 1, 1, Fraction(2)),
    ],
)
def test_senseless_markdowns_are_refused(senseless: Callable[[], Marked]) -> None:
    with pytest.raises(MarkdownError):
        senseless()


@given(PRICES, SHARES)
def test_share_off_is_half_a_cent_away(regular: int, off: Fraction) -> None:
    marked = share_off(regular, off)

    assert 0 <= marked.price <= marked.regular == regular
    assert abs(marked.price - regular * (1 - off)) <= HALF


@given(PRICES, SHARES)
def test_price_found_back_marks_down_again(price: int, off: Fraction) -> None:
    before = share_off_after(price, off).regular

    # half a cent of rounding before, of which the markdown leaves less than half a cent, and half a cent after
    assert abs(share_off(before, off).price - price) <= 1


@given(PRICES, st.integers(1, 12), st.integers(1, 12), SHARES)
def test_getting_more_never_costs_more(regular: int, buy: int, get: int, off: Fraction) -> None:
    marked = buy_some_get_some(regular, buy, get, off)

    assert marked.count_factor == buy + get
    assert regular * buy <= marked.price <= marked.regular == regular * (buy + get)
