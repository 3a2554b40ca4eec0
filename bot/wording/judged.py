"""What is said of a price point, of a price far off it, and of names the group does not know."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from bot.wording.amounts import UnitPrice, exact_unit_price, unit_prices
from bot.wording.things import listed, plural
from core.group import Settings
from core.items import PricePoint
from core.prices import Verdict

KEEP_IT = "Keep it"
NEW_ITEM = "New item"
NEW_ITEMS = "New items"


def point_words(point: PricePoint, settings: Settings) -> str:
    """A price point in a few words: "price point 5¢, at most 7¢"."""
    parts = []
    if point.target is not None:
        parts.append(f"price point {exact_unit_price(point.target, settings)}")
    if point.limit is not None:
        parts.append(f"at most {exact_unit_price(point.limit, settings)}")
    return ", ".join(parts)


def told_of(verdict: Verdict, settings: Settings, *beside: Fraction | None) -> UnitPrice:
    """How the unit prices of a verdict are told, and those ``beside`` it: in its post and in an alert on it alike."""
    history = verdict.history
    lows = [seen.unit_price for seen in (verdict.sighting, history.lowest, history.lowest_recent) if seen]
    usual = history.usual.price if history.usual else None
    return unit_prices([*lows, usual, *beside], settings, verdict.price_point)


def is_it_right(verdict: Verdict, settings: Settings) -> str:
    """The question about a price that is four or more times off."""
    tell = told_of(verdict, settings, verdict.sighting.regular_unit_price)
    unit = tell(verdict.sighting.regular_unit_price)
    one = f"{unit} for one {verdict.sighting.item}"
    return f"{one}? {_expected(verdict, tell, settings)} Is {unit} for one right?"


def _expected(verdict: Verdict, tell: UnitPrice, settings: Settings) -> str:
    history = verdict.history
    if history.usual:
        return f"They are usually {tell(history.usual.price)}."
    if verdict.rests_on_price_point:
        return f"We aim for {point_words(verdict.price_point, settings).removeprefix('price point ')}."
    return f"So far they were {tell(history.lowest.unit_price)}." if history.lowest else ""


def no_such_item(word: str) -> str:
    """The question about an unknown item."""
    return f"“{word}” is new to me. A new item, or another name for one of ours? (You can type its name.)"


def no_such_items(words: Sequence[str]) -> str:
    """The question about several unknown items at once."""
    return f"New to me: {listed([plural(word) for word in words])}. All new items? Else say it again with our names."


def no_such_member(name: str) -> str:
    """The question about a name that is no member's."""
    return f"{name} is no member of the group yet. Add {name}?"


def new_member(name: str) -> str:
    """The label that adds a member."""
    return f"Add {name}"
