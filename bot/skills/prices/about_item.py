"""The slots of a question about one item."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.strangers import is_talk, item_words, unknown_item
from core.money import Currency


@dataclass(frozen=True, slots=True)
class AboutItem:
    """An item asked about."""

    item: str

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The one slot: the item's name."""
        del currency
        return {"item": self.item}


def items_said(heard: Heard) -> list[str]:
    """The items named in a stretch, else the only item of the whole message."""
    inside = _items(heard, heard.reach)
    if inside:
        return inside
    everywhere = _items(heard, (0, len(heard.marked.tokens)))
    return everywhere if len(everywhere) == 1 else []


def _items(heard: Heard, reach: tuple[int, int]) -> list[str]:
    return list(dict.fromkeys(span.value.name for span in named(heard.marked, reach, NameSort.ITEM)))


def about_item(heard: Heard) -> Sequence[AboutItem]:
    """One question for each item named; for an unknown one only right behind "for", "are" and the like."""
    items = items_said(heard)
    unknown = unknown_item(heard.marked, heard.reach)
    pointed = unknown is not None and heard.marked.text_at(unknown[0] - 1) in _POINTERS
    if not items and unknown and pointed and not is_talk(heard.marked, unknown):
        items = [item_words(heard.marked, unknown)]
    return [AboutItem(item) for item in items]


_POINTERS = frozenset("for on of are is".split())
