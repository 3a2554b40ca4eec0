"""Sightings of prices, the history of an item, and the verdict on a price with its reasons."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from fractions import Fraction
from itertools import accumulate

from dateutil.relativedelta import relativedelta

from core.items import PricePoint
from core.money import half_up

RECENT_LOW_MONTHS = 24
USUAL_MONTHS = 12
USUAL_SIGHTINGS = 365
"""The usual price rests on at most this many sightings, the latest: one for each day of its year."""
IMPLAUSIBLE_FACTOR = 4


@dataclass(frozen=True, slots=True)
class Sighting:
    """A price seen in a shop: what ``count`` units cost, in minor units, after any markdown."""

    item: str
    count: int
    price: int
    seen_on: date
    store: str | None = None
    regular: int | None = None
    until: date | None = None
    pack_limit: int | None = None

    @property
    def unit_price(self) -> Fraction:
        """Minor units for one unit, exact: 12 for 47 cents is 47/12."""
        return Fraction(self.price, self.count)

    def holds_on(self, day: date) -> bool:
        """Whether the price still holds on a day, as far as anybody has said until when."""
        return self.until is None or self.until >= day

    @property
    def regular_unit_price(self) -> Fraction:
        """The unit price before the markdown; without one, the unit price itself."""
        return Fraction(self.price if self.regular is None else self.regular, self.count)


@dataclass(frozen=True, slots=True)
class Purchase:
    """What a member bought: ``count`` units for ``price`` minor units in all."""

    item: str
    count: int
    price: int
    on: date
    buyer: str
    store: str | None = None

    @property
    def unit_price(self) -> Fraction:
        """Minor units paid for one unit, exact."""
        return Fraction(self.price, self.count)


@dataclass(frozen=True, slots=True)
class Usual:
    """The usual price: the median of the unmarked-down sightings of the last 12 months.

    ``price``, ``low`` and ``high`` are minor units for one unit; ``sightings`` stand behind them, the
    newest of ``newest``.
    """

    price: Fraction
    low: Fraction
    high: Fraction
    sightings: int
    newest: date


@dataclass(frozen=True, slots=True)
class History:
    """What is remembered of an item's price before the one now judged."""

    lowest: Sighting | None = None
    lowest_recent: Sighting | None = None
    usual: Usual | None = None
    latest: Sighting | None = None


def since(day: date, months: int) -> date:
    """The first day of a span of months that ends on ``day``: 12 months before 2024-02-29 is 2023-02-28."""
    return day - relativedelta(months=months)


@dataclass(frozen=True, slots=True)
class PriceSeen:
    """What ``count`` units cost, in minor units, and how many sightings said so."""

    price: int
    count: int
    times: int = 1


def usual_of(seen: Sequence[PriceSeen], newest: date) -> Usual | None:
    """The usual price of sightings already chosen by age and markdown: their ordinary median, exact.

    47/12, 5 and 6 have 5; of an even number it is the mean of the two middle ones. None without any.
    """
    if not seen:
        return None
    # A double keeps the order: in our range two different ratios are two different doubles.
    ordered = sorted(seen, key=lambda one: one.price / one.count)
    upto = list(accumulate(one.times for one in ordered))
    middle = (bisect_left(upto, (upto[-1] + 1) // 2), bisect_left(upto, upto[-1] // 2 + 1))
    low, below, above, high = (Fraction(ordered[at].price, ordered[at].count) for at in (0, *middle, -1))
    return Usual((below + above) / 2, low, high, upto[-1], newest)


class Band(StrEnum):
    """The answer to "is this a good price?" (three bands: common practice, no source)."""

    GOOD = "good"
    """At or under the price point; without one, at or under the lowest price known."""
    FAIR = "fair"
    """Over the price point but within the most we would pay; without one, under the usual price."""
    HIGH = "high"
    """Beyond that."""
    UNKNOWN = "unknown"
    """Neither a price point nor a history to judge by."""


class Standing(StrEnum):
    """How a price stands against the lowest ever seen before it."""

    FIRST = "first"
    BELOW = "below"
    EQUAL = "equal"
    ABOVE = "above"


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a price is good, against what, and what it rests on."""

    sighting: Sighting
    band: Band
    standing: Standing
    price_point: PricePoint
    history: History

    @property
    def rests_on_price_point(self) -> bool:
        """True where the group has said what the item should cost; else history decided."""
        return self.price_point.most is not None


def judge(sighting: Sighting, price_point: PricePoint, history: History) -> Verdict:
    """The verdict on a price: 47/12 cents against a price point of 5 is GOOD."""
    return Verdict(
        sighting,
        _band(sighting.unit_price, price_point, history),
        _standing(sighting.unit_price, history.lowest),
        price_point,
        history,
    )


def _band(unit: Fraction, price_point: PricePoint, history: History) -> Band:
    good = price_point.target
    most = price_point.most
    if most is None and history.lowest is not None:
        good = history.lowest.unit_price
        most = history.usual.price if history.usual else good
    if most is None:
        return Band.UNKNOWN
    if good is not None and unit <= good:
        return Band.GOOD
    return Band.FAIR if unit <= most else Band.HIGH


def _standing(unit: Fraction, lowest: Sighting | None) -> Standing:
    if lowest is None:
        return Standing.FIRST
    if unit == lowest.unit_price:
        return Standing.EQUAL
    return Standing.BELOW if unit < lowest.unit_price else Standing.ABOVE


def implausible(sighting: Sighting, price_point: PricePoint, history: History) -> bool:
    """True for a price four or more times off the item's usual range: 40 cents where pencils cost 5 to 7.

    The price before a markdown is the one weighed, for a clearance at a quarter is no slip; the range is
    widened by the price point and the most we would pay.
    """
    known = [value for value in (price_point.target, price_point.most) if value is not None]
    if history.usual:
        known += [history.usual.low, history.usual.high]
    elif history.lowest:
        known.append(history.lowest.regular_unit_price)
    if not known:
        return False
    unit = sighting.regular_unit_price
    return unit >= IMPLAUSIBLE_FACTOR * max(known) or unit * IMPLAUSIBLE_FACTOR <= min(known)


def dearest_packs(price_point: PricePoint, counts: Sequence[int]) -> list[tuple[int, int]]:
    """The most to pay for packs of these counts, in whole minor units: at 5 cents, (12, 60), (24, 120)."""
    most = price_point.most
    return [] if most is None else [(count, half_up(most * count - Fraction(1, 2))) for count in counts]
