"""Counts: packs and their single units, and what no group can mean."""

from __future__ import annotations

import pytest

from core.counts import MAX_UNITS, CountError, Quantity, checked


def test_packs_count_their_single_units() -> None:
    assert Quantity(2, 12).units == 24


def test_loose_units_are_packs_of_one() -> None:
    assert Quantity(7).units == 7


def test_packs_of_unknown_size_stay_unknown() -> None:
    assert Quantity(2, None).units is None


@pytest.mark.parametrize("units", [1, 12, MAX_UNITS])
def test_sensible_counts_are_taken(units: int) -> None:
    assert checked(units) == units


@pytest.mark.parametrize("units", [0, -12, MAX_UNITS + 1])
def test_senseless_counts_are_refused(units: int) -> None:
    with pytest.raises(CountError, match=str(units)):
        checked(units)
