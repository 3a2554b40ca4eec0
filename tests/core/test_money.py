"""Exact money: minor units, the two ways a unit price is shown, rounding half up."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.money import (
    MAX_MAJOR_UNITS,
    Rounding,
    TooLargeError,
    TooManyDecimalsError,
    UnknownCurrencyError,
    currency,
    half_up,
    shown,
)

DOLLARS = currency("USD")
UNIT_PRICES = st.fractions(min_value=0, max_value=10**6, max_denominator=10**4)


@pytest.mark.parametrize(
    ("code", "amount", "minor"),
    [("USD", "0.47", 47), ("JPY", "120", 120), ("KWD", "1.250", 1250), ("usd", "3", 300)],
)
def test_amounts_become_whole_minor_units(code: str, amount: str, minor: int) -> None:
    assert currency(code).minor(Decimal(amount)) == minor


@pytest.mark.parametrize(("code", "amount"), [("USD", "0.475"), ("JPY", "0.5"), ("KWD", "0.0001")])
def test_fraction_of_a_coin_is_refused(code: str, amount: str) -> None:
    with pytest.raises(TooManyDecimalsError):
        currency(code).minor(Decimal(amount))


def test_price_points_may_split_a_coin() -> None:
    assert DOLLARS.minor_exact(Decimal("0.045")) == Fraction(9, 2)


@pytest.mark.parametrize("amount", [MAX_MAJOR_UNITS + Fraction(1, 100), -MAX_MAJOR_UNITS - 1])
def test_over_a_million_is_refused(amount: Fraction) -> None:
    with pytest.raises(TooLargeError):
        DOLLARS.minor(amount)


def test_a_million_itself_is_taken() -> None:
    assert DOLLARS.minor(Fraction(MAX_MAJOR_UNITS)) == 100_000_000


@pytest.mark.parametrize("code", ["XXX", "DOLLAR", "US"])
def test_unknown_currency_is_refused_by_name(code: str) -> None:
    with pytest.raises(UnknownCurrencyError, match=code):
        currency(code)


@pytest.mark.parametrize(
    ("code", "minor", "text"),
    [
        ("USD", Fraction(47), "0.47"),
        ("USD", Fraction(9, 2), "0.045"),
        ("USD", Fraction(-5), "-0.05"),
        ("USD", Fraction(1, 3), "0.00333333"),  # a third of a cent has no end: six decimals beyond the cent
        ("JPY", Fraction(120), "120"),
        ("KWD", Fraction(1250), "1.250"),
    ],
)
def test_minor_units_are_written_plainly(code: str, minor: Fraction, text: str) -> None:
    assert currency(code).plain(minor) == text


@given(st.integers(-(10**6), 10**6), st.sampled_from(["USD", "JPY", "KWD", "CLF"]))
def test_plain_writing_reads_back_the_same(minor: int, code: str) -> None:
    money = currency(code)

    assert money.minor(Decimal(money.plain(minor))) == minor


@pytest.mark.parametrize(
    ("cents", "up", "tenth"),
    [
        (Fraction(47, 12), "4", "3.9"),  # 3.9166...
        (Fraction(4), "4", "4"),
        (Fraction(79, 20), "4", "4"),  # 3.95: the half goes up
        (Fraction(401, 100), "5", "4"),  # 4.01
        (Fraction(1997, 20), "100", "99.9"),  # 99.85: the half goes up
        (Fraction(201, 2), "101", "101"),  # 100.5: from one dollar on, whole cents
        (Fraction(1003, 10), "101", "100"),  # 100.3
    ],
)
def test_unit_price_is_shown_two_ways(cents: Fraction, up: str, tenth: str) -> None:
    assert shown(cents, Rounding.UP, DOLLARS) == Fraction(up)
    assert shown(cents, Rounding.TENTH, DOLLARS) == Fraction(tenth)


@given(UNIT_PRICES)
def test_rounding_up_never_shows_too_little(cents: Fraction) -> None:
    told = shown(cents, Rounding.UP, DOLLARS)

    assert told.denominator == 1
    assert 0 <= told - cents < 1


@given(UNIT_PRICES)
def test_tenths_are_half_a_step_away(cents: Fraction) -> None:
    step = Fraction(1, 10) if cents < 100 else Fraction(1)

    told = shown(cents, Rounding.TENTH, DOLLARS)

    assert (told / step).denominator == 1
    assert -step / 2 < told - cents <= step / 2


@given(UNIT_PRICES, UNIT_PRICES, st.sampled_from(list(Rounding)))
def test_rounding_keeps_the_cheaper_first(one: Fraction, other: Fraction, rounding: Rounding) -> None:
    cheap, dear = sorted((one, other))

    assert shown(cheap, rounding, DOLLARS) <= shown(dear, rounding, DOLLARS)


@given(st.fractions(min_value=-(10**6), max_value=10**6, max_denominator=10**4))
def test_half_up_takes_the_nearest_whole(amount: Fraction) -> None:
    rounded = half_up(amount)

    distance = abs(rounded - amount)
    assert distance < Fraction(1, 2) or (distance == Fraction(1, 2) and abs(rounded) > abs(amount))
