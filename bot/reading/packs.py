"""Quantities: packs in every written form, multi-buys, and the words that make a price one for each."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from bot.reading.amounts import Amount
from bot.reading.names import Named, NameSort
from bot.reading.numbers import COLLECTIVES, Number, number_at
from bot.reading.spans import Found, Marked
from bot.reading.words import Sort, singular
from core.counts import Quantity

_CONTAINERS = frozenset(
    "pack pk packet pkt box bag case carton set tub bundle tin jar pouch sleeve roll crate net sack bucket".split()
)
_COUNTS = frozenset("ct cnt count pc pcs piece pieces pce sheet sheets".split())
_PAIRS = frozenset(("pair", "pairs", "pr", "prs"))
_ADJECTIVES_MOST = 2


@dataclass(frozen=True, slots=True)
class Multi:
    """A multi-buy: the price is for ``packs`` of whatever is sold ("3 for 2.00")."""

    packs: int


@dataclass(frozen=True, slots=True)
class Loose:
    """Single units counted without a pack; ``other`` is a second sensible count, ``firm`` False for a vague word."""

    units: int
    other: int | None = None
    firm: bool = True


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


def is_container(word: str) -> bool:
    """True for a word of something that holds several units."""
    return singular(word) in _CONTAINERS or word in ("pks", "pkts")


def find_each(marked: Marked) -> None:
    """Mark the per-unit words and the words for the whole; amounts are marked before."""
    for index in range(len(marked.tokens)):
        found = _each_at(marked, index) or _whole_at(marked, index)
        if found:
            marked.mark(index, found[1], found[0])


def _each_at(marked: Marked, index: int) -> tuple[Each, int] | None:
    word, after = marked.word(index), marked.word(index + 1)
    if word in _EACH_WORDS or (word in ("/", "@") and after in _EACH_WORDS):
        end = index + (1 if word in _EACH_WORDS else 2)
        if is_container(marked.word(end)):
            return Each(Per.PACK), end + 1
        return Each(Per.COUNTED), end
    if (word, after) in _EACH_PHRASES:
        return Each(_EACH_PHRASES[word, after]), index + 2
    if word in ("per", "/") or (word in ("a", "an", "the") and _after_amount(marked, index)):
        return _per_thing(marked, index)
    return None


def _after_amount(marked: Marked, index: int) -> bool:
    return any(span.end == index for span in marked.each(Amount))


def _per_thing(marked: Marked, index: int) -> tuple[Each, int] | None:
    at = index + 1
    if marked.word(index) == "for":
        at += 1
    word = marked.word(at)
    if word in ("person", "customer", "household", "cust", "shopper", "head"):
        return None
    if is_container(word) and word == singular(word) and marked.word(at + 1) != "of":
        return Each(Per.PACK), at + 1
    if word in COLLECTIVES and word != "score":
        return Each(Per.SEVERAL, COLLECTIVES[word]), at + 1
    if word == "hundred" or (word == "100" and marked.word(index) in ("per", "/")):
        return Each(Per.SEVERAL, 100), at + 1
    if word in _PAIRS or word in ("one", "item"):
        return Each(Per.UNIT), at + 1
    item = next((span for span in marked.each(Named, at, at + 1) if span.value.sort is NameSort.ITEM), None)
    if item and _single(marked, item):
        marked.mark(index, at, Each(Per.UNIT))
    return None


def _single(marked: Marked, item: Found[Named]) -> bool:
    last = marked.text_at(item.end - 1)
    return last == singular(last)


def _whole_at(marked: Marked, index: int) -> tuple[Whole, int] | None:
    for phrase in _WHOLE.get(marked.word(index), ()):
        if marked.has_phrase(index, phrase):
            return Whole(), index + len(phrase)
    return None


def find_quantities(marked: Marked) -> None:
    """Mark packs, multi-buys and loose counts; names, sizes, dates and amounts are marked before."""
    for find in (_packs, _multis, _loose):
        index = 0
        while index < len(marked.tokens):
            index = max(find(marked, index), index + 1)


def _packs(marked: Marked, index: int) -> int:
    ranged = _range(marked, index)
    if ranged:
        marked.mark(index, ranged[1], ranged[0])
        return ranged[1]
    found = (
        _packs_times(marked, index)
        or _packs_of(marked, index)
        or _in_a_pack(marked, index)
        or _pack_of(marked, index)
        or _sized_pack(marked, index)
    )
    if found is None:
        return index
    marked.mark(index, found[1], found[0])
    return found[1]


def _range(marked: Marked, index: int) -> tuple[Loose, int] | None:
    """18-20ct: one or the other."""
    first = _count(marked, index)
    second = _count(marked, first[1]) if first and marked.glued(first[1]) else None
    if first is None or second is None or not marked.is_sort(index, Sort.NUMBER):
        return None
    packed = is_container(marked.word(second[1])) or marked.word(second[1]) in _COUNTS
    return Loose(first[0], second[0]), second[1] + packed


def _count(marked: Marked, index: int) -> tuple[int, int] | None:
    found = number_at(marked, index)
    if found is None or found[0].whole is None or found[0].decimals or found[0].other is not None:
        return None
    return found[0].whole, found[1]


_NUMBERED_PACKS = {"single": 1, "twin": 2, "triple": 3}


def _packs_times(marked: Marked, index: int) -> tuple[Quantity, int] | None:
    """2 x 6pk, 2x12, 4 12pk, 3 ten-packs."""
    first = _count(marked, index)
    if first is None:
        return None
    at = first[1]
    if marked.glued(at) and _count(marked, at):
        return None
    crossed = marked.word(at) in ("x", "×", "*")
    second = _count(marked, at + crossed)
    if second is None:
        return None
    end = second[1]
    if is_container(marked.word(end)) or marked.word(end) in _COUNTS:
        return Quantity(first[0], second[0], True), end + 1
    return (Quantity(first[0], second[0], True), end) if crossed else None


def _packs_of(marked: Marked, index: int) -> tuple[Quantity, int] | None:
    """2 packs of 12; 2 packs 12ct; 2 packs."""
    first = _count(marked, index)
    if first is None or not is_container(marked.word(first[1])):
        return None
    word, at = marked.word(first[1]), first[1] + 1
    if marked.word(at) in ("of", "with", "x"):
        size = _count(marked, at + 1)
        if size:
            return Quantity(first[0], size[0], True), _past_count_word(marked, size[1])
    if word == singular(word) and first[0] > 1:
        return None
    size = _count(marked, at)
    if size and marked.word(size[1]) in _COUNTS:
        return Quantity(first[0], size[0], True), size[1] + 1
    return Quantity(first[0], None, True), at


def _past_count_word(marked: Marked, index: int) -> int:
    return index + 1 if marked.word(index) in _COUNTS else index


def _in_a_pack(marked: Marked, index: int) -> tuple[Quantity, int] | None:
    """5 in a box, 12 to a pack, 12 per pack."""
    size = _count(marked, index)
    if size is None or marked.word(index - 1) == "or":
        return None
    at = size[1]
    if marked.word(at) in ("in", "to") and marked.word(at + 1) in ("a", "each", "the", "every"):
        at += 2
    elif marked.word(at) == "per":
        at += 1
    else:
        return None
    return (Quantity(1, size[0], True), at + 1) if is_container(marked.word(at)) else None


def _pack_of(marked: Marked, index: int) -> tuple[Quantity, int] | None:
    """A box of 60; packs of 6; a pack of pencils has no known size."""
    at = index + (marked.word(index) in ("a", "an", "the", "per", "one"))
    word = marked.word(at)
    if not is_container(word):
        return None
    if marked.word(at + 1) in ("of", "with"):
        size = _count(marked, at + 2)
        if size:
            return Quantity(1, size[0], True), _past_count_word(marked, size[1])
        if at > index or word == singular(word):
            return Quantity(1, None, True), at + 2
    return None


def _sized_pack(marked: Marked, index: int) -> tuple[Quantity, int] | None:
    """24ct, 12 pk, 12-pack, twin pack."""
    if marked.word(index) in _NUMBERED_PACKS and is_container(marked.word(index + 1)):
        return Quantity(1, _NUMBERED_PACKS[marked.word(index)], True), index + 2
    size = _count(marked, index)
    if size is None or (size[0] == 1 and is_container(marked.word(size[1]))):
        return None
    unit = marked.word(size[1])
    if unit in _COUNTS or (is_container(unit) and (unit == singular(unit) or marked.glued(size[1]))):
        return Quantity(1, size[0], True), size[1] + 1
    return None


def _multis(marked: Marked, index: int) -> int:
    count = _count(marked, index)
    if count and count[0] > 0:
        at = count[1]
        joined = marked.word(at) in ("for", "/", "@") or (marked.word(at) == "/" and marked.glued(at))
        if joined and any(marked.each(Amount, at + 1, at + 2)):
            marked.mark(index, at + 1, Multi(count[0]))
            return at + 1
    if marked.word(index) in ("for", "/", "gets", "buys") and _after_amount(marked, index):
        at = index + 1 + (marked.word(index + 1) in ("the", "you"))
        count = _count(marked, at) or _bare_collective(marked, at)
        if count and not _item_at(marked, count[1]):
            marked.mark(index, count[1], Multi(count[0]))
            return count[1]
    return index


def _bare_collective(marked: Marked, index: int) -> tuple[int, int] | None:
    word = marked.word(index)
    return (COLLECTIVES[word], index + 1) if word in COLLECTIVES else None


def _loose(marked: Marked, index: int) -> int:
    if marked.word(index) == "x" and (count := _count(marked, index + 1)):
        marked.mark(index, count[1], Loose(count[0]))
        return count[1]
    found = number_at(marked, index)
    if found is None or found[0].decimals:
        return index
    number, end = found
    after = end
    if marked.word(after) in _PAIRS or marked.word(after) == "x":
        after += 1
    if marked.word(after) == "of":
        after += 1 + (marked.word(after + 1) in ("them", "those", "these", "the"))
    if number.whole is None:
        marked.mark(index, after, Loose(max(1, round(number.value)), None, False))
        return after
    other_at = end + 1 + (marked.word(end + 1) in ("maybe", "perhaps", "even"))
    if marked.word(end) == "or" and (second := _count(marked, other_at)):
        marked.mark(index, second[1], Loose(number.whole, second[0]))
        return second[1]
    other = None if number.other is None else int(number.other)
    firm = number.other != number.value
    marked.mark(index, after, Loose(number.whole, other if firm else None, firm))
    return after


def _item_at(marked: Marked, index: int) -> bool:
    return any(span.value.sort is NameSort.ITEM for span in marked.each(Named, index, index + 1))


__all__ = [
    "Each",
    "Loose",
    "Multi",
    "Number",
    "Per",
    "Sort",
    "Whole",
    "find_each",
    "find_quantities",
    "is_container",
]
