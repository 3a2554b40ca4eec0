"""Deals: a price that beats the price point or the best of the last year, for something that is short."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from core.items import PricePoint
from core.prices import Sighting

FRESH = timedelta(days=7)
"""How old a price may be to be worth an alert."""
QUIET_FOR = timedelta(days=7)
"""For how long the same item in the same shop, at the same or a worse price, is not told again."""
DECLINED_FOR = timedelta(days=182)
"""The same where the group has said that it is not for them."""
BEST_OF_MONTHS = 12


@dataclass(frozen=True, slots=True)
class Told:
    """A price that the group was told of on a day, and whether it said that it is not for them."""

    sighting: Sighting
    day: date
    declined: bool = False


@dataclass(frozen=True, slots=True)
class Deal:
    """A price worth telling the group; unit prices are exact minor units.

    ``target`` is the price point where the price is below it, ``lowest`` the best of the last 12 months where it is
    below that; ``short`` units are missing, which ``packs`` whole packs cover, for ``cost`` minor units.
    """

    sighting: Sighting
    target: Fraction | None
    lowest: Fraction | None
    short: int
    packs: int
    cost: int


def deal(sighting: Sighting, point: PricePoint, lowest: Fraction | None, short: int) -> Deal | None:
    """The deal that a price is; None where nothing is short, where it beats neither, or is beyond the most we pay.

    12 pencils for 47 cents are 3.92 each: against a price point of 5, with 480 short, 40 packs for 1880 cents.
    """
    unit = sighting.unit_price
    if short <= 0 or (point.limit is not None and unit > point.limit):
        return None
    target = point.target if point.target is not None and unit < point.target else None
    low = lowest if lowest is not None and unit < lowest else None
    if target is None and low is None:
        return None
    packs = -(-short // sighting.count)
    return Deal(sighting, target, low, short, packs, packs * sighting.price)


def is_fresh(sighting: Sighting, today: date) -> bool:
    """Whether a price may still be had: seen in the last days, and not over."""
    seen_lately = timedelta() <= today - sighting.seen_on <= FRESH
    return seen_lately and sighting.holds_on(today)


def told_already(sighting: Sighting, told: Iterable[Told], today: date) -> bool:
    """Whether the same item in the same shop was told at the same or a better price within a week.

    Where the group has said that it is not for them, within half a year.
    """
    return any(
        one.sighting.item == sighting.item
        and one.sighting.store == sighting.store
        and one.sighting.unit_price <= sighting.unit_price
        and today - one.day < (DECLINED_FOR if one.declined else QUIET_FOR)
        for one in told
    )
