"""What was really paid for the units in the kits, first in, first out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from bot.skills.answering import Desk
from bot.skills.supply import Supply
from bot.storage.stock import Drawn, draws, lots
from core.group import Kit
from core.kits import KitLine, PricedKit, season
from core.stock import Cost, Lot, drawn


@dataclass(frozen=True, slots=True)
class Spent:
    """What each draw of an item cost, and the lots that are left of it."""

    drawn: tuple[tuple[Drawn, Cost], ...]
    left: tuple[Lot, ...]


def spent_on_items(desk: Desk) -> dict[str, Spent]:
    """By item, all that came in and went out, reckoned first in, first out."""
    by_item: dict[str, list[Drawn]] = {}
    for one in draws(desk.books):
        by_item.setdefault(one.item, []).append(one)
    found = {}
    for item, came in lots(desk.books).items():
        gone = by_item.get(item, [])
        costs, left = drawn(came, [one.units for one in gone])
        found[item] = Spent(tuple(zip(gone, costs, strict=True)), tuple(left))
    return found


def in_packed(kit: Kit, spent: dict[str, Spent], today: date) -> dict[str, Cost]:
    """By item, what the units cost that went into the kits of this sort packed in the season of a day, up to it."""
    starts = season(kit.by, today).start if kit.by else date.min
    costs: dict[str, Cost] = {}
    for item, of_item in spent.items():
        for one, cost in of_item.drawn:
            if one.kit == kit.name and starts <= one.on <= today:
                costs[item] = costs.get(item, Cost()) + cost
    return costs


def priced(kit: Kit, supply: Supply) -> PricedKit:
    """A kit with what the units of each line cost by price point, at the best price, and as really paid."""
    spent = spent_on_items(supply.desk)
    packed = supply.packed.get(kit.name, 0)
    if packed:
        paid = in_packed(kit, spent, supply.desk.today)
    else:
        paid = {item: cost for item, count in kit.contents.items() if (cost := _next(spent.get(item), count))}
    lines = tuple(_line(item, count, paid.get(item), supply) for item, count in kit.contents.items())
    return PricedKit(kit, lines, packed, sum(paid.values(), Cost()))


def _line(item: str, count: int, paid: Cost | None, supply: Supply) -> KitLine:
    best = supply.best[item].unit_price if item in supply.best else None
    return KitLine(item, count, _times(count, supply.target(item)), _times(count, best), paid)


def _times(count: int, unit: Fraction | None) -> Fraction | None:
    return None if unit is None else count * unit


def _next(spent: Spent | None, count: int) -> Cost | None:
    """What the units of the next kit cost, the oldest in stock; None where there are too few."""
    left: Sequence[Lot] = spent.left if spent else ()
    if sum(lot.units for lot in left) < count:
        return None
    return drawn(left, [count])[0][0]
