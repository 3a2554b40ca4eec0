"""Kits: what is still needed for the goals, how many the stock completes, and what holds them back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from dateutil.relativedelta import relativedelta

from core.group import Kit
from core.stock import Cost


@dataclass(frozen=True, slots=True)
class Season:
    """The year that ends on a collection date, both days included; ``rolled`` where an earlier date was said."""

    start: date
    end: date
    rolled: bool = False


def season(by: date, today: date) -> Season:
    """The season that a day belongs to, where kits are collected every year on the same day.

    Collected by 2026-11-14: on 2026-08-03 the season is 2025-11-15 to 2026-11-14, on 2026-11-15 the next one.
    """
    years = max(0, today.year - by.year)
    if by + relativedelta(years=years) < today:
        years += 1
    end = by + relativedelta(years=years)
    return Season(by + relativedelta(years=years - 1) + timedelta(days=1), end, years > 0)


@dataclass(frozen=True, slots=True)
class KitNeed:
    """Where a kit stands: packed this season, still to pack, and what the stock gives for those.

    ``completes`` is how many of those to pack the stock completes; ``held_back_by`` the items that run out
    first, where it does not complete them all; ``short`` the units missing of each item.
    """

    kit: Kit
    packed: int
    remaining: int
    completes: int
    held_back_by: tuple[str, ...]
    short: Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Needs:
    """Where all kits stand; ``short`` adds up the units missing of each item, in the order of the kits."""

    kits: tuple[KitNeed, ...]
    short: Mapping[str, int]


def needs_of(kits: Sequence[Kit], packed: Mapping[str, int], stock: Mapping[str, int]) -> Needs:
    """What is still needed. The kit that is due first takes from the stock first; of the same day, the one named first.

    Goal 10, 4 packed, 3 pencils each: 6 to pack take 18; with 11 in stock, 3 are completed and 7 are short. Whole
    kits are laid out of the stock before anything goes to kits that cannot be completed.
    """
    left = {item: max(0, units) for item, units in stock.items()}
    by_day = sorted(kits, key=_due)
    remaining = {kit.name: max(0, (kit.goal or 0) - packed.get(kit.name, 0)) for kit in by_day}
    completes = {kit.name: _lay_out(kit, remaining[kit.name], left) for kit in by_day}
    found = [_need_of(kit, packed.get(kit.name, 0), remaining[kit.name], completes[kit.name], left) for kit in by_day]
    short: dict[str, int] = {}
    for need in found:
        for item, units in need.short.items():
            short[item] = short.get(item, 0) + units
    return Needs(tuple(found), short)


def _due(kit: Kit) -> date:
    return kit.by or date.max


def _lay_out(kit: Kit, remaining: int, left: dict[str, int]) -> int:
    """Take as many whole kits as can be out of what is left of the stock; how many."""
    lasts = [left.get(item, 0) // count for item, count in kit.contents.items()]
    whole = min([remaining, *lasts]) if lasts else 0
    for item, count in kit.contents.items():
        left[item] = left.get(item, 0) - whole * count
    return whole


def _need_of(kit: Kit, packed: int, remaining: int, completes: int, left: dict[str, int]) -> KitNeed:
    """The need of one kit; its units beyond the completed ones are taken out of what is left of the stock."""
    rest = remaining - completes
    held = tuple(item for item, count in kit.contents.items() if left.get(item, 0) < count) if rest else ()
    short: dict[str, int] = {}
    for item, count in kit.contents.items():
        here, wanted = left.get(item, 0), rest * count
        left[item] = max(0, here - wanted)
        if wanted > here:
            short[item] = wanted - here
    return KitNeed(kit, packed, remaining, completes, held, short)


@dataclass(frozen=True, slots=True)
class KitLine:
    """One line of a kit: units in each, and what they cost, exact minor units for all of them, where known.

    ``at_target`` by the price point, ``at_best`` by the best price now known; ``paid`` what was really paid for
    the units in the packed kits, or in the next one.
    """

    item: str
    count: int
    at_target: Fraction | None = None
    at_best: Fraction | None = None
    paid: Cost | None = None


@dataclass(frozen=True, slots=True)
class PricedKit:
    """A kit with the price of each line, and what the units in the packed ones, or in the next one, really cost.

    ``paid`` holds as well what went into packed kits and is no line of it any more.
    """

    kit: Kit
    lines: tuple[KitLine, ...]
    packed: int
    paid: Cost

    @property
    def kits_paid(self) -> int:
        """How many kits ``paid`` is for."""
        return self.packed or 1


def rounded_up(line: KitLine) -> int | None:
    """A line as people carry it in their heads: each unit at its price point in whole minor units, rounded up.

    4 at 4.5 cents are 4 x 5 = 20, where the exact price is 18.
    """
    if line.at_target is None:
        return None
    return line.count * -(-line.at_target // line.count)


def heaviest(lines: Sequence[KitLine]) -> KitLine | None:
    """The line that weighs most in the cost of a kit: by the price point, else by the best price known."""
    told = [line for line in lines if (line.at_target or line.at_best) is not None]
    return max(told, key=lambda line: line.at_target or line.at_best or Fraction(0), default=None)
