"""A bulk case shared out: whole units for each, and each one's share of the cost to the smallest coin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from enum import StrEnum


class SharingError(ValueError):
    """The case cannot be shared as said."""


class TooManyUnitsError(SharingError):
    """More units are asked for than the case holds."""

    def __init__(self, wanted: Sequence[Wanted], count: int) -> None:
        super().__init__(f"{sum(one.units or 0 for one in wanted)} of {count}")
        self.wanted = tuple(wanted)
        self.count = count


class TooFewUnitsError(SharingError):
    """There are fewer units than members who are to have an equal share of them."""

    def __init__(self, left: int, members: int) -> None:
        super().__init__(f"{left} for {members}")
        self.left = left
        self.members = members


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a member is to have of a case: so many units, or (None) an equal share of what the others leave."""

    member: str
    units: int | None = None


@dataclass(frozen=True, slots=True)
class Case:
    """A bulk case: ``count`` units at ``total`` minor units (price, tax, shipping, less discounts), and who pays."""

    item: str
    count: int
    total: int
    payer: str
    store: str | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """A member's part of a case: units, and minor units of its cost."""

    member: str
    units: int
    amount: int


@dataclass(frozen=True, slots=True)
class Split:
    """A case shared out on a day; the parts, in the order of joining, add up to its count and its total."""

    case: Case
    parts: tuple[Part, ...]
    on: date


@dataclass(frozen=True, slots=True)
class Offer:
    """A case that members may take parts of: worth buying from ``least`` units on, open until ``closes_at``.

    ``kept`` are units that whoever pays keeps from the beginning.
    """

    case: Case
    least: int | None = None
    closes_at: datetime | None = None
    kept: int = 0


class State(StrEnum):
    """Where a split stands."""

    OPEN = "open"
    SHARED = "shared"
    CALLED_OFF = "called off"


@dataclass(frozen=True, slots=True)
class Standing:
    """An offer as it stands: who opened it in which entry, and who asked for how many, in the order of joining."""

    number: int
    entry: int
    offer: Offer
    by: str
    taken: tuple[Wanted, ...] = ()
    state: State = State.OPEN

    @property
    def case(self) -> Case:
        """The case offered."""
        return self.offer.case

    @property
    def left(self) -> int:
        """Units that nobody has asked for."""
        return self.case.count - sum(one.units or 0 for one in self.taken)

    @property
    def missing(self) -> int:
        """Units still to be asked for before it is worth buying."""
        asked = self.case.count - self.left
        return max(0, (self.offer.least or 0) - asked)

    def units_of(self, member: str) -> int:
        """How many a member has asked for."""
        return sum(one.units or 0 for one in self.taken if one.member == member)

    def with_claim(self, member: str, units: int) -> Standing:
        """The same with a member asking for so many in all; 0 lets go. Raises TooManyUnitsError."""
        if units - self.units_of(member) > self.left:
            raise TooManyUnitsError([Wanted(member, units)], self.left + self.units_of(member))
        if not units:
            return replace(self, taken=tuple(one for one in self.taken if one.member != member))
        if not self.units_of(member):
            return replace(self, taken=(*self.taken, Wanted(member, units)))
        changed = (replace(one, units=units) if one.member == member else one for one in self.taken)
        return replace(self, taken=tuple(changed))

    def parts(self) -> tuple[Part, ...]:
        """The parts if it were closed now: what nobody asked for is the payer's."""
        return parts_of(self.case, self.taken)


def largest_remainder(total: int, weights: Sequence[int]) -> list[int]:
    """``total`` divided in proportion to weights, in whole parts that add up to it.

    Each gets its quota rounded down; what is left goes one by one to the largest remainders, the first listed
    before its equals: 47 over 5, 4 and 3 is 19, 16 and 12 (Hamilton's method, 1792). Raises ValueError where
    no weight is above zero, or one is below.
    """
    whole = sum(weights)
    if whole <= 0 or min(weights) < 0:
        raise ValueError(f"no division by {list(weights)}")
    shares = [total * weight // whole for weight in weights]
    remainders = [total * weight % whole for weight in weights]
    first = sorted(range(len(weights)), key=lambda index: (-remainders[index], index))
    for index in first[: total - sum(shares)]:
        shares[index] += 1
    return shares


def units_of(count: int, wanted: Sequence[Wanted], spare_to: str) -> tuple[Wanted, ...]:
    """Whole units for each, adding up to ``count``: equal shares filled in, the rest to ``spare_to``.

    100 for three equal shares are 33 each and 1 more for ``spare_to``, who joins last if not among them.
    A member named twice gets both. Raises TooManyUnitsError, TooFewUnitsError.
    """
    left = count - sum(one.units or 0 for one in wanted)
    if left < 0:
        raise TooManyUnitsError(wanted, count)
    equal = {one.member for one in wanted if one.units is None}
    each = left // len(equal) if equal else 0
    if equal and not each:
        raise TooFewUnitsError(left, len(equal))
    units: dict[str, int] = {}
    for one in wanted:
        units[one.member] = units.get(one.member, 0) + (one.units or 0)
    for member in equal:
        units[member] += each
    spare = left - each * len(equal)
    if spare:
        units[spare_to] = units.get(spare_to, 0) + spare
    return tuple(Wanted(member, own) for member, own in units.items() if own)


def parts_of(case: Case, wanted: Sequence[Wanted], spare_to: str | None = None) -> tuple[Part, ...]:
    """The parts of a case, in the order of joining: units, and the cost in proportion to them.

    $12.60 for 144 in equal shares of three is 48 for $4.20 each. What nobody is to have goes to ``spare_to``,
    else to the payer. Raises TooManyUnitsError, TooFewUnitsError.
    """
    shared = units_of(case.count, wanted, spare_to or case.payer)
    amounts = largest_remainder(case.total, [one.units or 0 for one in shared])
    return tuple(Part(one.member, one.units or 0, amount) for one, amount in zip(shared, amounts, strict=True))
