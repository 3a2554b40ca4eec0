"""Cue phrases: compiled once, indexed by their first words, found in a message in one pass."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from rapidfuzz import process
from rapidfuzz.distance import OSA

from bot.reading.form import Form
from bot.reading.spans import Marked
from bot.reading.words import Sort, is_english, lexicon

_GAP = 3
_OPENING_WORDS = 3
_LONG_WORD = 5


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
        if self.opening and not _opens(marked, index):
            return None
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


def _opens(marked: Marked, index: int) -> bool:
    """True among the first words of a sentence, or after a comma, with nothing but calls and fillers before."""
    start = index
    while start > 0 and not _parts(marked, start - 1) and index - start < _OPENING_WORDS:
        start -= 1
    opening = start == 0 or _parts(marked, start - 1)
    return opening and all(marked.text_at(at) in lexicon()["openers"] for at in range(start, index))


def _parts(marked: Marked, index: int) -> bool:
    return marked.tokens[index].sort is Sort.STOP or marked.tokens[index].text == ","


@dataclass(frozen=True, slots=True)
class Hit:
    """A cue that was said: of which form, how many words of it, and where."""

    form: Form
    weight: int
    start: int
    end: int

    @property
    def told(self) -> int:
        """How much was said for its form: the words of the cue, and those that must be said besides."""
        return self.weight + len(self.form.also)


class CueIndex:
    """The cues of all forms, and the phrases that rule forms out, by their first words."""

    def __init__(self, forms: Sequence[Form]) -> None:
        self._by_word: dict[str, list[tuple[Cue, Form, bool]]] = {}
        for form in forms:
            for phrases, forbids in ((form.cues, False), (form.never, True)):
                for compiled in map(cue, phrases):
                    for word in compiled.parts[0] or ():
                        self._by_word.setdefault(word, []).append((compiled, form, forbids))
        self._found = [(form, form.found) for form in forms if form.found]
        self._long_words = [word for word in self._by_word if len(word) >= _LONG_WORD]

    def said(self, marked: Marked) -> tuple[list[Hit], list[Hit]]:
        """Every cue said in a message, and every phrase that rules a form out."""
        said: list[Hit] = []
        forbidden: list[Hit] = []
        for index in range(len(marked.tokens)):
            for compiled, form, forbids in self._by_word.get(self._spelt(marked, index), ()):
                end = compiled.end_in(marked, index)
                if end is not None:
                    (forbidden if forbids else said).append(Hit(form, compiled.weight, index, end))
        said += [Hit(form, end - start, start, end) for form, found in self._found for start, end in found(marked)]
        return said, forbidden

    def _spelt(self, marked: Marked, index: int) -> str:
        """The word of a token; a slip in the first word of a cue is put right."""
        word = marked.tokens[index].text
        if len(word) < _LONG_WORD or word in self._by_word or not marked.is_sort(index, Sort.WORD):
            return word
        if is_english(word):
            return word
        close = process.extractOne(word, self._long_words, scorer=OSA.distance, score_cutoff=1)
        return close[0] if close else word
