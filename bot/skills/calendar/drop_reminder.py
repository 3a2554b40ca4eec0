"""``drop_reminder``: someone does not want a reminder any more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.calendar import wording
from bot.skills.calendar.standing import REMINDER, Found, about, of_reminders, one_meant
from core.money import Currency
from core.reminders import ReminderChange


@dataclass(frozen=True, slots=True)
class Drop:
    """Words of the reminder that is not wanted; empty where none are said."""

    about: str

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slot of ``drop_reminder``."""
        del currency
        return {"about": self.about} if self.about else {}


def _drop(heard: Heard) -> Sequence[Drop]:
    return [Drop(about(heard))] if of_reminders(heard) and not heard.asked else []


_DROP = "drop|cancel|scrap|bin|delete|remove|forget|kill|clear|scratch|axe|lose|ditch|erase|strike|nix|rid"
FORMS = (
    Form(
        "drop_reminder",
        "a reminder is not wanted",
        _drop,
        cues=(
            f"{_DROP} * {REMINDER}",
            f"take|cross|call off|out|away * {REMINDER}",
            f"take|cross * {REMINDER} * off|out",
            f"{REMINDER} * not|no|longer needed|wanted|more|longer",
            f"dont|no need|more * {REMINDER}",
            "dont remind us|me|everyone",
            "no need to remind us|me|everyone",
            "stop|quit reminding us|me|everyone",
            f"get rid of * {REMINDER}",
            f"{_DROP} my|the|that|our * {REMINDER}",
            f"{_DROP} * one",
        ),
        never=("should|did|who|why", "ty|thanks|thank", "dont|not|never forget|drop|delete|cancel"),
        strange=8,
        apart=True,
    ),
)

TEACH = (("drop the bags reminder", "it does not come"),)


def answer(slots: Drop, desk: Desk) -> Answer | Ask:
    """Drop the reminder; ask which where several are meant."""
    found = one_meant(slots.about, desk, lambda one: f"drop the reminder about {one.reminder.what}")
    if not isinstance(found, Found):
        return found
    reminder = found.reminder
    change = ReminderChange(reminder.number, reminder.on, reminder.at, dropped=True)
    return Answer(wording.dropped(reminder), (change,), f"{wording.reminder_summary(reminder)}, dropped")


KIND = Kind("drop_reminder", FORMS, answer, TEACH)
