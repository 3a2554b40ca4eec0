"""What is short, with all that somebody in front of a shelf wants to know of it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from bot.skills.supply import Supply
from core.items import PricePoint
from core.prices import Sighting
from core.stock import Reservation


@dataclass(frozen=True, slots=True)
class Short:
    """An item that is short: units, the packs it is sold in, its price point, the best price, who is buying it."""

    item: str
    units: int
    packs: tuple[int, ...]
    price_point: PricePoint
    best: Sighting | None = None
    last_here: Sighting | None = None
    buying: tuple[Reservation, ...] = ()

    @property
    def at_target(self) -> Fraction | None:
        """What the missing units cost at the price point, exact minor units."""
        return None if self.price_point.target is None else self.units * self.price_point.target

    @property
    def at_best(self) -> Fraction | None:
        """What the missing units cost at the best price now known, exact minor units."""
        return None if self.best is None else self.units * self.best.unit_price

    @property
    def open_units(self) -> int:
        """The units that nobody has said to buy."""
        return max(0, self.units - sum(one.units for one in self.buying))

    @property
    def dearer_here(self) -> bool:
        """True where another shop is known to be cheaper than the last price seen here."""
        if self.best is None or self.last_here is None or self.best.store == self.last_here.store:
            return False
        return self.best.unit_price < self.last_here.unit_price


def short_items(supply: Supply) -> list[Short]:
    """All items that are short, the one that costs most first."""
    found = [of_item(item, supply) for item in supply.needs.short]
    return sorted(found, key=lambda one: -_weight(one))


def at_shop(store: str, supply: Supply) -> list[Short]:
    """What to pick up in a shop, the most useful first.

    First what no other shop is known to sell for less, the dearest need first; then what is cheaper elsewhere;
    then what somebody else is about to buy.
    """
    found = [of_item(item, supply, store) for item in supply.needs.short]
    return sorted(found, key=lambda one: (not one.open_units, one.dearer_here, one.last_here is None, -_weight(one)))


def of_item(item: str, supply: Supply, store: str | None = None) -> Short:
    """What is short of one item; in a shop, with the packs and the last price seen there."""
    known = supply.desk.group.item(item)
    seen = (one.sighting for one in supply.seen_of.get(item, ()))
    last_here = next((one for one in seen if store is not None and one.store == store), None)
    packs = (supply.pack_sizes(item, store) if store else ()) or supply.pack_sizes(item)
    return Short(
        item,
        supply.needs.short.get(item, 0),
        packs,
        known.price_point if known else PricePoint(),
        supply.best.get(item),
        last_here,
        tuple(one for one in supply.reserved if one.item == item),
    )


def _weight(one: Short) -> Fraction:
    return one.at_target or one.at_best or Fraction(0)
