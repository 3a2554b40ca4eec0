"""Talk of reminding that asks nothing of the clerk: said to a member, of somebody else who will remind, of memories."""

from __future__ import annotations

from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.words import Sort
from bot.skills.calendar.when_said import when_in
from bot.skills.calendar.whom_said import sentence_start

_BETWEEN = frozenset(
    ", can could would will you u please pls plz kindly do to also just u'll youll might must make be sure".split()
)
_CALLS = frozenset("hey hi hello oh ok okay so , and dear".split())
_THANKS = frozenset("thanks thank ty cheers thx for that's thats".split()) - {"for"}
_QUESTIONS = frozenset("what whats why who whos how which where whether when if".split())
_SURE = frozenset(("sure", "certain", "that", "see"))
_MODALS = frozenset("will would can could should might must".split())
_CLERK = frozenset("you u ya y clerk bot please pls plz and so or hey hi hello".split())


def is_said_to_a_member(heard: Heard, cue: int) -> bool:
    """Whether the request is made to somebody of the group by name: "Tobias, can you remind me"."""
    start = sentence_start(heard)
    names = named(heard.marked, (start, cue), NameSort.MEMBER)
    return any(
        all(heard.marked.text_at(at) in _BETWEEN for at in range(span.end, cue))
        and all(heard.marked.text_at(at) in _CALLS for at in range(start, span.start))
        for span in names
    )


def is_a_memory(heard: Heard, index: int) -> bool:
    """Whether somebody remembers: "I remember", unless it is to be made sure of, "make sure I remember"."""
    return heard.marked.text_at(index - 1) == "i" and heard.marked.text_at(index - 2) not in _SURE


def only_recalls(heard: Heard, cue: int) -> bool:
    """Whether it is talk: "thanks for the reminder", "remind me when we get there", "she'll remind us"."""
    said = [heard.marked.text_at(at) for at in range(max(0, cue - 4), cue)]
    behind = heard.marked.text_at(cue + 2)
    asks = behind in _QUESTIONS and not (behind == "when" and when_in(heard).anchor)
    return bool(_THANKS & set(said)) or asks or _is_of_another(heard, cue)


def _is_of_another(heard: Heard, cue: int) -> bool:
    """Whether somebody else is said to remind: "she'll remind us", "mom can remind me"."""
    marked = heard.marked
    before, subject = marked.text_at(cue - 1), marked.text_at(cue - 2)
    if before in _MODALS:
        return marked.tokens[cue - 2].sort is Sort.WORD and subject not in _CLERK if cue > 1 else False
    short = cue > 0 and before.endswith("ll") and before.removesuffix("ll") not in _CLERK
    return short and ("'" in marked.said(cue - 1, cue) or before in ("shell", "hell", "theyll", "itll"))
