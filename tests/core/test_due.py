"""What falls due when: summaries, sales to come, deadlines, reminders, held alerts, and the quiet hours between."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta
from itertools import pairwise

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from core.day_rules import DayRule, Fixed, rule_of
from core.due import Due, Plan, Sort, due_between, is_quiet, morning_of, next_due, out_of_quiet
from core.group import Quiet, Settings, Weekly
from core.money import currency
from core.reminders import Reminder
from core.windows import WindowRule, usual_windows

QUIET = Quiet(time(22), time(7))
SILENT = Settings(currency("USD"), quiet=QUIET, summary=None)
SUNDAYS = replace(SILENT, summary=Weekly(6, time(18)))
MONDAY = datetime.combine(date(2026, 8, 3), time(12))
DUE_DAY = date(2026, 11, 14)


def clock(text: str) -> datetime:
    return datetime.fromisoformat(text)


def sale(words: str, days: int = 5) -> WindowRule:
    starts = rule_of(words)
    assert starts is not None
    return WindowRule("attic sale", starts, days)


def dues_of(plan: Plan, first: str, last: str) -> list[tuple[str, str]]:
    """Times and keys of what falls due after a time and up to another."""
    return [(f"{due.at:%m-%d %H:%M}", due.key) for due in due_between(plan, clock(first), clock(last))]


def test_a_summary_comes_each_week() -> None:
    assert dues_of(Plan(SUNDAYS), "2026-08-03", "2026-08-17") == [
        ("08-09 18:00", "summary:2026-08-09"),
        ("08-16 18:00", "summary:2026-08-16"),
    ]


def test_the_last_moment_belongs_to_the_interval() -> None:
    assert len(dues_of(Plan(SUNDAYS), "2026-08-08", "2026-08-09T18:00")) == 1
    assert dues_of(Plan(SUNDAYS), "2026-08-09T18:00", "2026-08-16T17:59") == []


def test_nothing_falls_due_the_other_way_round() -> None:
    assert dues_of(Plan(SUNDAYS), "2026-08-17", "2026-08-03") == []


def test_nobody_waits_for_a_summary_switched_off() -> None:
    assert dues_of(Plan(SILENT), "2026-01-01", "2027-12-31") == []
    assert next_due(Plan(SILENT), MONDAY) is None


def test_a_sale_is_told_its_lead_days_before() -> None:
    plan = Plan(replace(SILENT, lead_days=5), (sale("september 8", days=4),))

    [due] = due_between(plan, clock("2026-08-03"), clock("2026-12-01"))

    assert (due.at, due.key) == (clock("2026-09-03T09:00"), "window:2026:attic sale")
    assert due.useful_until == clock("2026-09-11T23:59:59.999999")


@pytest.mark.parametrize(("lead", "told"), [(0, "01-02 09:00"), (1, "01-01 09:00"), (2, "12-31 09:00")])
def test_a_sale_after_the_turn_is_told_in_time(lead: int, told: str) -> None:
    plan = Plan(replace(SILENT, lead_days=lead), (sale("january 2"),))

    assert dues_of(plan, "2026-12-01", "2027-02-01") == [(told, "window:2027:attic sale")]


def test_a_sale_switched_off_is_not_told() -> None:
    assert dues_of(Plan(SILENT, (replace(sale("may 1"), on=False),)), "2026-01-01", "2027-12-31") == []


def test_a_deadline_is_told_four_times() -> None:
    plan = Plan(SILENT, collections=(DUE_DAY,))

    dues = due_between(plan, MONDAY, clock("2027-01-01"))

    told = [(f"{due.at:%m-%d %H:%M}", due.weeks) for due in dues]
    assert told == [("10-03 09:00", 6), ("10-17 09:00", 4), ("10-31 09:00", 2), ("11-07 09:00", 1)]
    assert {due.about for due in dues} == {DUE_DAY}
    assert [due.useful_until for due in dues] == [
        clock(day) for day in ("2026-10-17", "2026-10-31", "2026-11-07", "2026-11-14")
    ]


def test_kits_of_one_day_share_a_deadline() -> None:
    plan = Plan(SILENT, collections=(date(2026, 12, 5), DUE_DAY, DUE_DAY))

    assert dues_of(plan, "2026-11-06", "2026-11-08") == [
        ("11-07 09:00", "deadline:2026-11-14:1"),
        ("11-07 09:00", "deadline:2026-12-05:4"),
    ]


def test_reminders_come_at_their_time() -> None:
    plan = Plan(
        SILENT,
        reminders=(
            Reminder("fetch the cartons", date(2026, 8, 7), None, None, "Mei", 4),
            Reminder("ring the printer", date(2026, 8, 6), time(23, 30), "Tobias", "Mei", 5),
        ),
    )

    assert dues_of(plan, "2026-08-03", "2026-08-08") == [
        ("08-06 23:30", "reminder:5:2026-08-06T23:30"),
        ("08-07 09:00", "reminder:4:2026-08-07T09:00"),
    ]


@pytest.mark.parametrize(
    ("starts", "ends", "told"),
    [
        (22, 7, "2026-08-07T09:00"),
        (22, 9, "2026-08-07T09:00"),
        (22, 11, "2026-08-07T11:00"),
        (8, 17, "2026-08-07T17:00"),
        (9, 8, "2026-08-08T08:00"),
        (10, 12, "2026-08-07T09:00"),
    ],
)
def test_quiet_hours_move_the_nine_oclock_posts(starts: int, ends: int, told: str) -> None:
    settings = replace(SILENT, quiet=Quiet(time(starts), time(ends)), lead_days=0)
    reminder = Reminder("fetch the cartons", date(2026, 8, 7), None, None, "Mei", 4)
    plan = Plan(settings, (sale("august 7"),), (date(2026, 8, 14),), (reminder,))

    dues = due_between(plan, clock("2026-08-07"), clock("2026-08-08T23:00"))

    assert [(due.sort, due.at) for due in dues] == [
        (sort, clock(told)) for sort in (Sort.DEADLINE, Sort.REMINDER, Sort.WINDOW)
    ]
    assert morning_of(date(2026, 8, 7), settings) == clock(told)


@pytest.mark.parametrize(
    ("at", "quiet", "leaves"),
    [
        ("2026-08-03T21:59", False, "2026-08-03T21:59"),
        ("2026-08-03T22:00", True, "2026-08-04T07:00"),
        ("2026-08-04T06:59", True, "2026-08-04T07:00"),
        ("2026-08-04T07:00", False, "2026-08-04T07:00"),
        ("2026-12-31T23:59", True, "2027-01-01T07:00"),
    ],
)
def test_quiet_hours_go_past_midnight(at: str, quiet: bool, leaves: str) -> None:
    assert is_quiet(QUIET, clock(at)) is quiet
    assert out_of_quiet(SILENT, clock(at)) == clock(leaves)


def test_without_quiet_hours_nothing_is_moved() -> None:
    awake = replace(SILENT, quiet=None)

    assert not is_quiet(None, clock("2026-08-03T03:00"))
    assert out_of_quiet(awake, clock("2026-08-03T03:00")) == clock("2026-08-03T03:00")


@pytest.mark.parametrize(("quiet", "told"), [(QUIET, "08-04 07:00"), (None, "08-04 08:00")])
def test_held_alerts_come_in_the_morning(quiet: Quiet | None, told: str) -> None:
    plan = Plan(replace(SILENT, quiet=quiet), holds_alerts=True)

    assert dues_of(plan, "2026-08-03T12:00", "2026-08-04T12:00") == [(told, f"alerts:2026-08-04T{told[-5:]}")]
    assert dues_of(replace(plan, holds_alerts=False), "2026-08-03T12:00", "2026-08-04T12:00") == []


def test_the_leap_day_has_its_posts() -> None:
    leap_day = date(2028, 2, 29)
    plan = Plan(replace(SILENT, lead_days=1), (sale("march 1"),), (date(2028, 3, 7),), (), holds_alerts=True)

    assert dues_of(plan, "2028-02-29", "2028-02-29T23:59") == [
        ("02-29 07:00", f"alerts:{leap_day}T07:00"),
        ("02-29 09:00", "deadline:2028-03-07:1"),
        ("02-29 09:00", "window:2028:attic sale"),
    ]


TIMES = st.times().map(lambda at: at.replace(second=0, microsecond=0))
DAYS = st.dates(date(2026, 12, 1), date(2028, 3, 20))
WALLS = st.datetimes(clock("2026-12-01"), clock("2028-03-20"))
SETTINGS = st.builds(
    Settings,
    st.just(currency("USD")),
    country=st.sampled_from(["US", "AU", "XX"]),
    quiet=st.none() | st.builds(Quiet, TIMES, TIMES),
    summary=st.none() | st.builds(Weekly, st.integers(0, 6), TIMES),
    lead_days=st.integers(0, 60),
)
BASES = st.builds(Fixed, st.integers(1, 12), st.integers(1, 29))
OWN = st.builds(WindowRule, st.just("attic sale"), st.builds(DayRule, BASES, st.integers(0, 40)))
REMINDERS = st.lists(st.tuples(DAYS, st.none() | TIMES), max_size=3).map(
    lambda told: tuple(Reminder("it", day, at, None, "Mei", place) for place, (day, at) in enumerate(told, 1))
)
PLANS = st.builds(
    Plan,
    SETTINGS,
    st.lists(OWN, max_size=1).map(lambda own: (*usual_windows("US"), *own)),
    st.lists(DAYS, max_size=2).map(tuple),
    REMINDERS,
    st.booleans(),
)


@given(PLANS, WALLS, st.lists(st.timedeltas(timedelta(), timedelta(days=40)), min_size=1, max_size=5))
def test_splitting_an_interval_changes_nothing(plan: Plan, start: datetime, lengths: list[timedelta]) -> None:
    points = [start]
    for length in lengths:
        points.append(points[-1] + length)

    parts: list[Due] = [due for after, until in pairwise(points) for due in due_between(plan, after, until)]

    assert parts == due_between(plan, points[0], points[-1])
    assert len({due.key for due in parts}) == len(parts)


@given(PLANS, WALLS)
@example(Plan(SILENT, reminders=(Reminder("it", date(2027, 3, 1), None, None, "Mei", 1),)), clock("2026-12-01"))
def test_the_next_due_is_the_first(plan: Plan, now: datetime) -> None:
    coming = due_between(plan, now, now + timedelta(days=400))

    assert next_due(plan, now) == (coming[0].at if coming else None)
