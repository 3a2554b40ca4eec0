"""Taxes named as a rate: "plus 8% tax", "VAT at 20%", or "plus tax" alone."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from bot.reading.numbers import NUMBER_WORDS, number_at
from bot.reading.spans import Marked
from bot.reading.words import Sort

TAX_WORDS = frozenset("tax vat hst gst pst".split())
_PERCENT = frozenset(("%", "percent", "pct"))
_ON_TOP = frozenset("+ plus and add".split())
_WITHIN = frozenset("in included incl inclusive".split())
_HIGHEST = 100


@dataclass(frozen=True, slots=True)
class Tax:
    """A tax on a price, in percent of it; None is the group's own rate."""

    percent: Fraction | None


def find_taxes(marked: Marked) -> None:
    """Mark every tax that is named as a rate, or without a number."""
    marked.mark_where(NUMBER_WORDS | TAX_WORDS, lambda index: _rate_first(marked, index) or _tax_first(marked, index))


def _rate(marked: Marked, index: int) -> tuple[Fraction, int] | None:
    number = number_at(marked, index)
    if number is None or marked.word(number[1]) not in _PERCENT or not 0 <= number[0].value <= _HIGHEST:
        return None
    return number[0].value, number[1] + 1


def _rate_first(marked: Marked, index: int) -> tuple[Tax, int] | None:
    """8% tax; 8.25 percent sales tax."""
    rate = _rate(marked, index)
    if rate is None:
        return None
    at = rate[1] + (marked.word(rate[1]) in ("sales", "of"))
    return (Tax(rate[0]), at + 1) if marked.word(at) in TAX_WORDS else None


def _tax_first(marked: Marked, index: int) -> tuple[Tax, int] | None:
    """VAT at 20%; plus tax."""
    if marked.word(index) not in TAX_WORDS:
        return None
    at = index + 1
    while marked.word(at) in ("at", "of", "is", ":"):
        at += 1
    if rate := _rate(marked, at):
        return Tax(rate[0]), rate[1]
    before = marked.word(index - 1) if marked.word(index - 1) not in ("the", "sales") else marked.word(index - 2)
    if before not in _ON_TOP or marked.word(index + 1) in _WITHIN:
        return None
    amount = marked.is_sort(at, Sort.NUMBER) or marked.word(at) in ("$", "£", "€")
    return None if amount else (Tax(None), index + 1)
