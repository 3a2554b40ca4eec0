"""The most a customer may buy: "limit 4", "max 2 per person"."""

from __future__ import annotations

from dataclasses import dataclass

from bot.reading.each import CONTAINER_WORDS
from bot.reading.numbers import NUMBER_WORDS, number_at
from bot.reading.spans import Marked

_OPENERS = frozenset("limit lim lmt max maximum only".split())
_STARTERS = _OPENERS | NUMBER_WORDS
_BUYERS = frozenset("person customer household cust shopper family head customers people visit transaction".split())


@dataclass(frozen=True, slots=True)
class Limit:
    """The most a customer may buy, in packs (or in whatever the price is for)."""

    packs: int


def find_limits(marked: Marked) -> None:
    """Mark every limit; amounts are marked before, for "max 40p" is none."""
    marked.mark_where(_STARTERS, lambda index: _limit_at(marked, index))


def _limit_at(marked: Marked, index: int) -> tuple[Limit, int] | None:
    opener = marked.word(index)
    at = index
    if opener in _OPENERS:
        at += 1 + (marked.word(index + 1) in ("of", "is", ":"))
    number = number_at(marked, at)
    if number is None or number[0].whole is None or number[0].decimals:
        return None
    end = _per_buyer(marked, number[1])
    if end is None and opener not in ("limit", "lim", "lmt"):
        return None
    return Limit(number[0].whole), end or number[1]


def _per_buyer(marked: Marked, index: int) -> int | None:
    at = index + (marked.word(index) in CONTAINER_WORDS or marked.word(index) == "each")
    if marked.word(at) in ("per", "a", "to", "/") and marked.word(at + 1) in _BUYERS:
        return at + 2
    if marked.word(at) in ("per", "to") and marked.word(at + 1) == "a" and marked.word(at + 2) in _BUYERS:
        return at + 3
    return None
