"""Rules for days of the year: what words say, how a rule is written, and the day it gives."""

from __future__ import annotations

from calendar import monthrange
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.day_rules import (
    FEASTS,
    PHRASES,
    DayRule,
    Fixed,
    FromEaster,
    NthWeekday,
    Statutory,
    feast_called,
    month_called,
    next_on,
    observed,
    rule_of,
    statutory,
    written,
)

LEAP_YEAR = 2000
FIXED = st.dates(date(LEAP_YEAR, 1, 1), date(LEAP_YEAR, 12, 31)).map(lambda day: Fixed(day.month, day.day))
WEEKDAYS = st.builds(NthWeekday, st.sampled_from([1, 2, 3, 4, -1]), st.integers(0, 6), st.integers(1, 12))
RULES = st.builds(DayRule, FIXED | WEEKDAYS | st.sampled_from(FEASTS), st.integers(-300, 300))
SHIFTS = st.sampled_from(["day after", "the 3 days before", "two weeks after", "A week before", "days", "5 after"])
BASES = st.sampled_from(
    ["xmas", "1st of feb.", "Nov 29th", "the 2nd fri in may", "last sundays of june", "soon", "may"]
)
COUNTRIES = st.sampled_from(["US", "CA", "GB", "AU", "XX"])


def day_of(words: str, year: int, country: str = "US") -> date | None:
    rule = rule_of(words)
    assert rule is not None
    return rule.in_year(year, country)


@given(RULES)
def test_a_written_rule_reads_as_itself(rule: DayRule) -> None:
    assert rule_of(written(rule)) == rule


@given(RULES, st.text(" ", max_size=2))
def test_case_and_blanks_do_not_matter(rule: DayRule, blanks: str) -> None:
    said = written(rule).upper().replace(" ", f" {blanks}")

    assert rule_of(f"{blanks}{said}{blanks}") == rule


@pytest.mark.parametrize("bare", [FromEaster(3), Statutory("Memorial Day")])
def test_a_nameless_feast_cannot_be_written(bare: FromEaster | Statutory) -> None:
    with pytest.raises(ValueError, match="name of its feast"):
        written(DayRule(bare))


@pytest.mark.parametrize("words", [words for feast in FEASTS for words in feast.words])
def test_a_feast_is_known_by_its_words(words: str) -> None:
    feast = feast_called(words.title())

    assert feast is not None
    assert PHRASES[tuple(words.split())] == feast
    assert rule_of(words) in (DayRule(feast), DayRule(Fixed(7, 4)))  # "july 4" is a date as well


def test_longer_phrases_come_before_shorter() -> None:
    lengths = [len(phrase) for phrase in PHRASES]

    assert lengths == sorted(lengths, reverse=True)
    assert len(lengths) == sum(len(feast.words) for feast in FEASTS)


@pytest.mark.parametrize("words", ["New Year’s Eve", "new year's eve", "NEW YEARS EVE", "  new   years eve "])
def test_apostrophes_do_not_matter(words: str) -> None:
    assert day_of(words, 2026) == date(2026, 12, 31)


@pytest.mark.parametrize(
    ("words", "day"),
    [
        ("first saturday of october", date(2026, 10, 3)),
        ("the 3rd Tues in Feb", date(2026, 2, 17)),
        ("last fridays of may", date(2026, 5, 29)),
        ("nov 1", date(2026, 11, 1)),
        ("Sept. 14th", date(2026, 9, 14)),
        ("the 1st of november", date(2026, 11, 1)),
        ("14 sept", date(2026, 9, 14)),
        ("day after easter", date(2026, 4, 6)),
        ("a week before christmas", date(2026, 12, 18)),
        ("two weeks after the last monday of may", date(2026, 6, 8)),
        ("1 day before 3 days after nov 1", date(2026, 11, 3)),
        ("7 days after christmas", date(2027, 1, 1)),
        ("3 days before new year's day", date(2025, 12, 29)),
    ],
)
def test_words_say_a_day_of_2026(words: str, day: date) -> None:
    assert day_of(words, 2026) == day


