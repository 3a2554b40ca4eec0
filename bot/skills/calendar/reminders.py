"""``reminders``: someone asks which reminders are set."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.skills.answering import Answer, Desk
from bot.skills.bare import Bare
from bot.skills.calendar import wording
from bot.skills.calendar.standing import REMINDER, line_of, standing


def _reminders(heard: Heard) -> Sequence[Bare]:
    del heard
    return [Bare()]


FORMS = (
    Form(
        "reminders",
        "which reminders are set",
        _reminders,
        cues=(
            f"what|whats|wat|which|list|show|see|read|tell|give|any|other|others|all * {REMINDER}",
            f"{REMINDER} list|set|standing|coming|please|pls|pending|left|do|are",
            f"list|way|set|number of * {REMINDER}",
            f"^{REMINDER}",
            "what|whatever|list|show * remind us|me of",
            "of what will|do|must|should * remind",
            "have|got|meant|supposed|down|going to remind us|me|everyone",
        ),
        never=(
            f"thanks|thank|ty|for * {REMINDER}",
            f"^{REMINDER} :|to|that|for|about",
            f"drop|cancel|scrap|bin|delete|remove|forget|move|push|shift|change|postpone|add|make|need * {REMINDER}",
        ),
        strange=3,
        apart=True,
    ),
)
TEACH = (("what reminders are set?", "those still to come"),)


def answer(slots: Bare, desk: Desk) -> Answer:
    """List the reminders still to come."""
    del slots
    found = standing(desk)
    return Answer(wording.reminder_list([line_of(one, desk) for one in found]) if found else wording.NO_REMINDERS)


KIND = Kind("reminders", FORMS, answer, TEACH)
