"""A name that may mean several members: asked about where a reading rests on it, never guessed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from bot.reading.form import Reading
from bot.reading.names import Named, NameSort, exactly, named
from bot.reading.offers import Choice, Unclear
from bot.reading.spans import Found, Marked


def which_member(marked: Marked, readings: Sequence[Reading]) -> Unclear | None:
    """The question whom the first such name means; None where no reading names anybody who may be another."""
    doubted = [span for span in named(marked, (0, len(marked.tokens)), NameSort.MEMBER) if span.value.rivals]
    if not doubted:
        return None
    said = {text for reading in readings for text in _texts(reading.slots.as_json(marked.settings.currency))}
    return next((_question(marked, span) for span in doubted if span.value.name in said), None)


def _texts(slots: object) -> Iterator[str]:
    """Every text in the slots of a reading."""
    match slots:
        case str():
            yield slots
        case dict():
            yield from (text for value in slots.values() for text in _texts(value))
        case list():
            yield from (text for value in slots for text in _texts(value))


def _question(marked: Marked, span: Found[Named]) -> Unclear:
    tokens = marked.tokens[span.start : span.end]
    before, after = marked.text[: tokens[0].start], marked.text[tokens[-1].end :]
    names = (span.value.name, *span.value.rivals)
    end = "’s" if marked.said(span.start, span.end).endswith(("’s", "'s")) else ""
    choices = (Choice(name, f"{before}{exactly(name, names)}{end}{after}") for name in names)
    return Unclear(f"Which one: {' or '.join(names)}?", tuple(choices))
