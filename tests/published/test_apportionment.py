"""Largest remainder against published worked examples, and against the package ``apportionment``."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest
from apportionment import methods
from hypothesis import given, settings
from hypothesis import strategies as st

from core.shares import largest_remainder

EXAMPLES = tomllib.loads(Path(__file__).with_name("apportionment.toml").read_text("utf-8"))["example"]


@pytest.mark.parametrize("example", [pytest.param(one, id=one["source"]) for one in EXAMPLES])
def test_published_shares_are_ours(example: dict[str, Any]) -> None:
    assert largest_remainder(example["total"], example["weights"]) == example["shares"]


@settings(max_examples=3000)
@given(st.integers(1, 100_000), st.lists(st.integers(1, 5000), min_size=1, max_size=12))
def test_the_package_shares_the_same(total: int, weights: list[int]) -> None:
    # "hamilton" is its name for the largest remainder, here in exact fractions. Ties are not asked for: among
    # tied parties it serves the first listed even before a larger remainder (16 over 1, 1, 8: it says 2, 2, 12).
    try:
        theirs = methods.compute("hamilton", weights, total, fractions=True, tiesallowed=False, verbose=False)
    except methods.TiesException:
        return

    assert largest_remainder(total, weights) == [int(share) for share in theirs]
