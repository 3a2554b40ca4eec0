"""``move_reminder``: someone wants a reminder on another day or at another time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, time

from dateutil.relativedelta import relativedelta

from bot.reading.clock_times import clock_beside
from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.offers import Choice, Unclear
from bot.reading.spans import Marked
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.calendar import wording
from bot.skills.calendar.lengths_said import step_in
from bot.skills.calendar.standing import REMINDER, Found, Which, line_of, of_reminders, one_meant, which_said
from bot.skills.calendar.times_said import no_such_time
from bot.skills.calendar.when_said import When, when_in
from bot.wording.things import counted
from core.due import moment_said
from core.money import Currency
from core.reminders import ReminderChange


@dataclass(frozen=True, slots=True)
class MoveTo:
    """A reminder, and its new day or time, or by how much it comes ``later``; what is not said stays as it is."""

    which: Which
    on: date | None = None
    at: time | None = None
    later: relativedelta | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``move_reminder``; ``later`` as people say it: "1 day", "-2 hours"."""
        del currency
        slots = {
            "on": self.on.isoformat() if self.on else None,
            "at": f"{self.at:%H:%M}" if self.at else None,
            "later": _in_words(self.later) if self.later else None,
        }
        return self.which.as_slots() | {name: value for name, value in slots.items() if value is not None}


def _in_words(step: relativedelta) -> str:
    told = [(getattr(step, f"{unit}s"), unit) for unit in ("month", "day", "hour", "minute")]
    return " ".join(f"{'-' if count < 0 else ''}{counted(abs(count), unit)}" for count, unit in told if count)


def _move(heard: Heard) -> Sequence[MoveTo | Unclear]:
    if not of_reminders(heard):
        return []
    if wrong := no_such_time(heard):
        said, which = heard.marked.said(min(wrong), max(wrong) + 1), which_said(heard, None, wrong)
        return [Unclear(wording.no_such_time(said, wording.MOVE_EXAMPLE), (), _hole(which), words=True)]
    later = step_in(heard)
    if later and heard.marked.text_at(min(later[1]) - 1) == "by":
        before = _within(heard, heard.reach[0], min(later[1]))
        return [MoveTo(which_said(heard, before, later[1]), later=later[0])]
    new, old = _new_time(heard)
    if new.tokens:
        which = which_said(heard, old, new.tokens)
        return [_to_which(heard, which, new) if new.either else MoveTo(which, new.on if new.dated else None, new.at)]
    if later and not _within(heard, 0, len(heard.marked.tokens)).tokens:
        return [MoveTo(which_said(heard, None, later[1]), later=later[0])]
    if not _MOVING & set(heard.said):
        return []
    which = which_said(heard, None)
    return [Unclear(wording.NEW_TIME, (), _hole(which), words=True)]


def _hole(which: Which) -> str:
    return f"move the reminder about {which.about} to {{}}"


def _to_which(heard: Heard, which: Which, when: When) -> Unclear:
    """The question to which of several days: "to the weekend"."""
    today, country = heard.marked.today, heard.marked.settings.country
    says, clock = _hole(which), f" at {when.at:%H:%M}" if when.at else ""
    choices = (Choice(wording.day_label(day, today, country), says.format(f"{day}{clock}")) for day in when.either)
    return Unclear(wording.WHICH_DAY, tuple(choices), says, words=True)


def _new_time(heard: Heard) -> tuple[When, When | None]:
    """The new time, and the one by which the reminder is named: "the friday reminder to monday"."""
    for index in reversed(range(*heard.reach)):
        if heard.marked.text_at(index) in ("to", "till", "until") and not _is_within_a_time(heard.marked, index):
            new, old = when_in(replace(heard, reach=(index, heard.reach[1]))), _within(heard, heard.reach[0], index)
            if new.tokens and old.tokens:
                return new, old
    return _not_the_first(heard) or when_in(heard), None


def _is_within_a_time(marked: Marked, index: int) -> bool:
    """Whether a "to" is the one of "quarter to five"."""
    bare = marked.bare()
    return any((clock := clock_beside(bare, at)) and clock.end > index + 1 for at in (index - 2, index - 1))


def _not_the_first(heard: Heard) -> When | None:
    """ "Not the 15th, the 22nd": the time said behind the one that is refused."""
    for index in range(*heard.reach):
        if heard.marked.text_at(index) == "not":
            refused = _within(heard, index + 1, heard.reach[1])
            if refused.tokens:
                later = _within(heard, max(refused.tokens) + 1, heard.reach[1])
                return later if later.tokens else None
    return None


def _within(heard: Heard, start: int, end: int) -> When:
    return when_in(replace(heard, reach=(start, end)), start)


_MOVING = frozenset(
    "move push shift change postpone delay put reschedule bring shove switch set instead moved changed later earlier"
    " wait come go had".split()
)
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
        never=("who|why|did|how", "ty|thanks|thank", "set|put a|another|new"),
        strange=8,
        apart=True,
    ),
)

TEACH = (("move the bags reminder to friday 5pm", "another day or time"),)


def answer(slots: MoveTo, desk: Desk) -> Answer | Ask:
    """Move the reminder; ask which where several are meant."""
    found = one_meant(slots.which, desk, lambda name: f"move {name} {_rest(slots)}")
    if not isinstance(found, Found):
        return found
    reminder = found.reminder
    on, at = slots.on or reminder.on, slots.at or reminder.at
    if slots.later:
        moment = found.at + slots.later
        on, at = moment.date(), moment.time() if at or slots.later.hours or slots.later.minutes else None
    moment = moment_said(on, at, desk.settings)
    if moment <= desk.wall:
        return Answer(wording.past(on, at, desk.settings, desk.today))
    line = line_of(Found(reminder, moment), desk)
    change = ReminderChange(reminder.number, on, at)
    return Answer(wording.moved(line), (change,), f"{wording.reminder_summary(reminder)}, moved")


def _rest(slots: MoveTo) -> str:
    """The new time as it is said behind the words for the reminder."""
    if slots.later:
        ahead = f"{_in_words(-slots.later)} earlier" if slots.later != abs(slots.later) else _in_words(slots.later)
        return f"by {ahead}"
    said = (f"{slots.on}" if slots.on else "", f"at {slots.at:%H:%M}" if slots.at else "")
    return f"to {' '.join(filter(None, said))}"


KIND = Kind("move_reminder", FORMS, answer, TEACH)
