"""When a group is next to be looked at: its calendar as a plan, and the clock up to which its posts are made."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

from bot.storage.alerts import held
from bot.storage.books import Books
from bot.storage.calendar import reminders_from
from bot.storage.timed import Watch, keys_made, outcome_of, set_watch, watch
from core.due import Due, Plan, belated, due_between, due_of, is_quiet, moment_of, next_due, wall_clock
from core.group import Group
from core.kits import season

_SOON = timedelta(minutes=1)
_A_DAY = timedelta(days=1)
_A_YEAR = timedelta(days=400)


def plan_of(books: Books, group: Group, day: date) -> Plan:
    """All that the posts of a group rest on, as it stands now, from a day on; in a private chat, reminders alone."""
    if group.private:
        return Plan(replace(group.settings, summary=None), reminders=reminders_from(books, day))
    collections = {season(kit.by, day).end for kit in group.kits if kit.by and kit.goal}
    return Plan(
        group.settings,
        group.window_rules,
        tuple(sorted(collections)),
        reminders_from(books, day),
        bool(held(books)),
    )


def made_up_to(books: Books, group: Group, now: datetime) -> datetime:
    """Up to which time of its own clock the posts of a group are made as something is about to change.

    Up to now, unless something waits to be made: what is said now brings none of the past, and a clock that is moved
    now loses none. A group never looked at before is watched from now on.
    """
    wall, watched = wall_clock(now, group.settings.zone), watch(books)
    if watched.posted_to is None:
        come_to(books, group, wall, now)
        return wall
    return watched.posted_to if _waits(books, group, watched, wall, now) else max(watched.posted_to, wall)


def _waits(books: Books, group: Group, watched: Watch, wall: datetime, now: datetime) -> bool:
    """Whether something has fallen due that is not made yet; in quiet hours it may be held for the morning."""
    if watched.next_at is not None and watched.next_at <= now:
        return True
    if watched.posted_to is None or not is_quiet(group.settings.quiet, wall):
        return False
    due = fallen_due(books, group, watched.posted_to, wall)
    return any(outcome_of(books, one.key) is None for one in due)


def fallen_due(books: Books, group: Group, posted_to: datetime, wall: datetime) -> list[Due]:
    """What has fallen due for a group between two times of its own clock, in the order of time."""
    plan = plan_of(books, group, posted_to.date() - _A_DAY)
    passed = [due for due in _passed_by(books, plan, posted_to) if due.at <= wall]
    return sorted([*due_between(plan, posted_to, wall), *passed], key=lambda due: due.at)


def _passed_by(books: Books, plan: Plan, posted_to: datetime) -> list[Due]:
    """What the group's clock has passed by without its being made: reminders of sales that nobody knew of in time,
    and reminders for an hour that the clock, put back, shows again."""
    made = keys_made(books, posted_to - _A_YEAR)
    reminders = (due_of(one, plan.settings) for one in plan.reminders)
    return [
        *belated(plan, made, posted_to),
        *(due for due in reminders if due.at <= posted_to and due.key not in made),
    ]


def come_to(books: Books, group: Group, posted_to: datetime, now: datetime) -> None:
    """Note that all posts are made up to a time of the group's own clock, and when the next falls due."""
    plan = plan_of(books, group, posted_to.date() - _A_DAY)
    moments = [next_due(plan, posted_to), *(due.at for due in _passed_by(books, plan, posted_to))]
    following = min((at for at in moments if at is not None), default=None)
    moment = moment_of(following, group.settings.zone) if following else None
    if moment is not None and moment <= now:
        # It has been passed by, is held until quiet hours end, or the clock was put back and shows this hour again.
        moment = now.astimezone(UTC) + _SOON
    set_watch(books, Watch(posted_to, moment))
