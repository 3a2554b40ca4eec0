"""What a reminder hangs on, where nobody knows its day: "2 days before the jumble sale to get cash"."""

from __future__ import annotations

from bot.reading.clock_times import clock_at
from bot.reading.form import Heard
from bot.reading.spans import Reach
from bot.reading.words import Sort
from bot.skills.calendar.when_said import reckoned_at

_ENDS = frozenset(("to", ",", "please", "pls"))


def unknown_anchor(heard: Heard) -> Reach | None:
    """The words of the first thing that days are reckoned from and that is no known day."""
    found = next((one for index in range(*heard.reach) if (one := reckoned_at(heard, index)) and not one[1]), None)
    if found is None:
        return None
    start = found[0]
    end = next(at for at in range(start, heard.reach[1] + 1) if _ends(heard, at))
    led = heard.marked.text_at(start - 1) == "to" or heard.marked.text_at(start) == "last"
    return (start, end) if end > start and not led else None


def _ends(heard: Heard, index: int) -> bool:
    """Whether the words end here: at what is to be done, at a time of day, or with the sentence."""
    marked = heard.marked
    if index >= heard.reach[1] or marked.tokens[index].sort is Sort.STOP or marked.text_at(index) in _ENDS:
        return True
    return marked.text_at(index) == "at" and clock_at(marked.bare(), index + 1) is not None
