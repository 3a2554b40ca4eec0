"""The cheapest packs against published figures, and against the mixed-integer solver of scipy."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
import pytest
from scipy.linalg import block_diag
from scipy.optimize import Bounds, LinearConstraint, milp

from core.buying_plan import ItemPlan, PackOffer, cheapest_packs

FIGURES = tomllib.loads(Path(__file__).with_name("buying_plan.toml").read_text("utf-8"))
CASES, COVERED = 2_060, 2_000
"""Random cases, and how many of them at least can be covered."""
TOGETHER = 8
"""Cases put to the solver at once: it takes a third of the time so."""
BEYOND = 200
"""How far past the largest number that cannot be had exactly it is checked that the others can."""


def offers_of(packs: Sequence[Sequence[int]]) -> list[PackOffer]:
    return [PackOffer("hay", units, price) for units, price in packs]


def by_the_unit(sizes: Sequence[int]) -> list[PackOffer]:
    """Packs at 1 a unit: the least cost is the least number of units."""
    return offers_of([(size, size) for size in sizes])


@pytest.mark.parametrize("example", [pytest.param(one, id=one["source"]) for one in FIGURES["plan"]])
def test_the_published_cost_is_ours(example: dict[str, Any]) -> None:
    assert cheapest_packs("hay", example["need"], offers_of(example["packs"])).cost == example["cost"]


def test_the_table_of_costs_is_ours() -> None:
    offers = offers_of(FIGURES["table"]["packs"])

    costs = [cheapest_packs("hay", need, offers).cost for need in range(len(FIGURES["table"]["costs"]))]

    assert costs == FIGURES["table"]["costs"]


@pytest.mark.parametrize("example", [pytest.param(one, id=one["source"]) for one in FIGURES["exact"]])
def test_published_numbers_that_cannot_be_had_exactly_are_ours(example: dict[str, Any]) -> None:
    offers = by_the_unit(example["sizes"])

    left_over = [need for need in range(example["largest"] + BEYOND) if cheapest_packs("hay", need, offers).leftover]

    assert left_over[-1] == example["largest"]
    assert left_over == example.get("impossible", left_over)


def test_the_least_units_above_a_need_are_ours() -> None:
    offers = by_the_unit(FIGURES["least"]["sizes"])

    units = [cheapest_packs("hay", need, offers).units for need in FIGURES["least"]["needs"]]

    assert units == FIGURES["least"]["units"]


@pytest.mark.parametrize("example", [pytest.param(one, id=one["source"]) for one in FIGURES["coins"]])
def test_the_fewest_coins_are_found_where_biggest_first_fails(example: dict[str, Any]) -> None:
    coins = offers_of([(coin, 1000 * coin + 1) for coin in example["coins"]])

    assert cheapest_packs("hay", example["sum"], coins).cost == 1000 * example["sum"] + example["fewest"]


def case(number: int) -> tuple[int, list[PackOffer]]:
    """A need to 600 and up to six packs to 144, a third limited, at unit prices apart, alike or equal."""
    chance = Random(number)  # noqa: S311 - no secret
    apart = chance.choice((0, 1, 8))
    sizes = [chance.randint(1, 144) for _ in range(chance.randint(1, 6))]
    offers = [
        PackOffer("hay", size, max(0, 20 * size + chance.randint(-apart, apart) * size), None, most)
        for size, most in ((size, chance.choice((None, None, chance.randint(1, 12)))) for size in sizes)
    ]
    return chance.randint(1, 600), list(dict.fromkeys(offers))


def least_by_milp(cases: Sequence[tuple[int, list[PackOffer]]]) -> int:
    """The least cost that scipy finds for several needs, each from its own offers, in one problem."""
    offers = [one for _, own in cases for one in own]
    prices = np.array([one.price for one in offers], float)
    limits = Bounds(0, [np.inf if one.most is None else one.most for one in offers])
    units = block_diag(*([[one.units for one in own]] for _, own in cases))
    covered = LinearConstraint(units, lb=[need for need, _ in cases])
    exactly = {"mip_rel_gap": 0}
    found = milp(prices, integrality=np.ones_like(prices), bounds=limits, constraints=covered, options=exactly)
    assert found.success
    return int(prices @ np.rint(found.x))


def is_sound(plan: ItemPlan, offers: Sequence[PackOffer]) -> bool:
    """Whether it buys only what is offered, each offer once and within its limit."""
    lines = {line.offer: line.packs for line in plan.lines}
    within = all(0 < packs <= (packs if offer.most is None else offer.most) for offer, packs in lines.items())
    return within and len(lines) == len(plan.lines) and lines.keys() <= set(offers)


def test_the_solver_finds_no_other_cost() -> None:
    cases = [case(number) for number in range(CASES)]

    plans = [cheapest_packs("hay", need, offers) for need, offers in cases]

    assert all(is_sound(plan, offers) for plan, (_, offers) in zip(plans, cases, strict=True))
    covering = [number for number, plan in enumerate(plans) if not plan.uncovered]
    assert len(covering) >= COVERED
    for first in range(0, len(covering), TOGETHER):
        # no sound plan costs less than the solver's, so equal sums are equal costs
        some = covering[first : first + TOGETHER]
        assert sum(plans[number].cost for number in some) == least_by_milp([cases[number] for number in some]), some


def test_only_what_limits_forbid_is_left_uncovered() -> None:
    short = 0
    for need, offers in map(case, range(CASES)):
        plan = cheapest_packs("hay", need, offers)
        had = sum(one.units * (need if one.most is None else one.most) for one in offers)

        assert plan.uncovered == max(0, need - had)
        short += plan.uncovered > 0
    assert short > 0
