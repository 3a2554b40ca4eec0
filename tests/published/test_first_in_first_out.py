"""What stock cost against published worked examples of first in, first out (the formula of IAS 2, from memory)."""

from __future__ import annotations

import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from core.stock import Cost, Lot, drawn

_FILE = Path(__file__).parent / "first_in_first_out.toml"
EXAMPLES: list[dict[str, Any]] = tomllib.loads(_FILE.read_text("utf-8"))["example"]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda example: example["source"][:24])
def test_stock_costs_what_the_example_says(example: dict[str, Any]) -> None:
    lots = [Lot(units, Fraction(units * each)) for units, each in example["lots"]]

    costs, left = drawn(lots, example["draws"])

    assert sum((lot.cost or 0 for lot in left), Fraction(0)) == example["left"]
    paid = sum(units * each for units, each in example["lots"])
    assert sum(costs, Cost()) == Cost(Fraction(example.get("cost", paid - example["left"])), sum(example["draws"]))
