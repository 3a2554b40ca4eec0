"""Stock: what lies at whose house, and what it cost, first in, first out."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum
from fractions import Fraction


class Why(StrEnum):
    """Why units came to a member, or went."""

    BOUGHT = "bought"
    SHARED = "shared"
    """A part of a case, from its payer to the member."""
    HAD = "had"
    """Reported as already there; nobody said what they cost."""
    GIVEN = "given"
    """Given in kind, at no cost."""
    COUNTED = "counted"
    """Found, or missed, when counted again."""
    MOVED = "moved"
    PACKED = "packed"
    REMOVED = "removed"
    """Lost, broken, used for something else."""


@dataclass(frozen=True, slots=True)
class Held:
    """What a member holds of an item: single units, and where they lie as far as somebody said."""

    member: str
    units: int
    place: str | None = None


@dataclass(frozen=True, slots=True)
class Move:
    """Units of an item that come to a member (above zero), or go (below zero); ``kit`` is what they went into."""

    item: str
    member: str
    units: int
    why: Why
    on: date
    place: str | None = None
    kit: str | None = None


@dataclass(frozen=True, slots=True)
class Packing:
    """Finished kits, by whoever packed them."""

    kit: str
    count: int
    packer: str
    on: date


@dataclass(frozen=True, slots=True)
class Reservation:
    """Units that a member is about to buy, so that nobody else does; it lapses after a day."""

    item: str
    member: str
    units: int
    at: datetime


RESERVED_FOR = timedelta(days=1)


def taken_from(held: Mapping[str, int], first: str, units: int) -> dict[str, int]:
    """Who gives how many of so many units: first one member, then whoever holds most.

    Of 30 with 10 at Mei's, 40 at Ines's and 25 at Tobias's, Mei first: Mei 10, Ines 20. Where all hold fewer,
    they give what they have.
    """
    given: dict[str, int] = {}
    for member in sorted(held, key=lambda name: (name != first, -held[name])):
        part = min(units - sum(given.values()), held[member])
        if part > 0:
            given[member] = part
    return given


@dataclass(frozen=True, slots=True)
class Pick:
    """Units of an item that one member gives."""

    item: str
    member: str
    units: int


def picked_for(
    contents: Mapping[str, int], kits: int, held: Mapping[str, Mapping[str, int]], packer: str
) -> tuple[list[Pick], dict[str, int]]:
    """Who gives what for so many kits, the packer first, and the units of each item that nobody has.

    Two kits of 3 pencils take 6: of 4 at Mei's, who packs, and 1 at Ines's, 4 and 1, and 1 is missing.
    """
    picks: list[Pick] = []
    missing: dict[str, int] = {}
    for item, count in contents.items():
        given = taken_from(held.get(item, {}), packer, count * kits)
        picks += [Pick(item, member, units) for member, units in given.items()]
        if short := count * kits - sum(given.values()):
            missing[item] = short
    return picks, missing


@dataclass(frozen=True, slots=True)
class Cost:
    """What units cost: exact minor units for those of known cost, and how many are of unknown cost."""

    amount: Fraction = Fraction(0)
    units: int = 0
    unpriced: int = 0

    def __add__(self, other: Cost) -> Cost:
        return Cost(self.amount + other.amount, self.units + other.units, self.unpriced + other.unpriced)


@dataclass(frozen=True, slots=True)
class Lot:
    """Units that came in together: ``cost`` is exact minor units for all of them, None where nobody knows it."""

    units: int
    cost: Fraction | None

    def part(self, units: int) -> Lot:
        """So many of its units, at the same cost for each."""
        return Lot(units, None if self.cost is None else self.cost * units / self.units)

    def as_cost(self) -> Cost:
        """Its cost, as that of what was drawn."""
        return Cost(units=self.units, unpriced=self.units) if self.cost is None else Cost(self.cost, self.units)


def drawn(lots: Iterable[Lot], draws: Iterable[int]) -> tuple[list[Cost], list[Lot]]:
    """What each draw of so many units cost, the oldest units first, and the lots that are left.

    Lots of 10 for 100 and 35 for 385: a draw of 20 costs 100 + 10 x 11 = 210 and leaves 25 for 275. Only the
    order of the lots and of the draws counts: first in, first out comes to the same whether it is reckoned at
    each draw or at the end of the season. What is drawn beyond the lots is of unknown cost.
    """
    queue = deque(lots)
    return [_draw(queue, units) for units in draws], list(queue)


def _draw(queue: deque[Lot], units: int) -> Cost:
    cost = Cost()
    while units and queue:
        lot = queue.popleft()
        part = lot.part(min(units, lot.units))
        if part.units < lot.units:
            queue.appendleft(lot.part(lot.units - part.units))
        cost += part.as_cost()
        units -= part.units
    return cost + Cost(units=units, unpriced=units)
