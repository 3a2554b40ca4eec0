"""The pace of the packing: how many kits would be done by a day, and the season that it is reckoned from."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from core.group import Settings
from core.kits import Season, season
from core.money import currency
from core.pace import expected_by, season_of

SETTINGS = Settings(currency("USD"))
YEAR = Season(date(2025, 11, 15), date(2026, 11, 14))
SPRING = replace(SETTINGS, season_starts=(3, 1))
LEAP = replace(SETTINGS, season_starts=(2, 29))

DAYS = st.dates(date(2024, 1, 1), date(2033, 12, 31))
SEASONS = st.builds(season, DAYS, DAYS)
STARTS = st.dates(date(2028, 1, 1), date(2028, 12, 31)).map(lambda day: (day.month, day.day))
GOALS = st.integers(1, 5_000)
STEPS = st.integers(0, 400)


@pytest.mark.parametrize(
    ("day", "expected"),
    [
        # of 365 days: 120 x 1 / 365 = 0.3, x 4 = 1.3, x 268 = 88.1, x 364 = 119.7
        (date(2025, 11, 14), None),
        (date(2025, 11, 15), 0),
        (date(2025, 11, 18), 1),
        (date(2026, 8, 9), 88),
        (date(2026, 11, 13), 119),
        (date(2026, 11, 14), 120),
        (date(2026, 12, 24), 120),
    ],
)
def test_an_even_pace_through_the_year(day: date, expected: int | None) -> None:
    assert expected_by(120, YEAR, day) == expected


def test_a_leap_year_has_a_day_more() -> None:
    leap = Season(date(2027, 11, 15), date(2028, 11, 14))

    # February 29 is the 107th of 366 days: 366 x 107 / 366 = 107
    assert expected_by(366, leap, date(2028, 2, 29)) == 107
    assert expected_by(366, leap, leap.end) == 366


def test_a_season_of_one_day_is_whole() -> None:
    assert expected_by(80, Season(YEAR.end, YEAR.end), YEAR.end) == 80


def test_without_a_start_the_season_is_whole() -> None:
    assert season_of(YEAR, SETTINGS) == YEAR


@pytest.mark.parametrize(
    ("starts", "first"),
    [
        ((3, 1), date(2026, 3, 1)),
        ((11, 15), date(2025, 11, 15)),
        ((12, 31), date(2025, 12, 31)),
        ((1, 1), date(2026, 1, 1)),
        ((11, 14), date(2026, 11, 14)),
        ((2, 29), date(2026, 2, 28)),
    ],
)
def test_a_start_said_cuts_the_season(starts: tuple[int, int], first: date) -> None:
    found = season_of(YEAR, replace(SETTINGS, season_starts=starts))

    assert (found.start, found.end) == (first, YEAR.end)


def test_before_its_start_nothing_is_expected() -> None:
    spring = season_of(YEAR, SPRING)

    # March 1 to November 14 are 259 days: 259 x 1 / 259 = 1 on the first
    assert expected_by(259, spring, date(2026, 2, 28)) is None
    assert expected_by(259, spring, date(2026, 3, 1)) == 1


def test_a_start_on_the_leap_day() -> None:
    leap = Season(date(2027, 11, 15), date(2028, 11, 14))

    assert season_of(leap, LEAP).start == date(2028, 2, 29)


@given(GOALS, SEASONS, DAYS)
def test_the_pace_is_rounded_down(goal: int, whole: Season, day: date) -> None:
    expected = expected_by(goal, whole, day)

    days, over = (whole.end - whole.start).days + 1, (day - whole.start).days + 1
    if expected is None:
        assert day < whole.start
    elif day >= whole.end:
        assert expected == goal
    else:
        assert expected * days <= goal * over < (expected + 1) * days


@given(GOALS, SEASONS, DAYS, STEPS)
def test_the_pace_never_falls_back(goal: int, whole: Season, day: date, step: int) -> None:
    earlier, later = (expected_by(goal, whole, one) for one in (day, day + timedelta(days=step)))

    assert earlier is None or (later is not None and 0 <= earlier <= later <= goal)


@given(GOALS, GOALS, SEASONS, DAYS)
def test_two_goals_make_at_most_one_more(goal: int, other: int, whole: Season, day: date) -> None:
    apart = [expected_by(one, whole, day) for one in (goal, other)]
    together = expected_by(goal + other, whole, day)

    # each part is rounded down, so that the whole may be one more than their sum
    if together is None:
        assert apart == [None, None]
    else:
        assert together - sum(one or 0 for one in apart) in (0, 1)


@given(GOALS, SEASONS, STARTS, DAYS)
def test_a_later_start_expects_no_more(goal: int, whole: Season, starts: tuple[int, int], day: date) -> None:
    cut = season_of(whole, replace(SETTINGS, season_starts=starts))

    expected, by_the_whole = expected_by(goal, cut, day), expected_by(goal, whole, day)

    assert expected is None or (by_the_whole is not None and expected <= by_the_whole)


@given(SEASONS, STARTS)
@example(season(date(2024, 2, 29), date(2026, 1, 1)), (2, 29))
@example(season(date(2028, 2, 29), date(2027, 6, 1)), (3, 1))
def test_a_start_lies_within_the_season(whole: Season, starts: tuple[int, int]) -> None:
    found = season_of(whole, replace(SETTINGS, season_starts=starts))

    assert whole.start <= found.start <= found.end == whole.end
    assert (found.start.month, found.start.day) in (starts, (2, 28) if starts == (2, 29) else starts)
