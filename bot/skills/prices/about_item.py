"""The slots of a question about one item."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.spans import Reach
from bot.reading.strangers import is_talk, item_words, unknown_item
from bot.reading.words import lexicon
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

    ``ends`` are words that no unknown name holds: "moved" in "how has the price of flutes moved".
    """

    def build(heard: Heard) -> Sequence[AboutItem]:
        items = items_said(heard)
        run = None if items else _unknown(heard, ends)
        if run and heard.marked.text_at(run[0] - 1) in _POINTERS and not is_talk(heard.marked, run):
            last = next((index for index in range(*run) if heard.marked.text_at(index) in ends), run[1])
            items = [item_words(heard.marked, (run[0], last))] if last > run[0] else []
        return [AboutItem(item) for item in items]

    return build


def _unknown(heard: Heard, ends: frozenset[str]) -> Reach | None:
    """The unknown item of a stretch, words that are none before it passed over."""
    run = unknown_item(heard.marked, heard.reach)
    while run and all(heard.marked.text_at(index) in ends for index in range(*run)):
        run = unknown_item(heard.marked, (run[1], heard.reach[1]))
    return run


about_item = about_item_before()


def asks_number(heard: Heard) -> bool:
    """Whether a price point with its amount is asked about rather than set: "our limit is 40c, right?"."""
    said = heard.said
    opening = next((word for word in said if word not in lexicon()["openers"]), "")
    tagged = bool(said) and (said[-1] in _TAGS or tuple(said[-2:]) in _TURNED_TAGS)
    return opening in _ASKING or tagged or (heard.asked and not _WISHES & set(said))


_ASKING = frozenset("what whats wats which is was isnt wasnt did didnt".split())
_TAGS = frozenset("right innit correct eh".split())
_TURNED_TAGS = frozenset((("isnt", "it"), ("arent", "they"), ("dont", "we"), ("didnt", "we"), ("i", "forget")))
_WISHES = frozenset("can could would will please pls ok okay lets set make change lower raise put".split())


_POINTERS = frozenset("for on of are is".split())
