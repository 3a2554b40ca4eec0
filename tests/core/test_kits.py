"""Kits: seasons, what is still needed, what the stock completes, and the price of a kit's lines."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.group import Kit
from core.kits import KitLine, Season, heaviest, needs_of, rounded_up, season

POUCH = Kit("school pouch", 10, date(2026, 11, 14), {"pencil": 3, "pen": 1})
BAG = Kit("wash bag", 5, date(2026, 11, 7), {"comb": 1, "pen": 2})


@pytest.mark.parametrize(
    ("today", "starts", "ends"),
    [
        (date(2026, 8, 3), date(2025, 11, 15), date(2026, 11, 14)),
        (date(2026, 11, 14), date(2025, 11, 15), date(2026, 11, 14)),
        (date(2026, 11, 15), date(2026, 11, 15), date(2027, 11, 14)),
        (date(2028, 2, 1), date(2027, 11, 15), date(2028, 11, 14)),
    ],
)
def test_a_season_ends_on_each_collection_day(today: date, starts: date, ends: date) -> None:
    found = season(date(2026, 11, 14), today)

    assert (found.start, found.end, found.rolled) == (starts, ends, ends.year > 2026)


def test_a_season_that_ends_on_a_leap_day_goes_on() -> None:
    assert season(date(2024, 2, 29), date(2025, 6, 1)) == Season(date(2025, 3, 1), date(2026, 2, 28), rolled=True)


def test_a_collection_years_ahead_is_left_there() -> None:
    assert season(date(2028, 11, 14), date(2026, 8, 3)).end == date(2028, 11, 14)


def test_what_is_short_is_what_the_rest_of_the_goal_takes() -> None:
    # 6 of 10 to pack: 18 pencils and 6 pens; 11 pencils complete 3 and leave 7 short.
    needs = needs_of([POUCH], {"school pouch": 4}, {"pencil": 11, "pen": 50})

    [pouch] = needs.kits
    assert (pouch.remaining, pouch.completes, pouch.held_back_by) == (6, 3, ("pencil",))
    assert needs.short == {"pencil": 7}


def test_the_kit_due_first_takes_from_the_stock_first() -> None:
    # Five wash bags take 10 of 12 pens; ten pouches want 10 and find 2.
    needs = needs_of([POUCH, BAG], {}, {"pen": 12, "comb": 5, "pencil": 30})

    assert [(need.kit.name, need.completes) for need in needs.kits] == [("wash bag", 5), ("school pouch", 2)]
    assert needs.short == {"pen": 8}


def test_more_packed_than_the_goal_needs_nothing() -> None:
    needs = needs_of([POUCH], {"school pouch": 12}, {})

    assert (needs.kits[0].remaining, needs.short) == (0, {})


def test_a_stock_below_nothing_counts_as_none() -> None:
    assert needs_of([POUCH], {}, {"pencil": -4, "pen": 10}).short == {"pencil": 30}


def test_a_kit_without_goal_or_contents_needs_nothing() -> None:
    needs = needs_of([Kit("new"), Kit("other", None, None, {"pen": 1})], {}, {})

    assert [(need.completes, need.held_back_by) for need in needs.kits] == [(0, ()), (0, ())]
    assert needs.short == {}


@given(
    st.dictionaries(st.sampled_from("abcd"), st.integers(1, 9), max_size=4),
    st.integers(0, 30),
    st.integers(0, 40),
    st.dictionaries(st.sampled_from("abcd"), st.integers(0, 200), max_size=4),
)
def test_stock_and_short_cover_the_goal_exactly(
    contents: dict[str, int], goal: int, packed: int, stock: dict[str, int]
) -> None:
    [need] = needs_of([Kit("kit", goal, None, contents)], {"kit": packed}, stock).kits

    bought = {item: stock.get(item, 0) + need.short.get(item, 0) for item in contents}
    assert all(bought[item] >= need.remaining * count for item, count in contents.items())
    assert all(bought[item] == need.remaining * contents[item] for item in need.short)
    assert all(need.completes * count <= stock.get(item, 0) for item, count in contents.items())


def test_a_line_is_rounded_up_unit_by_unit() -> None:
    # 4 at 4.5 cents: exactly 18, in heads 4 x 5 = 20.
    assert rounded_up(KitLine("pencil", 4, Fraction(18))) == 20


def test_the_heaviest_line_is_the_dearest() -> None:
    lines = [KitLine("pencil", 4, Fraction(20)), KitLine("notebook", 1, None, Fraction(60)), KitLine("pen", 2)]

    dearest = heaviest(lines)

    assert dearest is not None
    assert dearest.item == "notebook"
    assert heaviest([KitLine("pen", 2)]) is None
