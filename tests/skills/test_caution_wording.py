"""Cautions as they are said: a line each, with citation and limits, and no ruling."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from bot.wording.cautions import DEFER, caution_lines
from core.cautions import RULES, Ages, Hazard, Rule, hazards_of_name, met

FOR_A_PHONE = 280
RULINGS = ("is safe", "are safe", "is forbidden", "not allowed", "must not", "illegal", "unsafe", "dangerous")


def found(names: Sequence[str], ages: Ages | None) -> list[tuple[str, Rule]]:
    return [(name, rule) for name in names for rule in met(hazards_of_name(name), ages)]


def test_nothing_found_says_nothing() -> None:
    assert caution_lines([]) == []
    assert caution_lines(found(["bar soap", "comb"], None)) == []


def test_a_line_says_look_cite_and_limits() -> None:
    assert caution_lines(found(["magnet"], Ages(8, 12))) == [
        "Magnets: look at the magnet. Small loose or separable ones must be weak: flux index below 50 kG² mm² "
        "(16 CFR 1262.3). Not covered: toys, which follow ASTM F963 under 16 CFR 1250."
    ]


def test_figures_not_read_are_marked() -> None:
    (small_balls,) = caution_lines(found(["marble"], Ages(2, 4)))

    assert "(16 CFR 1500.19, 60 FR 10742; partly from memory)" in small_balls


def test_what_has_no_source_says_so() -> None:
    (line,) = caution_lines(found(["shampoo", "bar soap"], Ages(10, 14)))

    assert line.startswith("Liquids: look at the shampoo. ")
    assert "(common practice, no source)" in line


def test_one_line_names_all_items() -> None:
    (line,) = caution_lines(found(["marble", "bouncy ball", "small ball", "marble"], Ages(3, 7)))

    assert line.startswith("Small balls: look at the marble, bouncy ball and small ball. ")


def test_lines_come_in_one_order() -> None:
    lines = caution_lines(found(["balloon", "yo-yo", "bead", "sharpener"], None))

    assert [line.split(":")[0] for line in lines] == ["Small parts", "Sharp points", "Cords", "Balloons", "Latex"]


def test_older_children_hear_less() -> None:
    assert caution_lines(found(["marble", "bead"], Ages(8, 12))) == []


@pytest.mark.parametrize("hazard", Hazard)
def test_a_line_fits_a_phone(hazard: Hazard) -> None:
    (line,) = caution_lines([("novelty eraser", RULES[hazard])])

    assert len(line) <= FOR_A_PHONE
    assert "\n" not in line


@pytest.mark.parametrize("hazard", Hazard)
def test_a_line_is_no_ruling(hazard: Hazard) -> None:
    (line,) = caution_lines([("thing", RULES[hazard])])

    assert "look at the thing" in line
    assert [ruling for ruling in RULINGS if ruling in line.lower()] == []


@pytest.mark.parametrize("hazard", Hazard)
def test_a_line_is_closed_sentences(hazard: Hazard) -> None:
    rule = RULES[hazard]
    (line,) = caution_lines([("thing", rule)])

    assert line.endswith(f"Not covered: {rule.beyond}.")
    assert ".." not in line


def test_the_last_word_is_others() -> None:
    assert "charity's own list" in DEFER
    assert "local rules" in DEFER
    assert DEFER.count(".") == 1
