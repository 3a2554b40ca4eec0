"""An invented group whose catalogue has 500 items."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

from core.group import Group, Settings
from core.items import Item, PricePoint
from core.money import currency

_ADJECTIVES = (
    "red blue green yellow purple orange white black silver golden wooden plastic metal folding striped"
    " spotted jumbo tiny scented washable plain glossy sturdy soft bright"
).split()
_NOUNS = (
    "pencil crayon pen notebook ruler eraser sharpener marker folder comb towel ball whistle ribbon button"
    " puppet bracelet sticker mirror balloon"
).split()
ITEMS = tuple(" ".join(pair) for pair in product(_ADJECTIVES, _NOUNS))
STORES = ("corner store", "Larkmoor Market", "Wickerby Hall")
MEMBERS = ("Ines", "Tobias", "Mei", "Amara")


def group() -> Group:
    """The group; every other item has a price point of 4 to 33 cents."""
    items = (
        Item(name, (), PricePoint(Fraction(4 + number % 30)) if number % 2 else PricePoint())
        for number, name in enumerate(ITEMS)
    )
    return Group("Harbour Lane packers", Settings(currency("USD")), MEMBERS, STORES, tuple(items))


def plural(item: str) -> str:
    """The plural, regular for all of these."""
    return f"{item}s"
