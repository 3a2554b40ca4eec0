"""How a case is shared where nobody is named: "3 ways", "50-50", "all of us", "everyone else"."""

from __future__ import annotations

from bot.reading.numbers import number_at
from bot.reading.packs import Loose
from bot.reading.spans import Marked
from bot.skills.shares.party_marks import (
    Marks,
)

_WAYS = frozenset("way ways parts".split())
_FRACTIONS = {"thirds": 3, "quarters": 4, "fifths": 5, "halves": 2, "halfsies": 2}
_OTHER_SHARES = frozenset("third quarter twice double treble percent %".split())
_EVERYONE = (
    "all of us|each of us|us all|everyone|everybody|the whole group|all the group|the group|whole team|the lot of us"
    "|all * of us|each * of us|for all|us four|us five|us six|all members|every member|all"
)
_HALF = frozenset(("50", "fifty"))


def find_ways(found: Marks) -> None:
    """Split 3 ways, in thirds, 50-50; the tokens are no counts."""
    marked, (start, end) = found.marked, found.heard.reach
    for index in range(start, end):
        word, after = marked.text_at(index), marked.text_at(index + 1)
        if word in _HALF and (after in _HALF or (after == "/" and marked.text_at(index + 2) in _HALF)):
            found.take(index, index + 2 + (after == "/"))
        elif word in _FRACTIONS and not _number_there(marked, index - 1):
            found.ways = _FRACTIONS[word]
            found.take(index, index + 1)
        elif reach := _ways_at(marked, index):
            found.ways = _number_there(marked, reach[0])
            found.take(*reach)
        elif word in _FRACTIONS or marked.word(index) in _OTHER_SHARES or _ratio_at(marked, index):
            found.odd = True


def _ways_at(marked: Marked, index: int) -> tuple[int, int] | None:
    """Where "3 ways", or "in three:", is said, from its number on."""
    if marked.text_at(index) in _WAYS:
        return next(((at, index + 1) for at in (index - 1, index - 2) if _number_there(marked, at)), None)
    inside = marked.text_at(index - 1) in ("in", "into") and marked.text_at(index + 1) in (":", ",", "")
    return (index, index + 1) if inside and _number_there(marked, index) else None


def _ratio_at(marked: Marked, index: int) -> bool:
    numbers = marked.text_at(index).isdigit() and marked.text_at(index + 2).isdigit()
    return numbers and marked.text_at(index + 1) in (":", "/") and marked.glued(index + 1) and marked.glued(index + 2)


def _number_there(marked: Marked, index: int) -> int | None:
    span = next((span for span in marked.each(Loose, index, index + 1)), None)
    if span:
        return span.value.units
    number = number_at(marked, index)
    return number[0].whole if number else None


def find_everyone(found: Marks) -> None:
    """Mark "all of us", "the four of us", "everyone else" and their like."""
    marked, (start, end) = found.marked, found.heard.reach
    said = [marked.text_at(index) for index in range(start, end)]
    number = {"three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8}
    for at in range(len(said) - 2):
        if number.get(said[at]) == len(found.heard.members) and said[at + 1 : at + 3] == ["of", "us"]:
            found.everyone = True
            found.take(start + at, start + at + 3)
            return
    for phrase in ("everyone else", "everybody else"):
        words = phrase.split()
        for at in range(len(said) - 1):
            if said[at : at + 2] == words:
                found.others = True
                found.take(start + at, start + at + 2)
                return
    for phrase in _EVERYONE.split("|"):
        words = phrase.split()
        for at in range(len(said) - len(words) + 1):
            if all(word in ("*", said[at + offset]) for offset, word in enumerate(words)):
                if phrase == "all" and said[at + 1 : at + 2] not in (["but"], ["except"], ["without"]):
                    continue
                found.everyone = True
                found.take(start + at, start + at + len(words))
                return
