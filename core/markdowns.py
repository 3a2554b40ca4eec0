"""Markdowns: the price before and after, for the same count. All amounts in minor units."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from core.money import half_up


class MarkdownError(ValueError):
    """The markdown leaves no sensible price (more than all of it off, or dearer than before)."""


@dataclass(frozen=True, slots=True)
class Marked:
    """A price after its markdown and the regular price before it, for ``count_factor`` times the count."""

    price: int
    regular: int
    count_factor: int = 1


def share_off(regular: int, off: Fraction) -> Marked:
    """A share off the regular price, rounded half up: 75% off 100 is 25."""
    if not 0 < off < 1:
        raise MarkdownError(f"{off} off")
    return Marked(half_up(regular * (1 - off)), regular)


def share_off_after(price: int, off: Fraction) -> Marked:
    """The regular price behind a price that already is ``off`` less: 300 after half off was 600."""
    if not 0 < off < 1:
        raise MarkdownError(f"{off} off")
    return Marked(price, half_up(price / (1 - off)))


def amount_off(regular: int, off: int) -> Marked:
    """An amount off the regular price: 100 off 300 is 200."""
    return was_now(regular, regular - off)


def was_now(regular: int, price: int) -> Marked:
    """Two stated prices: was 240, now 60."""
    if not 0 <= price < regular:
        raise MarkdownError(f"{regular} to {price}")
    return Marked(price, regular)


def buy_some_get_some(regular: int, buy: int, get: int, off: Fraction) -> Marked:
    """Buy ``buy`` at the regular price of one, get ``get`` more at ``off`` less.

    Buy 1 get 1 free at 110: 2 for 110, regular 220. Buy 2 get 1 half off at 100: 3 for 250.
    """
    if buy < 1 or get < 1 or not 0 < off <= 1:
        raise MarkdownError(f"buy {buy} get {get}")
    return Marked(half_up(regular * (buy + get * (1 - off))), regular * (buy + get), buy + get)
