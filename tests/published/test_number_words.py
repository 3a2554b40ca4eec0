"""Numbers and count words against dictionaries, a published specification, and two libraries' round trips."""

from __future__ import annotations

from decimal import Decimal

import pytest
from num2words import num2words  # type: ignore[import-untyped]
from text_to_num import text2num  # type: ignore[import-untyped]

from tests.published.listening import Row, cases, choices, prices, table

TABLE = table("number_words.toml")
ROUND_TRIP = [*range(1, 130), *range(130, 20_001, 61), 20_000]
"""Every number that has words of its own, then every sixty-first: its steps meet all endings."""
SIX = Decimal("6.00")


def message(said: str) -> str:
    return f"{said} pencils 6.00"


@pytest.mark.parametrize("row", cases(TABLE["read"]))
def test_a_count_is_read_as_published(row: Row) -> None:
    assert prices(message(row["said"])) == [(row["count"], SIX)]


@pytest.mark.parametrize("row", cases(TABLE["asked"]))
def test_a_count_of_two_values_is_asked(row: Row) -> None:
    asked = choices(message(row["said"]))

    assert asked is not None
    assert asked == row.get("options", asked)


@pytest.mark.parametrize("row", cases(TABLE["left_out"]))
def test_a_count_left_out_is_no_other(row: Row) -> None:
    assert [count for count, _ in prices(message(row["said"])) if count != row["count"]] == []


@pytest.mark.parametrize("row", cases(TABLE["differs"]))
def test_a_count_differs_on_purpose(row: Row) -> None:
    assert prices(message(row["said"])) == [(row["ours"], SIX)]


def test_numbers_in_words_come_back() -> None:
    written = {number: num2words(number).replace(",", "") for number in ROUND_TRIP}

    came_back = {number: prices(message(words)) for number, words in written.items()}

    assert {number: text2num(words, "en") for number, words in written.items()} == {
        number: number for number in ROUND_TRIP
    }
    assert {number: read for number, read in came_back.items() if read != [(number, SIX)]} == {}


def test_hyphens_and_and_may_be_missing() -> None:
    bare = {number: num2words(number).replace(",", "") for number in ROUND_TRIP[::3]}
    bare = {number: words.replace("-", " ").replace(" and ", " ") for number, words in bare.items()}

    came_back = {number: prices(message(words)) for number, words in bare.items()}

    assert {number: read for number, read in came_back.items() if read != [(number, SIX)]} == {}


def test_a_comma_after_thousand_loses_nothing() -> None:
    """num2words writes "one thousand, one hundred"."""
    assert prices(message(num2words(1100))) in ([], [(1100, SIX)])
