"""Why a message was read so: its spans, the forms tried on it, and what came of each."""

from __future__ import annotations

from collections.abc import Iterator

from bot.reading.reader import Understood
from bot.reading.strangers import strange_words


def explain(understood: Understood) -> Iterator[str]:
    """The lines of an explanation: words and what they were taken for, then the forms in the order tried."""
    marked = understood.marked
    for span in marked.spans:
        yield f"span    {marked.said(span.start, span.end)!r:28} {span.value}"
    loose = " ".join(marked.text_at(index) for index in strange_words(marked, (0, len(marked.tokens))))
    if loose:
        yield f"strange {loose}"
    for tried in understood.tried:
        yield f"form    {tried.form!r:40} on {tried.words!r}: {tried.outcome}"
    for reading in understood.readings:
        yield f"taken   {reading.kind}"
    if not understood.readings:
        yield "taken   chatter: no form fitted"
