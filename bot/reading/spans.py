"""A message with the spans found in it: which tokens are taken, by what."""

from __future__ import annotations

from bisect import insort
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Generic, TypeVar

from bot.reading.words import Sort, Token
from core.group import Settings

T = TypeVar("T")
Reach = tuple[int, int]
"""A range of tokens: from the first up to, not including, the second."""


@dataclass(frozen=True, slots=True)
class Found(Generic[T]):
    """A span: tokens ``start`` up to, not including, ``end``, and what they mean."""

    start: int
    end: int
    value: T


_EDGE = 16
"""How far beyond either end of a message a look-ahead may reach and find nothing."""


class Marked:
    """The tokens of one message and the spans marked on them so far; a token belongs to one span at most.

    ``remembered`` holds what was found at a token, for finders that look again; marking forgets it.
    """

    __slots__ = ("_free", "_spans", "at", "remembered", "settings", "text", "tokens")

    def __init__(self, text: str, tokens: list[Token], at: datetime, settings: Settings) -> None:
        self.text = text
        self.tokens = tokens
        self.at = at
        self.settings = settings
        self.remembered: dict[int, object] = {}
        nothing = [""] * _EDGE
        self._free = [*nothing, *(token.text for token in tokens), *nothing]
        self._spans: dict[type, list[Found[object]]] = {}

    @property
    def today(self) -> date:
        """The day of the message in the group's time zone."""
        return self.settings.day(self.at)

    @property
    def spans(self) -> list[Found[object]]:
        """All spans, in reading order."""
        return sorted((span for spans in self._spans.values() for span in spans), key=_start)

    def word(self, index: int) -> str:
        """The text of a free token; empty outside the message and for a taken token."""
        return self._free[index + _EDGE]

    def text_at(self, index: int) -> str:
        """The text of a token, taken or not; empty outside the message."""
        return self.tokens[index].text if 0 <= index < len(self.tokens) else ""

    def glued(self, index: int) -> bool:
        """True where a token follows the one before it without a blank."""
        return 0 <= index < len(self.tokens) and self.tokens[index].glued

    def hyphened(self, index: int) -> bool:
        """True where only a hyphen stands between a token and the one before it."""
        return self.glued(index) and self.tokens[index].start > self.tokens[index - 1].end

    def is_sort(self, index: int, sort: Sort) -> bool:
        """True for a free token of that sort."""
        return self._free[index + _EDGE] != "" and self.tokens[index].sort is sort

    def places(self, starters: frozenset[str]) -> list[int]:
        """The free tokens that are one of these words, or a number in digits: where a finder need look."""
        return [
            index
            for index, token in enumerate(self.tokens)
            if (token.text in starters or token.sort is Sort.NUMBER) and self._free[index + _EDGE]
        ]

    def mark_where(self, starters: frozenset[str], find: Callable[[int], tuple[object, int] | None]) -> None:
        """Mark what ``find`` makes of the free tokens that are starters or numbers: a value, and where it ends."""
        for index in self.places(starters):
            if self.word(index) and (found := find(index)):
                self.mark(index, found[1], found[0])

    def mark(self, start: int, end: int, value: object) -> None:
        """Give a range of tokens to a span."""
        insort(self._spans.setdefault(type(value), []), Found(start, end, value), key=_start)
        self._free[start + _EDGE : end + _EDGE] = [""] * (end - start)
        self.remembered.clear()

    def unmark(self, span: Found[T]) -> None:
        """Take a span away again; its tokens are free."""
        self._spans[type(span.value)].remove(span)  # type: ignore[arg-type] # a span of one sort among all
        self._free[span.start + _EDGE : span.end + _EDGE] = [token.text for token in self.tokens[span.start : span.end]]
        self.remembered.clear()

    def hiding(self, hidden: frozenset[int]) -> Marked:
        """The same message with some of its tokens, and the spans on them, out of sight."""
        seen = Marked(self.text, self.tokens, self.at, self.settings)
        seen._free = list(self._free)
        for index in hidden:
            seen._free[index + _EDGE] = ""
        for sort, spans in self._spans.items():
            seen._spans[sort] = [span for span in spans if not hidden.intersection(range(span.start, span.end))]
        return seen

    def bare(self) -> Marked:
        """The same message without its spans, for finders that look again at words another span has taken."""
        return Marked(self.text, self.tokens, self.at, self.settings)

    def has_phrase(self, index: int, phrase: tuple[str, ...]) -> bool:
        """True where the free words of a phrase stand at an index."""
        at = index + _EDGE
        return tuple(self._free[at : at + len(phrase)]) == phrase

    def each(self, sort: type[T], start: int = 0, end: int | None = None) -> list[Found[T]]:
        """The spans of one sort that begin inside a range, in reading order."""
        last = len(self.tokens) if end is None else end
        spans = self._spans.get(sort, ())
        return [span for span in spans if start <= span.start < last]  # type: ignore[misc] # kept by their sort

    def said(self, start: int, end: int) -> str:
        """The words as written, of a range of tokens."""
        return self.text[self.tokens[start].start : self.tokens[end - 1].end] if start < end else ""


def _start(span: Found[object]) -> int:
    return span.start
