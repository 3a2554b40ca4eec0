"""``reminders``: someone asks which reminders are set."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.skills.answering import Answer, Desk
from bot.skills.calendar import wording
from bot.skills.calendar.standing import REMINDER, line_of, standing
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Listed:
    """Which reminders to list: all, or with ``mine`` those to all and to the speaker."""

    mine: bool = False

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slot of ``reminders``."""
        del currency
        return {"mine": True} if self.mine else {}


def _reminders(heard: Heard) -> Sequence[Listed]:
    return [Listed("my" in heard.said)]


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
    Form(
        "reminders",
        "my reminders",
        _reminders,
        cues=("^my|our reminders|remidners|remindrs", f"rest|others of the|my|our {REMINDER}"),
        strange=0,
    ),
)
TEACH = (("what reminders are set?", "those still to come"),)


def answer(slots: Listed, desk: Desk) -> Answer:
    """List the reminders still to come, each with its place among all."""
    found = [
        wording.placed(place, line_of(one, desk))
        for place, one in enumerate(standing(desk), start=1)
        if not slots.mine or one.reminder.whom in (None, desk.speaker)
    ]
    return Answer(wording.reminder_list(found) if found else wording.NO_REMINDERS)


KIND = Kind("reminders", FORMS, answer, TEACH)
