"""What a stretch of a message holds: money, counts, markdowns."""

from __future__ import annotations

from bot.reading.amounts import Amount, Role
from bot.reading.each import Each
from bot.reading.markdowns import BuyGet, ShareOff
from bot.reading.packs import Loose, Multi
from bot.reading.spans import Marked, Reach
from core.counts import Quantity

_PRICES = frozenset((Role.PRICE, Role.NOW, Role.WAS))


def priced(marked: Marked, reach: Reach) -> bool:
    """Whether an amount is named that can be a price."""
    return any(span.value.role in _PRICES for span in marked.each(Amount, *reach))


def money_named(marked: Marked, reach: Reach) -> bool:
    """Whether an amount is named that can be a price, or the most to pay."""
    return priced(marked, reach) or any(span.value.role is Role.MOST for span in marked.each(Amount, *reach))


def packed(marked: Marked, reach: Reach) -> bool:
    """Whether packs or a multi-buy are named."""
    return any(True for sort in (Quantity, Multi) for _ in marked.each(sort, *reach))


def counted(marked: Marked, reach: Reach) -> bool:
    """Whether units or packs are counted."""
    return packed(marked, reach) or any(marked.each(Loose, *reach))


def for_each(marked: Marked, reach: Reach) -> bool:
    """Whether a word makes a price one for each."""
    return any(marked.each(Each, *reach))


def marked_down(marked: Marked, reach: Reach) -> bool:
    """Whether a markdown is named."""
    return any(True for sort in (ShareOff, BuyGet) for _ in marked.each(sort, *reach))
