"""Which posts fall due between two moments of a group's own clock, each with the key by which it is made once."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from enum import StrEnum

from dateutil.tz import resolve_imaginary

from core.group import Quiet, Settings
from core.reminders import Reminder
from core.windows import SaleWindow, WindowRule, windows_between

MORNING = time(9)
"""When the clerk speaks of a day: of a sale to come, of a deadline, or of what it was to remind of."""
DEADLINE_WEEKS = (6, 4, 2, 1)
"""Weeks before the collection day at which the group is told what is short."""
_HORIZON = timedelta(days=400)
_NEAR = timedelta(days=8)


class Sort(StrEnum):
    """The sorts of posts that time brings."""

    ALERTS = "alerts"
    DEADLINE = "deadline"
    REMINDER = "reminder"
    SUMMARY = "summary"
    WINDOW = "window"


@dataclass(frozen=True, slots=True)
class Due:
    """A post that falls due at a moment of the group's own clock.

    ``key`` is the same whenever it is reckoned anew; ``useful_until`` the last moment at which it is worth being
    posted late, None for always.
    """

    at: datetime
    sort: Sort
    key: str
    about: SaleWindow | Reminder | date
    weeks: int = 0
    useful_until: datetime | None = None


@dataclass(frozen=True, slots=True)
class Plan:
    """All that a group's calendar rests on; ``collections`` are the days on which kits are collected next.

    ``holds_alerts`` tells that deal alerts wait for the morning.
    """

    settings: Settings
    rules: tuple[WindowRule, ...] = ()
    collections: tuple[date, ...] = ()
    reminders: tuple[Reminder, ...] = ()
    holds_alerts: bool = False


def due_between(plan: Plan, after: datetime, until: datetime) -> list[Due]:
    """What falls due after a moment of the group's own clock and up to another, in the order of time.

    Summaries on Sundays at 18:00, from Monday 2026-08-03 to Monday 2026-08-17: those of the 9th and the 16th.
    """
    days = (after.date(), until.date())
    found = [
        *_summaries(plan.settings, *days),
        *_windows(plan, *days),
        *_deadlines(plan, *days),
        *(due_of(one, plan.settings) for one in plan.reminders),
        *_mornings(plan, *days),
    ]
    return sorted((one for one in found if after < one.at <= until), key=lambda one: (one.at, one.sort, one.key))


def next_due(plan: Plan, after: datetime) -> datetime | None:
    """When the next post falls due, on the group's own clock; None where, but for reminders, none does in 400 days."""
    for reach in (_NEAR, _HORIZON):
        if found := due_between(plan, after, after + reach):
            return found[0].at
    far = (due_of(one, plan.settings).at for one in plan.reminders)
    return min((at for at in far if at > after), default=None)


def belated(plan: Plan, made: Collection[str], after: datetime) -> list[Due]:
    """Reminders of sales whose time was over before anything was known of them: the next morning, if that is before
    the sale starts.

    Told on July 1 to remind 5 days ahead of a sale on July 5: on July 2. ``made`` are the keys of the reminders made.
    """
    settings, today = plan.settings, after.date()
    soon = today + timedelta(days=settings.lead_days + 1)
    morning = morning_of(today, settings)
    at = morning if morning > after else morning_of(today + timedelta(days=1), settings)
    found = []
    for window in windows_between(plan.rules, settings.country, today, soon):
        due = _of_window(window, settings)
        if due.at <= after and at.date() < window.starts and due.key not in made:
            found.append(replace(due, at=at))
    return found


def moment_of(wall: datetime, zone: tzinfo) -> datetime:
    """The moment, in UTC, of a time on the group's own clock.

    A time that the clock leaps over comes as much later as it leaps; of one that it shows twice, the first counts.
    """
    return resolve_imaginary(wall.replace(tzinfo=zone)).astimezone(UTC)


def wall_clock(moment: datetime, zone: tzinfo) -> datetime:
    """What the group's own clock shows at a moment, without a zone."""
    return moment.astimezone(zone).replace(tzinfo=None)


