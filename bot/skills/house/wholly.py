"""Sentences of which every word counts: what cannot be taken back is heard only where it is said and nothing else."""

from __future__ import annotations

import re
from collections.abc import Sequence

from bot.reading.form import Heard
from bot.reading.names import Named, NameSort, named, owns
from bot.reading.spans import Found
from bot.reading.words import Sort

_OPENING = (
    r"(?:(?:hi|hello|hey|clerk|bot|please|pls|plz|ok|okay|so|now|and|well|oh|sorry|thanks|just|kindly"
    r"|thank you|(?:can|could|would|will) (?:you|u)|how (?:do|can|could) (?:i|we)|by the way|btw|fyi"
    r"|(?:i|we) (?:want|need) you to|(?:id|i would|wed|we would) like you to|you (?:can|may|must|should)) )*"
)
_CLOSING = (
    r"(?: (?:please|pls|plz|clerk|bot|now|today|thanks|thank you|again|completely|entirely|too|altogether|permanently"
    r"|for good|for ever|forever|right away|at once|btw|by the way"
    r"|(?:we are|were|i am|im|we have|weve|i have|ive) (?:done|finished|leaving|moving away|moved away|stopping)))*"
)


def wholly(said: str, patterns: Sequence[str]) -> re.Match[str] | None:
    """The first pattern that the words are wholly, but for calls and courtesies at either end."""
    found = (re.fullmatch(f"{_OPENING}{pattern}{_CLOSING}", said) for pattern in patterns)
    return next((match for match in found if match), None)


def words_said(heard: Heard, people: Sequence[Found[Named]] = ()) -> str:
    """The words of a stretch without signs, each of the people as "@"."""
    taken = {index: span for span in people for index in range(span.start, span.end)}
    words = []
    for index in range(*heard.reach):
        span = taken.get(index)
        if span is None and heard.marked.tokens[index].sort in (Sort.WORD, Sort.NUMBER):
            words.append(heard.marked.text_at(index))
        elif span is not None and span.start == index:
            words.append("@")
    return " ".join(words)


def people_named(heard: Heard) -> list[Found[Named]]:
    """Everybody named in a stretch, those left out of whom something else is named: "Mei's brother"."""
    return [span for span in named(heard.marked, heard.reach, NameSort.MEMBER) if not owns(heard.marked, span)]
