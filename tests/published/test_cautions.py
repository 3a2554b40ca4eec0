"""Age limits, figures and citations of the cautions against the published rules they point at."""

from __future__ import annotations

import re

import pytest

from core.cautions import NO_SOURCE, RULES, Ages, Hazard, Sure, hazards_of_name, met
from tests.published.listening import Row, cases, table

TABLE = table("cautions.toml")
SOURCES = {row["name"]: row for row in TABLE["source"]}
FIGURE = re.compile(r"\d+(?:[./]\d+)?")
WEAKEST_LAST = {"R": Sure.READ, "R2": Sure.SECOND_HAND, "M": Sure.MEMORY}


def text_behind(row: Row) -> str:
    return "\n".join(SOURCES[name]["text"] for name in row["sources"])


def test_every_hazard_is_in_the_table() -> None:
    assert [row["hazard"] for row in TABLE["rule"]] == list(Hazard)
    assert {name for row in TABLE["rule"] for name in row["sources"]} == set(SOURCES)


@pytest.mark.parametrize("row", cases(TABLE["rule"], "hazard"))
def test_a_rule_has_its_published_age(row: Row) -> None:
    assert RULES[Hazard(row["hazard"])].under == row.get("under")
    assert "under" not in row or f"under {row['under']}" in text_behind(row)


@pytest.mark.parametrize("row", cases([row for row in TABLE["source"] if "under" in row], "name"))
def test_each_source_gives_its_age(row: Row) -> None:
    resting = [Hazard(rule["hazard"]) for rule in TABLE["rule"] if row["name"] in rule["sources"]]

    assert f"under {row['under']}" in row["text"].replace("under-", "under ")
    assert resting
    assert [hazard for hazard in resting if f"under {row['under']}" not in RULES[hazard].says] == []


@pytest.mark.parametrize("row", cases(TABLE["rule"], "hazard"))
def test_a_rule_shows_only_published_figures(row: Row) -> None:
    rule = RULES[Hazard(row["hazard"])]
    shown = FIGURE.findall(f"{rule.says} {rule.beyond}")

    assert shown == row["figures"]
    assert [figure for figure in shown if figure not in FIGURE.findall(text_behind(row))] == []


@pytest.mark.parametrize("row", cases([row for row in TABLE["rule"] if row["cite"]], "hazard"))
def test_a_citation_is_the_published_one(row: Row) -> None:
    rule = RULES[Hazard(row["hazard"])]

    assert ", ".join(row["cite"]).replace("CFR, ", "CFR ") == rule.cite
    assert [part for part in row["cite"] if part not in text_behind(row)] == []


@pytest.mark.parametrize("row", cases([row for row in TABLE["rule"] if not row["cite"]], "hazard"))
def test_no_citation_is_made_up(row: Row) -> None:
    assert RULES[Hazard(row["hazard"])].cite == ("no rule named" if row["sources"] else NO_SOURCE)


@pytest.mark.parametrize("row", cases(TABLE["rule"], "hazard"))
def test_the_weakest_source_says_how_sure(row: Row) -> None:
    marks = {SOURCES[name]["mark"] for name in row["sources"]}
    weakest = [sure for mark, sure in WEAKEST_LAST.items() if mark in marks] or [Sure.NOTHING]

    assert RULES[Hazard(row["hazard"])].sure is weakest[-1]


@pytest.mark.parametrize(
    ("hazard", "banned_under", "labelled_under"), [(Hazard.SMALL_PARTS, 3, 6), (Hazard.SMALL_BALLS, 3, 8)]
)
def test_ban_and_label_both_bring_the_caution(hazard: Hazard, banned_under: int, labelled_under: int) -> None:
    """Banned for under 3; labelled from 3 to under 6 (small parts) or under 8 (small balls)."""
    matters = [years for years in range(15) if met([hazard], Ages(years, years))]

    assert matters == [*range(banned_under), *range(banned_under, labelled_under)]
    assert f"under {banned_under}" in RULES[hazard].says
    assert f"{banned_under} to under {labelled_under}" in RULES[hazard].says


@pytest.mark.parametrize("thing", "crayons chalk pencils pens toothbrushes barrettes clothing".split())
def test_things_left_out_of_the_ban_are_named(thing: str) -> None:
    assert thing in SOURCES["left out of the small-parts ban"]["text"]
    assert thing in RULES[Hazard.SMALL_PARTS].beyond
    assert hazards_of_name(thing) == frozenset()


def test_leaving_out_is_no_all_clear() -> None:
    assert "no ban is no all-clear for a baby" in RULES[Hazard.SMALL_PARTS].beyond
    assert "leaves balloons out" in RULES[Hazard.BALLOONS].beyond


def test_the_repealed_ban_is_not_cited() -> None:
    """Directive 87/357/EEC ended on 13 Dec 2024; food likeness is now part of a risk assessment."""
    rule = RULES[Hazard.IMITATION_FOOD]

    assert "87/357" not in rule.cite
    assert "ban of 87/357/EEC ended 13 Dec 2024" in rule.says
    assert "2023/988" in rule.cite
