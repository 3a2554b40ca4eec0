"""Fewest payments against published worked examples."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from core.ledger import Payment
from core.settling import fewest_payments

EXAMPLES = tomllib.loads(Path(__file__).with_name("settling.toml").read_text("utf-8"))["example"]


@pytest.mark.parametrize("example", [pytest.param(one, id=one["source"]) for one in EXAMPLES])
def test_published_numbers_of_payments_are_ours(example: dict[str, Any]) -> None:
    balances = {str(place): amount for place, amount in enumerate(example["balances"], 1)}

    assert len(fewest_payments(balances)) == example["payments"]


def test_the_printed_payments_of_the_worked_example() -> None:
    # printed: 1 pays 5 3; 3 pays 5 3; 4 pays 2 1 (Patcas 2012)
    balances = {"1": -3, "2": 1, "3": -3, "4": -1, "5": 6}

    assert fewest_payments(balances) == [Payment("1", "5", 3), Payment("3", "5", 3), Payment("4", "2", 1)]
