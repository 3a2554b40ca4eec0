"""A message with the spans found in it: which tokens are taken, by what."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
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


@dataclass(slots=True)
class Marked:
    """The tokens of one message and the spans marked on them so far; a token belongs to one span at most."""

    text: str
    tokens: list[Token]
    at: datetime
    settings: Settings
    spans: list[Found[object]] = field(default_factory=list)
    taken: list[bool] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.taken = [False] * len(self.tokens)

    @property
    def today(self) -> date:
        """The day of the message in the group's time zone."""
        return self.settings.day(self.at)

    def word(self, index: int) -> str:
        """The text of a free token; empty outside the message and for a taken token."""
        if 0 <= index < len(self.tokens) and not self.taken[index]:
            return self.tokens[index].text
        return ""

    def text_at(self, index: int) -> str:
        """The text of a token, taken or not; empty outside the message."""
        return self.tokens[index].text if 0 <= index < len(self.tokens) else ""

    def glued(self, index: int) -> bool:
        """True where a token follows the one before it without a blank."""
        return 0 <= index < len(self.tokens) and self.tokens[index].glued

    def is_sort(self, index: int, sort: Sort) -> bool:
        """True for a free token of that sort."""
        return 0 <= index < len(self.tokens) and not self.taken[index] and self.tokens[index].sort is sort

    def free(self, start: int, end: int) -> bool:
        """True where all tokens of a range exist and are free."""
        return 0 <= start < end <= len(self.tokens) and not any(self.taken[start:end])

    def mark(self, start: int, end: int, value: object) -> None:
        """Give a range of tokens to a span."""
        self.spans.append(Found(start, end, value))
        self.taken[start:end] = [True] * (end - start)

    def unmark(self, span: Found[T]) -> None:
        """Take a span away again; its tokens are free."""
        self.spans.remove(span)  # type: ignore[arg-type] # a span of one sort among all
        self.taken[span.start : span.end] = [False] * (span.end - span.start)

    def has_phrase(self, index: int, phrase: tuple[str, ...]) -> bool:
        """True where the free words of a phrase stand at an index."""
        return all(self.word(index + offset) == part for offset, part in enumerate(phrase))

    def each(self, sort: type[T], start: int = 0, end: int | None = None) -> Iterator[Found[T]]:
        """The spans of one sort inside a range, in reading order."""
        last = len(self.tokens) if end is None else end
        inside = [span for span in self.spans if isinstance(span.value, sort) and start <= span.start < last]
        inside.sort(key=lambda span: span.start)
        yield from inside  # type: ignore[misc] # the value's type was checked just above

    def said(self, start: int, end: int) -> str:
        """The words as written, of a range of tokens."""
        return self.text[self.tokens[start].start : self.tokens[end - 1].end] if start < end else ""
