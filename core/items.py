"""Items of the group: their names, their price points, remarks on them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from core.cautions import Hazard


@dataclass(frozen=True, slots=True)
class PricePoint:
    """What one unit should cost, and the most the group would pay, in minor units (fractions allowed)."""

    target: Fraction | None = None
    limit: Fraction | None = None

    @property
    def most(self) -> Fraction | None:
        """The most to pay for one unit: the limit, or the price point itself where no limit is set."""
        return self.target if self.limit is None else self.limit


@dataclass(frozen=True, slots=True)
class Item:
    """A thing the group packs, under the group's own name for it."""

    name: str
    aliases: tuple[str, ...] = ()
    price_point: PricePoint = PricePoint()
    hazards: frozenset[Hazard] = frozenset()
    """What the group has flagged it for."""


@dataclass(frozen=True, slots=True)
class Note:
    """A remark about an item: a kind that breaks, one that is well made."""

    item: str
    text: str
    by: str
    on: date
