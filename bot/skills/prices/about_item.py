"""The slots of a question about one item."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.spans import Reach
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


def about_item_before(ends: frozenset[str] = frozenset()) -> Callable[[Heard], Sequence[AboutItem]]:
    """One question for each item named; for an unknown one only right behind "for", "are" and the like.

    ``ends`` are words that end an unknown name: "moved" in "how have flutes moved".
    """

    def build(heard: Heard) -> Sequence[AboutItem]:
        items = items_said(heard)
        run = None if items else _pointed_at(heard)
        if run and not is_talk(heard.marked, run):
            last = next((index for index in range(*run) if heard.marked.text_at(index) in ends), run[1])
            items = [item_words(heard.marked, (run[0], last))] if last > run[0] else []
        return [AboutItem(item) for item in items]

    return build


def _pointed_at(heard: Heard) -> Reach | None:
    starts = [index + 1 for index in range(*heard.reach) if heard.marked.text_at(index) in _POINTERS]
    runs = [unknown_item(heard.marked, (start, heard.reach[1])) for start in starts]
    return next((run for run, start in zip(runs, starts, strict=True) if run and run[0] == start), None)


about_item = about_item_before()


_POINTERS = frozenset("for on of are is".split())