@pytest.mark.parametrize(
    "words",
    [
        *("", "soon", "the", "5", "may", "saturday", "first saturday", "fifth saturday of may", "first day of may"),
        *(
            "nov 0",
            "nov 31",
            "feb 30",
            "june 31",
            "ma 5",
            "ju 5",
            "novembers 5",
            "0 november",
            "nov 1 2026",
            "2026-11-01",
        ),
        *("day after", "after easter", "-1 days after easter", "1000 days after easter", "many days after easter"),
        *("first saturday of easter", "day after soon", "first s of may", "easter easter", "christmas in july"),
    ],
)
def test_odd_words_say_no_day(words: str) -> None:
    assert rule_of(words) is None


@given(st.lists(SHIFTS, max_size=3), BASES | st.text(max_size=20))
def test_whatever_is_read_can_be_written(shifts: list[str], base: str) -> None:
    rule = rule_of(" ".join([*shifts, base]))

    assert rule is None or rule_of(written(rule)) == rule


def test_the_leap_day_is_the_28th_in_other_years() -> None:
    assert [day_of("feb 29", year) for year in (2027, 2028)] == [date(2027, 2, 28), date(2028, 2, 29)]
    assert [day_of("day after feb 28", year) for year in (2027, 2028)] == [date(2027, 3, 1), date(2028, 2, 29)]


@given(WEEKDAYS, st.integers(1900, 2200))
def test_an_nth_weekday_is_the_nth(rule: NthWeekday, year: int) -> None:
    last = monthrange(year, rule.month)[1]
    days = [day for day in range(1, last + 1) if date(year, rule.month, day).weekday() == rule.weekday]

    picked = days[rule.nth if rule.nth < 0 else rule.nth - 1]
    assert DayRule(rule).in_year(year, "US") == date(year, rule.month, picked)


@pytest.mark.parametrize(
    ("words", "days"),
    [
        ("mother's day", {"US": date(2026, 5, 10), "GB": date(2026, 3, 15), "XX": date(2026, 5, 10)}),
        ("father's day", {"US": date(2026, 6, 21), "AU": date(2026, 9, 6)}),
        ("thanksgiving", {"US": date(2026, 11, 26), "CA": date(2026, 10, 12), "GB": None, "XX": None}),
        ("labour day", {"US": date(2026, 9, 7), "CA": date(2026, 9, 7), "NZ": date(2026, 10, 26), "GB": None}),
        ("independence day", {"US": date(2026, 7, 4), "IN": date(2026, 8, 15), "GB": None}),
        ("day after canada day", {"CA": date(2026, 7, 2), "US": None}),
    ],
)
def test_a_feast_has_its_day_by_country(words: str, days: dict[str, date | None]) -> None:
    assert {country: day_of(words, 2026, country) for country in days} == days


def test_a_country_without_holidays_has_none() -> None:
    assert statutory("XX", 2026) == ()


def test_only_a_statutory_holiday_is_moved() -> None:
    halloween, independence = feast_called("halloween"), feast_called("july 4th")
    assert halloween is not None
    assert independence is not None

    # 31 October and 4 July of 2026 are Saturdays; 4 July of 2028 is a Tuesday.
    assert observed(halloween, 2026, "US") == date(2026, 10, 31)
    assert [observed(independence, year, "US") for year in (2026, 2028)] == [date(2026, 7, 3), date(2028, 7, 4)]
    assert observed(independence, 2026, "GB") is None


@given(RULES, COUNTRIES, st.dates(date(2022, 1, 1), date(2050, 1, 1)))
def test_the_next_day_is_the_first_to_come(rule: DayRule, country: str, day: date) -> None:
    coming = {rule.in_year(day.year + years, country) for years in range(-4, 5)}

    found = next_on(rule, country, day)

    assert found == min((one for one in coming if one and one >= day), default=None)
    assert found is None or found - day < timedelta(days=2 * 366)


@pytest.mark.parametrize(("word", "month"), [("september", 9), ("sept", 9), ("aug", 8), ("ma", None), ("sale", None)])
def test_month_is_called_by_its_name_or_beginning(word: str, month: int | None) -> None:
    assert month_called(word) == month
