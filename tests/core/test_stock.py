"""Stock: who gives what, and what units cost, first in, first out."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from core.stock import Cost, Lot, Pick, drawn, picked_for, taken_from

OLD, NEW = Lot(10, Fraction(100)), Lot(35, Fraction(385))


def test_the_first_member_gives_before_others() -> None:
    assert taken_from({"Ines": 40, "Mei": 10, "Tobias": 25}, "Mei", 30) == {"Mei": 10, "Ines": 20}


def test_all_give_what_they_have_where_too_few_are_there() -> None:
    assert taken_from({"Ines": 4, "Mei": 10}, "Tobias", 30) == {"Mei": 10, "Ines": 4}


def test_nobody_gives_of_less_than_nothing() -> None:
    assert taken_from({"Ines": -4, "Mei": 3}, "Ines", 5) == {"Mei": 3}


def test_kits_are_picked_from_the_packer_first() -> None:
    # Two kits of 3 pencils and 1 pen take 6 and 2: Mei has 4 pencils, Ines 1; of the pens Ines has enough.
    held = {"pencil": {"Mei": 4, "Ines": 1}, "pen": {"Ines": 9}}

    picks, missing = picked_for({"pencil": 3, "pen": 1}, 2, held, "Mei")

    assert picks == [Pick("pencil", "Mei", 4), Pick("pencil", "Ines", 1), Pick("pen", "Ines", 2)]
    assert missing == {"pencil": 1}


def test_the_oldest_units_are_drawn_first() -> None:
    # 10 for 100, then 10 of the 35 for 385, which are 11 each: 100 + 110.
    costs, left = drawn([OLD, NEW], [20])

    assert costs == [Cost(Fraction(210), 20)]
    assert left == [Lot(25, Fraction(275))]


def test_drawing_in_two_goes_comes_to_the_same() -> None:
    [once], left = drawn([OLD, NEW], [20])
    twice, left_too = drawn([OLD, NEW], [7, 13])

    assert sum(twice, Cost()) == once
    assert left_too == left


def test_units_of_unknown_cost_are_told_apart() -> None:
    # 4 of unknown cost, then 2 of 10 for 100.
    costs, _ = drawn([Lot(4, None), OLD], [6])

    assert costs == [Cost(Fraction(20), 6, 4)]


def test_given_units_cost_nothing_known() -> None:
    assert drawn([Lot(5, Fraction(0))], [5])[0] == [Cost(Fraction(0), 5)]


def test_what_is_drawn_beyond_the_lots_is_of_unknown_cost() -> None:
    assert drawn([OLD], [12])[0] == [Cost(Fraction(100), 12, 2)]


LOTS = st.lists(st.builds(Lot, st.integers(1, 99), st.none() | st.fractions(0, 1000, max_denominator=99)), max_size=6)


@given(LOTS, st.lists(st.integers(0, 60), max_size=6))
def test_no_cost_and_no_unit_is_lost(lots: list[Lot], draws: list[int]) -> None:
    costs, left = drawn(lots, draws)

    held = sum(lot.units for lot in lots)
    assert [cost.units for cost in costs] == draws
    assert sum(lot.units for lot in left) == max(0, held - sum(draws))
    paid = sum((lot.cost for lot in lots if lot.cost is not None), Fraction(0))
    known = sum((lot.cost for lot in left if lot.cost is not None), Fraction(0))
    assert sum((cost.amount for cost in costs), known) == paid
