"""Cue phrases: compiled once, tried at a token."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from bot.reading.spans import Marked
from bot.reading.words import Sort

_GAP = 3


@dataclass(frozen=True, slots=True)
class Cue:
    """A phrase as sets of alternative words; None stands for a gap of up to three tokens."""

    parts: tuple[frozenset[str] | None, ...]
    opening: bool = False
    """True where it must stand among the first words of its sentence."""

    @property
    def weight(self) -> int:
        """How many words it says."""
        return sum(part is not None for part in self.parts)

    def end_in(self, marked: Marked, index: int) -> int | None:
        """Where the phrase ends if its first word stands at this token and the rest follows, else None."""
        return _end_of(marked, self.parts[1:], index + 1)


@lru_cache(maxsize=4096)
def cue(phrase: str) -> Cue:
    """The cue of a phrase such as "what|whats * price for"; "^" first binds it to the start of a sentence."""
    words = phrase.removeprefix("^").split()
    parts = tuple(None if part == "*" else frozenset(part.split("|")) for part in words)
    return Cue(parts, phrase.startswith("^"))


def _end_of(marked: Marked, parts: tuple[frozenset[str] | None, ...], index: int) -> int | None:
    for number, part in enumerate(parts):
        if part is None:
            rest = parts[number + 1 :]
            ends = (_end_of(marked, rest, at) for at in _within_gap(marked, index))
            return next((end for end in ends if end is not None), None)
        if marked.text_at(index) not in part:
            return None
        index += 1
    return index


def _within_gap(marked: Marked, index: int) -> list[int]:
    """The places a gap may end at: it does not reach past its sentence."""
    places = [index]
    for at in range(index, index + _GAP):
        if at >= len(marked.tokens) or marked.tokens[at].sort is Sort.STOP:
            break
        places.append(at + 1)
    return places
