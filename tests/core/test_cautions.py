"""Cautions: what an item's name says, and which rules matter for which children."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.cautions import ALL_AGES, NO_SOURCE, OLDEST, RULES, Ages, Hazard, Sure, hazards_of_name, met

AGES = st.tuples(st.integers(0, OLDEST), st.integers(0, OLDEST)).map(lambda two: Ages(min(two), max(two)))
HAZARDS = st.frozensets(st.sampled_from(Hazard))
NAMES = st.lists(st.sampled_from("balloon glue stick bar liquid soap yo play food marble s 12".split())).map(" ".join)

SMALL_PARTS, SHARP_POINTS, CORDS, BALLOONS, MAGNETS, SMALL_BALLS, IMITATION_FOOD, LATEX, LIQUIDS = Hazard


@pytest.mark.parametrize(("low", "high"), [(9, 5), (-1, 4), (0, 100), (100, None), (100, 100)])
def test_senseless_ages_are_refused(low: int, high: int | None) -> None:
    with pytest.raises(ValueError, match="ages"):
        Ages(low, high)


@pytest.mark.parametrize(("low", "high"), [(0, 0), (0, 99), (99, None), (99, 99)])
def test_the_outermost_ages_are_taken(low: int, high: int | None) -> None:
    assert Ages(low, high).low == low


def test_ages_are_inclusive_on_both_sides() -> None:
    # A child of 5 is under 6; nobody who is 6 is.
    assert Ages(5, 9).any_under(6)
    assert not Ages(6, 9).any_under(6)
    assert not Ages(6, None).any_under(6)


def test_every_hazard_has_one_rule() -> None:
    assert list(RULES) == list(Hazard)
    assert [rule.hazard for rule in RULES.values()] == list(Hazard)


def test_rules_are_told_in_one_order() -> None:
    told = met([LIQUIDS, SMALL_BALLS, SHARP_POINTS, SMALL_BALLS], None)

    assert [rule.hazard for rule in told] == [SHARP_POINTS, SMALL_BALLS, LIQUIDS]


@pytest.mark.parametrize("hazard", [hazard for hazard in Hazard if RULES[hazard].under])
def test_a_rule_ends_with_its_age(hazard: Hazard) -> None:
    under = RULES[hazard].under

    assert under is not None
    assert met([hazard], Ages(under - 1, None)) == (RULES[hazard],)
    assert met([hazard], Ages(under, None)) == ()


@pytest.mark.parametrize("hazard", [hazard for hazard in Hazard if RULES[hazard].under is None])
def test_a_rule_without_age_always_matters(hazard: Hazard) -> None:
    assert met([hazard], Ages(OLDEST, None)) == (RULES[hazard],)


@given(HAZARDS)
def test_no_age_range_means_all_ages(hazards: frozenset[Hazard]) -> None:
    told = met(hazards, None)

    assert told == met(hazards, ALL_AGES)
    assert {rule.hazard for rule in told} == hazards


@given(HAZARDS, AGES)
def test_younger_children_never_lose_a_caution(hazards: frozenset[Hazard], ages: Ages) -> None:
    assert set(met(hazards, ages)) <= set(met(hazards, Ages(0, ages.high)))


def test_a_rule_without_source_says_so() -> None:
    assert {rule.hazard for rule in RULES.values() if rule.cite == NO_SOURCE} == {SHARP_POINTS, CORDS, LIQUIDS}
    assert all((rule.cite == NO_SOURCE) == (rule.sure is Sure.NOTHING) for rule in RULES.values())


@pytest.mark.parametrize(
    ("name", "hazards"),
    [
        ("balloon", {BALLOONS, LATEX}),
        ("water balloon", {BALLOONS, LATEX}),
        ("foil balloon", {BALLOONS}),
        ("latex-free balloon", {BALLOONS}),
        ("latex glove", {LATEX}),
        ("marble", {SMALL_BALLS}),
        ("bouncy ball", {SMALL_BALLS}),
        ("small ball", {SMALL_BALLS}),
        ("fridge magnet", {MAGNETS}),
        ("magnetic bookmark", {MAGNETS}),
        ("scissors", {SHARP_POINTS}),
        ("pencil sharpener", {SHARP_POINTS}),
        ("safety pin", {SHARP_POINTS}),
        ("sewing needle", {SHARP_POINTS}),
        ("yo-yo", {CORDS}),
        ("yoyo", {CORDS}),
        ("jump rope", {CORDS}),
        ("drawstring bag", {CORDS}),
        ("bead necklace", {SMALL_PARTS, CORDS}),
        ("button", {SMALL_PARTS}),
        ("dice", {SMALL_PARTS}),
        ("slime", {LIQUIDS}),
        ("shampoo", {LIQUIDS}),
        ("liquid soap", {LIQUIDS}),
        ("bubbles", {LIQUIDS}),
        ("paint set", {LIQUIDS}),
        ("play food", {IMITATION_FOOD}),
        ("fruit-shaped eraser", {IMITATION_FOOD, SMALL_PARTS}),
    ],
)
def test_a_name_says_its_hazards(name: str, hazards: set[Hazard]) -> None:
    assert hazards_of_name(name) == hazards


@pytest.mark.parametrize(
    "name",
    [
        "pencil",
        "crayon",
        "toy car",
        "comb",
        "bar soap",
        "glue stick",
        "shampoo bar",
        "paint brush",
        "paintbrush",
        "bubble wrap",
        "marble notebook",
        "latex-free glove",
        "clothes pin",
        "balloon pump",
        "spinning top",  # "pin" is only a part of the word
        "corduroy pouch",
        "football",
        "toy",
        "food bag",
        "12",
        "",
    ],
)
def test_a_name_without_hazards_is_silent(name: str) -> None:
    assert hazards_of_name(name) == frozenset()


@pytest.mark.parametrize(
    ("one", "several"),
    [
        ("balloon", "Balloons"),
        ("bouncy ball", "bouncy  balls"),
        ("yo-yo", "YO-YOS"),
        ("toy fruit", "toy fruits"),
        ("glue stick", "glue sticks"),
        ("paint brush", "paint brushes"),
        ("scissor", "scissors"),
        ("necklace", "necklaces"),
    ],
)
def test_singular_and_plural_say_the_same(one: str, several: str) -> None:
    assert hazards_of_name(one) == hazards_of_name(several)


def test_a_longer_phrase_hides_a_shorter() -> None:
    assert hazards_of_name("glue stick") == frozenset()
    assert hazards_of_name("glue and glue stick") == {LIQUIDS}


@given(st.text())
def test_any_name_can_be_asked(name: str) -> None:
    assert hazards_of_name(name) <= frozenset(Hazard)


@given(NAMES, NAMES)
def test_names_side_by_side_add_up(one: str, other: str) -> None:
    assert hazards_of_name(f"{one} crayon {other}") == hazards_of_name(one) | hazards_of_name(other)