def is_quiet(quiet: Quiet | None, wall: datetime) -> bool:
    """Whether a moment of the group's own clock lies in its quiet hours; 22:00-07:00 holds 22:00 and not 07:00."""
    if quiet is None:
        return False
    clock = wall.time()
    if quiet.starts <= quiet.ends:
        return quiet.starts <= clock < quiet.ends
    return clock >= quiet.starts or clock < quiet.ends


def out_of_quiet(settings: Settings, wall: datetime) -> datetime:
    """The moment itself, or the end of the quiet hours that it lies in."""
    quiet = settings.quiet
    if quiet is None or not is_quiet(quiet, wall):
        return wall
    ends = datetime.combine(wall.date(), quiet.ends)
    return ends if ends > wall else ends + timedelta(days=1)


def morning_of(day: date, settings: Settings) -> datetime:
    """When the clerk speaks of a day: nine o'clock, or the end of the quiet hours if they hold longer."""
    return out_of_quiet(settings, datetime.combine(day, MORNING))


def moment_said(day: date, at: time | None, settings: Settings) -> datetime:
    """The moment, on the group's own clock, that is said by a day and a time; without a time, in the morning."""
    return datetime.combine(day, at) if at else morning_of(day, settings)


def _days(first: date, last: date) -> Iterator[date]:
    # One day more on either side: a post may be moved out of the quiet hours into the next day.
    for back in range((last - first).days + 3):
        yield first + timedelta(days=back - 1)


def _summaries(settings: Settings, first: date, last: date) -> Iterator[Due]:
    weekly = settings.summary
    if weekly is None:
        return
    ahead = (weekly.weekday - first.weekday()) % 7
    day = first + timedelta(days=ahead - 7)
    while day <= last:
        at = datetime.combine(day, weekly.at)
        yield Due(at, Sort.SUMMARY, f"summary:{day}", day, useful_until=at + timedelta(days=7))
        day += timedelta(days=7)


def _windows(plan: Plan, first: date, last: date) -> Iterator[Due]:
    settings = plan.settings
    lead = timedelta(days=settings.lead_days)
    reach = (first - timedelta(days=1) + lead, last + timedelta(days=1) + lead)
    for window in windows_between(plan.rules, settings.country, *reach):
        yield _of_window(window, settings)


def _of_window(window: SaleWindow, settings: Settings) -> Due:
    at = morning_of(window.starts - timedelta(days=settings.lead_days), settings)
    useful = datetime.combine(window.ends, time.max)
    return Due(at, Sort.WINDOW, f"window:{window.year}:{window.name}", window, useful_until=useful)


def _deadlines(plan: Plan, first: date, last: date) -> Iterator[Due]:
    for collected in sorted(set(plan.collections)):
        stages = [collected - timedelta(weeks=weeks) for weeks in DEADLINE_WEEKS]
        for weeks, day, following in zip(DEADLINE_WEEKS, stages, [*stages[1:], collected], strict=True):
            if first - timedelta(days=1) <= day <= last + timedelta(days=1):
                useful = datetime.combine(following, time())
                at = morning_of(day, plan.settings)
                yield Due(at, Sort.DEADLINE, f"deadline:{collected}:{weeks}", collected, weeks, useful)


def due_of(reminder: Reminder, settings: Settings) -> Due:
    """When a reminder falls due."""
    at = moment_said(reminder.on, reminder.at, settings)
    return Due(at, Sort.REMINDER, f"reminder:{reminder.number}:{at:%Y-%m-%dT%H:%M}", reminder)


def _mornings(plan: Plan, first: date, last: date) -> Iterator[Due]:
    if not plan.holds_alerts:
        return
    for day in _days(first, last):
        at = alerts_morning(day, plan.settings)
        yield Due(at, Sort.ALERTS, f"alerts:{at:%Y-%m-%dT%H:%M}", day)


def alerts_morning(day: date, settings: Settings) -> datetime:
    """When deal alerts that were held come: at the end of the quiet hours; without any, at eight."""
    return datetime.combine(day, settings.quiet.ends if settings.quiet else time(8))
