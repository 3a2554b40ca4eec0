"""Easter and the holidays of the United States against printed tables and rules that are worked out here anew."""

from __future__ import annotations

from calendar import monthcalendar
from collections.abc import Sequence
from datetime import date, timedelta

import pytest

from core.day_rules import feast_called, observed, rule_of, statutory
from tests.published.listening import Row, cases, table

TABLE = table("calendar_days.toml")
PRAYER_BOOK = TABLE["prayer_book"]
MOONS = {golden: (month, day) for golden, month, day in PRAYER_BOOK["moons"]}
LATER = range(2022, 2061)
"""Years in which all eleven holidays of the statute are kept; Juneteenth came with 2021."""


def day_of(words: str, year: int) -> date:
    """The day that words say, in the United States."""
    rule = rule_of(words)
    day = rule.in_year(year, "US") if rule else None
    assert day is not None, words
    return day


def easters(years: Sequence[int]) -> list[date]:
    return [day_of("easter", year) for year in years]


@pytest.mark.parametrize("row", cases(TABLE["easter"], "source"))
def test_easter_falls_on_the_printed_days(row: Row) -> None:
    assert easters([day.year for day in row["days"]]) == row["days"]


def test_easter_agrees_with_the_integer_sequence() -> None:
    row = TABLE["days_of_march"]
    years = range(row["first"], row["first"] + len(row["days"]))

    days_of_march = [(day - date(day.year, 3, 1)).days + 1 for day in easters(years)]

    assert years[-1] == 2066
    assert days_of_march == row["days"]


def by_letter(year: int, golden: int, letter: str) -> date:
    """The first day of a Sunday letter after the full moon of a golden number; 21 March carries C."""
    full_moon = date(year, *MOONS[golden])
    week = (full_moon + timedelta(days=ahead) for ahead in range(1, 8))
    return next(day for day in week if "CDEFGAB"[(day - date(year, 3, 21)).days % 7] == letter)


@pytest.mark.parametrize("row", PRAYER_BOOK["example"])
def test_the_prayer_book_has_its_printed_examples(row: Row) -> None:
    assert f"{by_letter(2026, row['golden'], row['letter']):%m-%d}" == row["easter"]


def test_easter_agrees_with_the_prayer_book() -> None:
    letters = {
        year: PRAYER_BOOK["letters"][(year + year // 4 + (6 if year < 2100 else 5)) % 7] for year in range(1900, 2200)
    }

    by_book = [by_letter(year, (year + 1) % 19 or 19, letter) for year, letter in letters.items()]

    assert easters(range(1900, 2200)) == by_book


def butcher(year: int) -> tuple[list[int], date]:
    """The steps of Butcher's rule, and its Easter."""
    a, (b, c) = year % 19, divmod(year, 100)
    d, e = divmod(b, 4)
    f = (b + 8) // 25
    g = (b - f + 1) // 3
    h = (19 * a + b - d - g + 15) % 30
    i, k = divmod(c, 4)
    ell = (32 + 2 * e + 2 * i - h - k) % 7
    m = (a + 11 * h + 22 * ell) // 451
    month, day = divmod(h + ell - 7 * m + 114, 31)
    return [a, b, c, d, e, f, g, h, i, k, ell, m], date(year, month, day + 1)


@pytest.mark.parametrize("row", cases(TABLE["butcher"], "easter"))
def test_butchers_rule_has_its_worked_steps(row: Row) -> None:
    year = row["easter"].year

    assert butcher(year) == (row["steps"], row["easter"])
    assert easters([year]) == [row["easter"]]


def test_easter_agrees_with_butchers_rule() -> None:
    years = range(1583, 4100)

    assert easters(years) == [butcher(year)[1] for year in years]


def by_statute(row: Row, year: int) -> date:
    """The day that a line of the statute gives: of a month, or which weekday of it."""
    if "day" in row:
        return date(year, row["month"], row["day"])
    days = [week[row["weekday"]] for week in monthcalendar(year, row["month"]) if week[row["weekday"]]]
    return date(year, row["month"], days[row["which"] - (row["which"] > 0)])


@pytest.mark.parametrize("row", cases(TABLE["statute"], "words"))
def test_a_holiday_follows_the_statute(row: Row) -> None:
    assert [day_of(row["words"], year) for year in LATER] == [by_statute(row, year) for year in LATER]


@pytest.mark.parametrize("year", range(2026, 2041))
def test_no_holiday_is_beside_the_statute(year: int) -> None:
    listed = {day for day, name in statutory("US", year) if not name.endswith(" (observed)")}

    # Of the years before 2026 some have a day off that was proclaimed once.
    assert listed == {by_statute(row, year) for row in TABLE["statute"]}


@pytest.mark.parametrize("row", cases(TABLE["printed"], "said"))
def test_words_give_the_printed_days(row: Row) -> None:
    assert [day_of(row["said"], day.year) for day in row["days"]] == row["days"]


def test_thanksgiving_is_not_the_last_thursday() -> None:
    row = TABLE["traps"]

    trapped = [year for year in row["of"] if day_of("thanksgiving", year) != day_of("last thursday of november", year)]

    assert trapped == row["years"]
    assert [day_of("fourth thursday of november", year) for year in trapped] == [
        day_of("thanksgiving", year) for year in trapped
    ]


@pytest.mark.parametrize("row", cases(TABLE["observed"], "day"))
def test_a_holiday_on_a_weekend_is_moved(row: Row) -> None:
    feast, day = feast_called(row["name"]), row["day"]

    assert feast is not None
    assert feast.in_year(day.year, "US") == day
    assert observed(feast, day.year, "US") == row["kept"]


@pytest.mark.parametrize("name", ["Juneteenth", "Independence Day", "Veterans Day"])
def test_holidays_are_kept_on_working_days(name: str) -> None:
    feast = feast_called(name)
    assert feast is not None

    # Saturday moves a day back, Sunday a day on.
    moved = {5: -1, 6: 1}
    for year in LATER:
        day = day_of(name, year)
        assert observed(feast, year, "US") == day + timedelta(days=moved.get(day.weekday(), 0))
