"""Quantities: packs in every written form, multi-buys, and single units."""

from __future__ import annotations

from dataclasses import dataclass

from bot.reading.amounts import Amount
from bot.reading.each import CONTAINER_WORDS, PAIRS, after_amount, is_container
from bot.reading.names import NameSort, named
from bot.reading.numbers import COLLECTIVES, NUMBER_WORDS, number_at
from bot.reading.spans import Marked
from bot.reading.words import Sort, singular
from core.counts import Quantity

_COUNTS = frozenset("ct cnt count pc pcs piece pieces pce sheet sheets".split())
_SORTS_OF_PACK = frozenset("multi value bulk family jumbo big mega bumper economy party variety".split())
_NUMBERED_PACKS = {"single": 1, "twin": 2, "triple": 3}
_PACK_STARTERS = NUMBER_WORDS | CONTAINER_WORDS | set(_NUMBERED_PACKS)
_MULTI_STARTERS = NUMBER_WORDS | frozenset(("for", "/", "gets", "buys"))
_LOOSE_STARTERS = NUMBER_WORDS | {"x"}


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


def find_quantities(marked: Marked) -> None:
    """Mark packs, multi-buys and loose counts; names, sizes, dates and amounts are marked before."""
    marked.mark_where(_PACK_STARTERS, lambda index: _packs(marked, index))
    marked.mark_where(_MULTI_STARTERS, lambda index: _multi(marked, index))
    marked.mark_where(_LOOSE_STARTERS, lambda index: _loose(marked, index))


def _packs(marked: Marked, index: int) -> tuple[Quantity | Loose, int] | None:
    return (
        _range(marked, index)
        or _packs_times(marked, index)
        or _packs_of(marked, index)
        or _in_a_pack(marked, index)
        or _pack_of(marked, index)
        or _sized_pack(marked, index)
    )


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
        return Quantity(first[0], second[0]), end + 1
    return (Quantity(first[0], second[0]), end) if crossed else None


def _packs_of(marked: Marked, index: int) -> tuple[Quantity, int] | None:
    """2 packs of 12; 2 packs 12ct; 2 packs; but "2-packs" are packs of 2."""
    first = _count(marked, index)
    if first is None or not is_container(marked.word(first[1])):
        return None
    word, at = marked.word(first[1]), first[1] + 1
    if bracketed := _bracketed(marked, at):
        return Quantity(first[0], bracketed[0]), bracketed[1]
    if marked.word(at) in ("of", "with", "x"):
        size = _count(marked, at + 1)
        if size:
            return Quantity(first[0], size[0]), _past_count_word(marked, size[1])
    if (word == singular(word) and first[0] > 1) or marked.hyphened(first[1]):
        return None
    size = _count(marked, at)
    if size and marked.word(size[1]) in _COUNTS:
        return Quantity(first[0], size[0]), size[1] + 1
    return Quantity(first[0], None), at


def _bracketed(marked: Marked, index: int) -> tuple[int, int] | None:
    """How many are in a pack, behind its word: "(24)", "(8 bars)"."""
    size = _count(marked, index + 1) if marked.word(index) == "(" else None
    if size is None:
        return None
    end = size[1] + marked.is_sort(size[1], Sort.WORD)
    return (size[0], end + 1) if marked.word(end) == ")" else None


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
    return (Quantity(1, size[0]), at + 1) if is_container(marked.word(at)) else None


def _pack_of(marked: Marked, index: int) -> tuple[Quantity, int] | None:
    """A box of 60; packs of 6; a multipack (8 bars); a pack of pencils has no known size."""
    at = index + (marked.word(index) in ("a", "an", "the", "per", "one"))
    word = marked.word(at)
    if not is_container(word):
        return None
    if bracketed := _bracketed(marked, at + 1):
        return Quantity(1, bracketed[0]), bracketed[1]
    if marked.word(at + 1) in ("of", "with"):
        size = _count(marked, at + 2)
        if size:
            return Quantity(1, size[0]), _past_count_word(marked, size[1])
        if at > index or word == singular(word):
            return Quantity(1, None), at + 2
    told = index - (marked.word(index - 1) in _SORTS_OF_PACK)
    behind = any(span.end == told for span in named(marked, (0, index), NameSort.ITEM))
    return (Quantity(1, None), at + 1) if behind and word in ("pack", "pk", "packet", "pkt", "multipack") else None


def _sized_pack(marked: Marked, index: int) -> tuple[Quantity, int] | None:
    """24ct, 12 pk, 12-pack, twin pack."""
    if marked.word(index) in _NUMBERED_PACKS and is_container(marked.word(index + 1)):
        return Quantity(1, _NUMBERED_PACKS[marked.word(index)]), index + 2
    size = _count(marked, index)
    if size is None or (size[0] == 1 and is_container(marked.word(size[1]))):
        return None
    unit = marked.word(size[1])
    if (
        unit in _COUNTS
        or (unit == "s" and marked.glued(size[1]))
        or (is_container(unit) and (unit == singular(unit) or marked.glued(size[1])))
    ):
        return Quantity(1, size[0]), size[1] + 1
    return None


def _multi(marked: Marked, index: int) -> tuple[Multi, int] | None:
    count = _count(marked, index)
    if count and count[0] > 0:
        at = count[1]
        if marked.word(at) in ("for", "/", "@") and any(marked.each(Amount, at + 1, at + 2)):
            return Multi(count[0]), at + 1
    if marked.word(index) in ("for", "/", "gets", "buys") and after_amount(marked, index):
        at = index + 1 + (marked.word(index + 1) in ("the", "you"))
        count = _count(marked, at) or _bare_collective(marked, at)
        if count and not named(marked, (count[1], count[1] + 1), NameSort.ITEM):
            return Multi(count[0]), count[1]
    return None


def _bare_collective(marked: Marked, index: int) -> tuple[int, int] | None:
    word = marked.word(index)
    return (COLLECTIVES[word], index + 1) if word in COLLECTIVES else None


def _loose(marked: Marked, index: int) -> tuple[Loose, int] | None:
    if marked.word(index) == "x" and (count := _count(marked, index + 1)):
        return Loose(count[0]), count[1]
    found = number_at(marked, index)
    if found is None or found[0].decimals:
        return None
    number, end = found
    after = end
    if marked.word(after) in PAIRS or marked.word(after) == "x":
        after += 1
    if marked.word(after) == "of":
        after += 1 + (marked.word(after + 1) in ("them", "those", "these", "the"))
    if number.whole is None:
        return Loose(max(1, round(number.value)), None, False), after
    other_at = end + 1 + (marked.word(end + 1) in ("maybe", "perhaps", "even"))
    if marked.word(end) == "or" and (second := _count(marked, other_at)):
        return Loose(number.whole, second[0]), second[1]
    other = None if number.other is None else int(number.other)
    firm = number.other != number.value
    return Loose(number.whole, other if firm else None, firm), after
