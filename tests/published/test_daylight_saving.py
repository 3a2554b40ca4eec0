"""The group's own clock against the IANA time zone database, through the changes of the clock on both hemispheres."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import cache
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from core.due import Plan, Sort, due_between, moment_of, wall_clock
from core.group import Settings, Weekly
from core.money import currency

# By how many minutes a zone moves its clock.
MOVES = {
    "America/Chicago": 60,
    "America/Santiago": 60,
    "Australia/Lord_Howe": 30,
    "Australia/Sydney": 60,
    "Europe/London": 60,
    "Pacific/Auckland": 60,
}
ZONES = sorted(MOVES)
FROM, TO = datetime(2026, 1, 1, tzinfo=UTC), datetime(2029, 1, 1, tzinfo=UTC)
STEP, DAY = timedelta(minutes=30), timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Change:
    """The moment at which a clock is moved, and how far it is ahead of UTC before it and from then on."""

    at: datetime
    before: timedelta
    after: timedelta

    @property
    def leap(self) -> timedelta:
        return self.after - self.before

    @property
    def walls(self) -> tuple[datetime, datetime]:
        """The times that the clock leaps over, or shows twice: the first of them, and the one after the last."""
        was, becomes = (self.at.replace(tzinfo=None) + offset for offset in (self.before, self.after))
        return min(was, becomes), max(was, becomes)


def offset_of(moment: datetime, zone: str) -> timedelta:
    found = moment.astimezone(ZoneInfo(zone)).utcoffset()
    assert found is not None
    return found


@cache
def changes(zone: str) -> tuple[Change, ...]:
    """Every change of a zone's clock, found by looking at it each half hour."""
    return tuple(_changes(zone))


def _changes(zone: str) -> Iterator[Change]:
    moment, before = FROM, offset_of(FROM, zone)
    while moment < TO:
        moment += STEP
        after = offset_of(moment, zone)
        if after != before:
            yield Change(moment, before, after)
        before = after


def inside(change: Change) -> list[datetime]:
    """Times that a clock leaps over or shows twice: the first one, some between, and the last minute."""
    first, end = change.walls
    return [*(first + timedelta(minutes=minutes) for minutes in (0, 1, 17, 29)), end - timedelta(minutes=1)]


@pytest.mark.parametrize("zone", ZONES)
def test_the_clock_changes_twice_a_year(zone: str) -> None:
    leaps = [change.leap for change in changes(zone)]

    assert len(leaps) == 6
    assert sum(leaps, timedelta()) == timedelta()
    assert {abs(leap) for leap in leaps} == {timedelta(minutes=MOVES[zone])}


@pytest.mark.parametrize("zone", ZONES)
def test_a_time_leapt_over_comes_later(zone: str) -> None:
    gaps = [change for change in changes(zone) if change.leap > timedelta()]

    for change in gaps:
        for wall in inside(change):
            moment = moment_of(wall, ZoneInfo(zone))
            assert wall_clock(moment, ZoneInfo(zone)) == wall + change.leap
            assert moment == change.at + (wall - change.walls[0])


@pytest.mark.parametrize("zone", ZONES)
def test_of_a_doubled_time_the_first_counts(zone: str) -> None:
    folds = [change for change in changes(zone) if change.leap < timedelta()]

    for change in folds:
        for wall in inside(change):
            moment = moment_of(wall, ZoneInfo(zone))
            assert moment == (wall - change.before).replace(tzinfo=UTC)
            assert moment < change.at
            assert wall_clock(moment, ZoneInfo(zone)) == wall_clock(moment - change.leap, ZoneInfo(zone)) == wall


@given(st.sampled_from(ZONES), st.datetimes(FROM.replace(tzinfo=None) + DAY, TO.replace(tzinfo=None) - DAY))
def test_the_clock_shows_the_time_again(zone: str, wall: datetime) -> None:
    gaps = [change.walls for change in changes(zone) if change.leap > timedelta()]
    assume(not any(first <= wall < end for first, end in gaps))

    assert wall_clock(moment_of(wall, ZoneInfo(zone)), ZoneInfo(zone)) == wall


def first_shown(weekly: Weekly, zone: str) -> list[datetime]:
    """Of each day of a summary in two years, the first moment at which the clock shows its time or a later one."""
    found: dict[date, datetime] = {}
    for steps in range(2 * 365 * 48):
        moment = FROM + STEP * steps
        wall = moment.astimezone(ZoneInfo(zone))
        if wall.weekday() == weekly.weekday and wall.time() >= weekly.at:
            found.setdefault(wall.date(), moment)
    return list(found.values())


@pytest.mark.parametrize("at", [time(18), time(2), time(0)])
@pytest.mark.parametrize("zone", ZONES)
def test_a_summary_comes_once_a_week(zone: str, at: time) -> None:
    weekly, own = Weekly(6, at), ZoneInfo(zone)
    first, last = (wall_clock(moment, own) for moment in (FROM - STEP, FROM + timedelta(days=2 * 365)))

    dues = due_between(Plan(Settings(currency("USD"), zone, summary=weekly)), first, last)

    assert [moment_of(due.at, own) for due in dues] == first_shown(weekly, zone)
    assert {(due.sort, due.at.weekday(), due.at.time()) for due in dues} == {(Sort.SUMMARY, 6, at)}
    assert {later.at - due.at for due, later in pairwise(dues)} == {timedelta(days=7)}
