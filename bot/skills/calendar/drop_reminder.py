"""``drop_reminder``: someone does not want a reminder any more, or several of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.offers import Choice
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.calendar import wording
from bot.skills.calendar.standing import (
    REMINDER,
    Found,
    Which,
    line_of,
    meant,
    none_meant,
    of_reminders,
    one_meant,
    which_said,
)
from bot.skills.calendar.when_said import when_in
from core.money import Currency
from core.reminders import ReminderChange


@dataclass(frozen=True, slots=True)
class Drop:
    """Which reminder is not wanted; with ``every`` all that are meant, with ``mine`` those for the speaker alone."""

    which: Which
    every: bool = False
    mine: bool = False

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``drop_reminder``."""
        del currency
        told = {name: True for name in ("every", "mine") if getattr(self, name)}
        return self.which.as_slots() | told

    def says(self) -> str:
        """The message that drops all that are meant."""
        on = f" on {self.which.on}" if self.which.on else ""
        at = f" at {self.which.at:%H:%M}" if self.which.at else ""
        about = f" about {self.which.about}" if self.which.about else ""
        return f"drop all {'my ' if self.mine else ''}reminders{on}{at}{about}"


def _drop(heard: Heard) -> Sequence[Drop]:
    if not of_reminders(heard) or heard.asked:
        return []
    said = set(heard.said)
    every = bool(said & _EVERY)
    return [Drop(which_said(heard, when_in(heard)), every, every and "my" in said)]


_EVERY = frozenset(("all", "every", "each", "both", *(word for word in REMINDER.split("|") if word.endswith("s"))))
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
            f"never mind * {REMINDER}",
        ),
        never=("should|did|who|why|how", "ty|thanks|thank", "dont|not|never forget|drop|delete|cancel"),
        strange=8,
        apart=True,
    ),
)

TEACH = (("drop the bags reminder", "it does not come"),)


def answer(slots: Drop, desk: Desk) -> Answer | Ask:
    """Drop the reminder; ask which where one of several is meant, and before several are dropped."""
    if slots.every:
        return _all(slots, desk)
    found = one_meant(slots.which, desk, lambda name: f"drop {name}")
    return _dropped(found) if isinstance(found, Found) else found


def _all(slots: Drop, desk: Desk) -> Answer | Ask:
    found = [one for one in meant(slots.which, desk) if not slots.mine or one.reminder.whom == desk.speaker]
    if not found:
        return Answer(wording.none_for(desk.speaker)) if slots.mine else none_meant(slots.which, desk)
    if len(found) == 1:
        return _dropped(found[0])
    if not desk.sure:
        yes = Choice(wording.drop_them(len(found)), slots.says(), sure=True)
        return Ask(wording.drop_these([line_of(one, desk) for one in found]), (yes, Choice(wording.NO, "")))
    return Answer(wording.dropped_several(len(found)), tuple(map(_change, found)), wording.several_summary(len(found)))


def _dropped(found: Found) -> Answer:
    return Answer(
        wording.dropped(found.reminder), (_change(found),), f"{wording.reminder_summary(found.reminder)}, dropped"
    )


def _change(found: Found) -> ReminderChange:
    reminder = found.reminder
    return ReminderChange(reminder.number, reminder.on, reminder.at, dropped=True)


KIND = Kind("drop_reminder", FORMS, answer, TEACH)
