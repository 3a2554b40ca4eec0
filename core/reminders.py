"""Reminders that members have asked for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time


@dataclass(frozen=True, slots=True)
class ReminderChange:
    """A reminder, by its number, comes on another day and at another time (None: in the morning), or not at all."""

    number: int
    on: date
    at: time | None
    dropped: bool = False


@dataclass(frozen=True, slots=True)
class Reminder:
    """What to remind of, on which day of the group's calendar, at which time of its clock (None: in the morning).

    ``whom`` is a member, or None for the whole group; ``number`` is 0 for one that is not kept yet.
    """

    what: str
    on: date
    at: time | None
    whom: str | None
    by: str
    number: int = 0
