"""Buy now, or wait for a sale before the kits are due: what an item will likely cost then, against today."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from statistics import median

from core.prices import Sighting
from core.windows import SaleWindow

WORTH_WAITING = Fraction(1, 10)
"""The least share of today's price that waiting must save to be advised."""
YEARS_BACK = 5


@dataclass(frozen=True, slots=True)
class Expected:
    """A unit price to expect in a window, exact minor units.

    ``years`` is on how many earlier years' sightings it rests; 0 for an estimate from the regular price.
    """

    window: SaleWindow
    unit_price: Fraction
    years: int

    @property
    def is_estimate(self) -> bool:
        """True where nobody in the group has seen the item in that window before."""
        return self.years == 0


@dataclass(frozen=True, slots=True)
class Advice:
    """Whether to wait, against today's unit price: ``expected`` is the best to come, None where nothing is known."""

    wait: bool
    today: Fraction
    expected: Expected | None = None
    running: SaleWindow | None = None
    """A sale that is on today."""


def expected_in(
    window: SaleWindow, earlier: Iterable[SaleWindow], sightings: Iterable[Sighting], regular: Fraction | None
) -> Expected | None:
    """What an item will likely cost in a window: the median of the lowest of each earlier year there.

    Lows of 20, 25 and 30 cents in three years expect 25. Without any sighting, the regular unit price less the
    usual markdown: 60 cents at half off expect 30, an estimate. None where no regular price is known either.
    """
    seen = list(sightings)
    lows = [low for one in earlier if (low := _lowest(seen, one)) is not None]
    if lows:
        return Expected(window, median(lows), len(lows))
    return None if regular is None or window.off is None else Expected(window, regular * (1 - window.off), 0)


def _lowest(sightings: Sequence[Sighting], window: SaleWindow) -> Fraction | None:
    inside = (one.unit_price for one in sightings if window.starts <= one.seen_on <= window.ends)
    return min(inside, default=None)


def earlier_years(window: SaleWindow, country: str) -> list[SaleWindow]:
    """The same window of the five years before."""
    return [found for back in range(1, YEARS_BACK + 1) if (found := window.earlier(back, country))]


def windows_before(windows: Iterable[SaleWindow], today: date, due: date) -> list[SaleWindow]:
    """Of the windows that are on or come next, those still to start, and before the kits are due."""
    return [one for one in windows if today < one.starts <= due]


def running_on(windows: Iterable[SaleWindow], today: date) -> SaleWindow | None:
    """The sale that is on today, the one that ends last; None where there is none."""
    return max((one for one in windows if one.starts <= today), key=lambda one: one.ends, default=None)


def advise(today: Fraction, coming: Iterable[Expected]) -> Advice:
    """Wait where a sale to come will likely save a tenth or more of today's unit price; else buy now.

    Today 55 cents, 30 to expect: wait. Today 32 cents, 30 to expect: buy, for that saves less than a tenth.
    """
    best = min(coming, key=lambda one: (one.unit_price, one.window.starts), default=None)
    wait = best is not None and best.unit_price <= today * (1 - WORTH_WAITING)
    return Advice(wait, today, best)
