"""``move_reminder``: someone wants a reminder on another day or at another time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, time

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.offers import Unclear
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.calendar import wording
from bot.skills.calendar.standing import REMINDER, Found, about, line_of, of_reminders, one_meant
from bot.skills.calendar.when_said import When, when_in
from core.due import moment_said
from core.money import Currency
from core.reminders import ReminderChange


@dataclass(frozen=True, slots=True)
class MoveTo:
    """Words of a reminder, and its new day or time; what is not said stays as it is."""

    about: str
    on: date | None
    at: time | None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``move_reminder``."""
        del currency
        slots = {
            "about": self.about or None,
            "on": self.on.isoformat() if self.on else None,
            "at": f"{self.at:%H:%M}" if self.at else None,
        }
        return {name: value for name, value in slots.items() if value is not None}


def _move(heard: Heard) -> Sequence[MoveTo | Unclear]:
    if not of_reminders(heard):
        return []
    when = _not_the_first(heard) or when_in(heard)
    if not when.tokens:
        return [Unclear(wording.NEW_TIME, (), f"move the reminder about {about(heard)} to {{}}", words=True)]
    return [MoveTo(about(heard, when.tokens), when.on, when.at)]


def _not_the_first(heard: Heard) -> When | None:
    """ "Not the 15th, the 22nd": the time said behind the one that is refused."""
    for index in range(*heard.reach):
        if heard.marked.text_at(index) == "not":
            refused = _within(heard, index + 1)
            if refused.tokens:
                later = _within(heard, max(refused.tokens) + 1)
                return later if later.tokens else None
    return None


def _within(heard: Heard, start: int) -> When:
    return when_in(replace(heard, reach=(start, heard.reach[1])), start)


_MOVE = "move|push|shift|change|postpone|delay|put|reschedule|bring|shove|switch|set"
FORMS = (
    Form(
        "move_reminder",
        "a reminder at another time",
        _move,
        cues=(
            f"{_MOVE} * {REMINDER}",
            f"{_MOVE} back|forward|off|up * {REMINDER}",
            f"{REMINDER} * to|for|till|until|instead|go|come|moved|changed|later|earlier",
            f"{REMINDER} about * to|for|be moved|changed|go",
            f"{_MOVE} * one|it to",
            f"{_MOVE} it|that|this to",
            f"{REMINDER} can|could|should|had * wait|come|go|be",
            f"{REMINDER} * make it",
        ),
        never=("who|why|did", "ty|thanks|thank", "set|put a|another|new"),
        strange=8,
        apart=True,
    ),
)

TEACH = (("move the bags reminder to friday 5pm", "another day or time"),)


def answer(slots: MoveTo, desk: Desk) -> Answer | Ask:
    """Move the reminder; ask which where several are meant."""
    found = one_meant(slots.about, desk, lambda one: _says(one, slots))
    if not isinstance(found, Found):
        return found
    reminder = found.reminder
    on, at = slots.on or reminder.on, slots.at or reminder.at
    moment = moment_said(on, at, desk.settings)
    if moment <= desk.wall:
        return Answer(wording.past(on, slots.at, desk.settings, desk.today))
    line = line_of(Found(reminder, moment), desk)
    change = ReminderChange(reminder.number, on, at)
    return Answer(wording.moved(line), (change,), f"{wording.reminder_summary(reminder)}, moved")


def _says(one: Found, slots: MoveTo) -> str:
    on, at = slots.on or one.reminder.on, slots.at or one.reminder.at
    clock = f" at {at:%H:%M}" if at else ""
    return f"move the reminder about {one.reminder.what} to {on.isoformat()}{clock}"


KIND = Kind("move_reminder", FORMS, answer, TEACH)
