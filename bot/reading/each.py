"""The words that make a price one for each, for a pack, for a dozen; and those that make it one for all."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from bot.reading.amounts import Amount
from bot.reading.names import Named, NameSort, named
from bot.reading.numbers import COLLECTIVES
from bot.reading.spans import Found, Marked
from bot.reading.words import Sort, singular

_CONTAINERS = frozenset(
    "pack pk packet pkt box bag case carton set tub bundle tin jar pouch sleeve roll crate net sack bucket"
    " multipack".split()
)
CONTAINER_WORDS = _CONTAINERS | {word + "s" for word in _CONTAINERS} | {"boxes", "pouches"}
"""The words for what holds several units, one or many of it."""
PAIRS = frozenset(("pair", "pairs", "pr", "prs"))


class Per(StrEnum):
    """What one price is for, where a word says that it is not for the whole."""

    COUNTED = "counted"
    PACK = "pack"
    UNIT = "unit"
    SEVERAL = "several"


@dataclass(frozen=True, slots=True)
class Each:
    """A per-unit word beside a price; ``units`` says for how many it is: "72c a dozen"."""

    per: Per
    units: int = 1


@dataclass(frozen=True, slots=True)
class Whole:
    """A word that says the price is for all of it: "altogether", "total"."""


_WHOLE_PHRASES = (
    "for the lot|for all of them|for all of it|for them all|for all|for everything|for the whole|for the set"
    "|all together|all in|all told|altogether|in all|in total|total|the lot|flat|combined"
)
_WHOLE: dict[str, list[tuple[str, ...]]] = {}
for _phrase in _WHOLE_PHRASES.split("|"):
    _WHOLE.setdefault(_phrase.split()[0], []).append(tuple(_phrase.split()))
_EACH_WORDS = frozenset(("each", "ea", "apiece", "@ea", "every"))
_EACH_PHRASES = {
    ("a", "piece"): Per.COUNTED,
    ("per", "piece"): Per.COUNTED,
    ("a", "pop"): Per.COUNTED,
    ("per", "unit"): Per.UNIT,
}
_STARTERS = _EACH_WORDS | set(_WHOLE) | frozenset("/ @ a an the per".split())


def is_container(word: str) -> bool:
    """True for a word of something that holds several units."""
    return word in CONTAINER_WORDS


def find_each(marked: Marked) -> None:
    """Mark the per-unit words and the words for the whole; amounts are marked before."""
    marked.mark_where(_STARTERS, lambda index: _each_at(marked, index) or _whole_at(marked, index))


def _each_at(marked: Marked, index: int) -> tuple[Each, int] | None:
    word, after = marked.word(index), marked.word(index + 1)
    if word in _EACH_WORDS or (word in ("/", "@") and after in _EACH_WORDS):
        end = index + (1 if word in _EACH_WORDS else 2)
        if is_container(marked.word(end)):
            return Each(Per.PACK), end + 1
        return Each(Per.COUNTED), end
    if (word, after) in _EACH_PHRASES:
        return Each(_EACH_PHRASES[word, after]), index + 2
    if word == "per" and marked.is_sort(index - 1, Sort.NUMBER):
        return None
    if word in ("per", "/") or (word in ("a", "an", "the") and after_amount(marked, index)):
        return _per_thing(marked, index)
    return None


def after_amount(marked: Marked, index: int) -> bool:
    """True right behind an amount."""
    return any(span.end == index for span in marked.each(Amount))


def _per_thing(marked: Marked, index: int) -> tuple[Each, int] | None:
    at = index + 1
    word = marked.word(at)
    if word in ("person", "customer", "household", "cust", "shopper", "head"):
        return None
    if is_container(word) and word == singular(word) and marked.word(at + 1) != "of":
        return Each(Per.PACK), at + 1
    if word in COLLECTIVES and word != "score":
        return Each(Per.SEVERAL, COLLECTIVES[word]), at + 1
    if word == "hundred" or (word == "100" and marked.word(index) in ("per", "/")):
        return Each(Per.SEVERAL, 100), at + 1
    if word in PAIRS or word in ("one", "item"):
        return Each(Per.UNIT), at + 1
    items = named(marked, (at, at + 1), NameSort.ITEM)
    return (Each(Per.UNIT), at) if items and _single(marked, items[0]) else None


def _single(marked: Marked, item: Found[Named]) -> bool:
    last = marked.text_at(item.end - 1)
    return last == singular(last)


def _whole_at(marked: Marked, index: int) -> tuple[Whole, int] | None:
    for phrase in _WHOLE.get(marked.word(index), ()):
        if marked.has_phrase(index, phrase):
            return Whole(), index + len(phrase)
    return None
