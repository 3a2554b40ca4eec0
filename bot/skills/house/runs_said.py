"""Words of a message as settings are told by them: runs of words, whether a thing is wanted at all."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from bot.reading.form import Heard
from core.day_rules import WEEKDAYS

OFF_WORDS = frozenset(
    "off mute no none lift dont kill stop without disable cancel rid away drop remove delete skip never end "
    "abolish".split()
)
_ON_LEADS = frozenset("turn switch put want have get bring start enable resume restore again".split())


_AFTER_ON = frozenset("on please pls again now".split())


def is_off(heard: Heard) -> bool:
    """Whether the thing is not wanted at all: "turn quiet hours off"."""
    return bool(OFF_WORDS & set(heard.said))


def is_on(heard: Heard) -> bool:
    """Whether a thing that was off is wanted again: "turn the summary back on", "quiet hours on"."""
    said = heard.said
    back = bool({"back", "again"} & set(said)) and bool(_ON_LEADS & set(said))
    on = said.index("on") if "on" in said else 0
    switched = said[on - 1] != "now" and (said[-1] in _AFTER_ON or bool(_ON_LEADS & set(said)))
    return bool(back or (on and switched) or {"enable", "resume", "restore", "unmute"} & set(said)) and not is_off(
        heard
    )


def is_for_a_while(heard: Heard) -> bool:
    """Whether a thing is wanted for some days alone: "no quiet hours tonight", "turn off alerts till monday"."""
    said = heard.said
    until = any(lead in ("till", "until", "til") and word != "further" for lead, word in pairwise(said))
    return until or bool(_FOR_A_WHILE & set(said)) or ("this", "week") in pairwise(said)


_FOR_A_WHILE = frozenset(("today", "tonight", "tomorrow", "weekend", *WEEKDAYS))


def runs(words: list[str], longest: int) -> Iterator[tuple[int, list[str]]]:
    """Every run of words, the longest first, and where it begins."""
    for length in range(longest, 0, -1):
        for at in range(len(words) - length + 1):
            yield at, words[at : at + length]


def plain_words(heard: Heard) -> list[str]:
    """The words of a stretch without its points, strokes and commas."""
    return [word for word in heard.said if word not in ("/", ".", ",")]
