"""The cheapest packs that cover what is needed: over all shops, and in the one shop that comes close to it."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from heapq import heappop, heappush
from itertools import accumulate
from math import gcd, lcm

SMALL_DIFFERENCE = Fraction(1, 10)
"""One shop for everything is worth naming where it costs at most this part more than the cheapest plan."""
_LAST = "\U0010ffff"  # stands for no known shop: after all names


@dataclass(frozen=True, slots=True)
class PackOffer:
    """Packs of ``units`` at ``price`` minor units (3 for $2.00: 3, 200), ``most`` to a customer, up to ``until``."""

    item: str
    units: int
    price: int
    store: str | None = None
    most: int | None = None
    until: date | None = None

    def __post_init__(self) -> None:
        if self.units < 1 or self.price < 0 or (self.most or 0) < 0:
            raise ValueError(f"a pack of {self.units} for {self.price}, at most {self.most}")


@dataclass(frozen=True, slots=True)
class PackLine:
    """So many packs of one offer."""

    offer: PackOffer
    packs: int

    @property
    def units(self) -> int:
        """Single units in all: 2 packs of 12 are 24."""
        return self.packs * self.offer.units

    @property
    def cost(self) -> int:
        """Minor units in all: 2 packs at 47 are 94."""
        return self.packs * self.offer.price


@dataclass(frozen=True, slots=True)
class ItemPlan:
    """The packs to buy for ``need`` units of an item, the largest first."""

    item: str
    need: int
    lines: tuple[PackLine, ...]

    @property
    def cost(self) -> int:
        """Minor units in all."""
        return sum([line.cost for line in self.lines])

    @property
    def units(self) -> int:
        """Single units bought."""
        return sum([line.units for line in self.lines])

    @property
    def leftover(self) -> int:
        """Units bought beyond the need: 4 where 24 are bought for 20."""
        return max(0, self.units - self.need)

    @property
    def uncovered(self) -> int:
        """Units of the need that the limits leave unbought: 8 where at most 12 can be bought for 20."""
        return max(0, self.need - self.units)


@dataclass(frozen=True, slots=True)
class OneShop:
    """A shop that has everything a plan covers, and what to buy there for ``cost`` minor units."""

    store: str
    cost: int
    items: tuple[ItemPlan, ...]


@dataclass(frozen=True, slots=True)
class BuyingPlan:
    """What to buy, in the order of the needs; ``unknown`` are items and needs for which there is no offer."""

    items: tuple[ItemPlan, ...]
    unknown: tuple[tuple[str, int], ...]
    one_shop: OneShop | None

    @property
    def cost(self) -> int:
        """Minor units in all."""
        return sum(plan.cost for plan in self.items)


def buying_plan(needs: Mapping[str, int], offers: Iterable[PackOffer], on: date) -> BuyingPlan:
    """The cheapest whole packs for every need on a day, each item as by ``cheapest_packs``.

    ``one_shop`` is the cheapest that covers as much, where the plan takes several and it costs at most 110 beside 100.
    """
    found: dict[str, list[PackOffer]] = {item: [] for item in needs}
    for offer in offers:
        if offer.item in found and offer.most != 0 and (offer.until is None or on <= offer.until):
            found[offer.item].append(offer)
    unknown = tuple((item, need) for item, need in needs.items() if need and not found[item])
    plans = tuple(cheapest_packs(item, need, found[item]) for item, need in needs.items() if found[item] or not need)
    return BuyingPlan(plans, unknown, _one_shop(plans, found))


def cheapest_packs(item: str, need: int, offers: Iterable[PackOffer]) -> ItemPlan:
    """Whole packs of an item that cover ``need`` units at the least cost, within the offers' limits.

    For 15, packs of 3 for 2 and of 5 for 3: three of the second, 9. Of equal cost, fewest units left over; then one
    shop rather than several; then fewest packs. Where limits leave some of the need uncovered, all that can be bought.
    An offer given twice counts once. Raises ValueError for a need below 0.
    """
    if need < 0:
        raise ValueError(f"a need of {need}")
    own = [offer for offer in offers if offer.item == item]
    plan = ItemPlan(item, need, _lines(need, own))
    if len({line.offer.store for line in plan.lines}) < 2:
        return plan
    # As cheap in one shop only if that shop has a pack at no more a unit than the plan's average.
    low = {one.store or _LAST for one in own if one.price * plan.units <= plan.cost * one.units}
    shelves = ([one for one in own if (one.store or _LAST) == store] for store in sorted(low))
    alone = [ItemPlan(item, need, _lines(need, shelf)) for shelf in shelves]
    equal = [one for one in alone if (one.cost, one.units) == (plan.cost, plan.units)]
    return min(equal, key=lambda one: sum(line.packs for line in one.lines), default=plan)


def _one_shop(plans: Sequence[ItemPlan], offers: Mapping[str, Sequence[PackOffer]]) -> OneShop | None:
    """The cheapest shop that covers what the plans cover at a small difference, first by name among equals."""
    if len({line.offer.store for plan in plans for line in plan.lines}) < 2:
        return None
    budget, best = int(sum(plan.cost for plan in plans) * (1 + SMALL_DIFFERENCE)), None
    covered = [(plan, plan.units - plan.leftover) for plan in plans]
    for store in sorted({one.store for plan in plans for one in offers[plan.item] if one.store}):
        shelf = [(*one, [offer for offer in offers[one[0].item] if offer.store == store]) for one in covered]
        if items := _within(budget, shelf):
            best = OneShop(store, sum(one.cost for one in items), items)
            budget = best.cost - 1
    return best


def _within(budget: int, shelf: Sequence[tuple[ItemPlan, int, list[PackOffer]]]) -> tuple[ItemPlan, ...]:
    """As many units of every plan's item from a shop's own offers; nothing once they cannot be within the budget."""
    least = [min((units * one.price // one.units for one in own), default=0) for _, units, own in shelf]
    budget -= sum(least)
    items: list[ItemPlan] = []
    for (plan, units, own), low in zip(shelf, least, strict=True):
        items.append(ItemPlan(plan.item, plan.need, _lines(plan.need, own)))
        budget -= items[-1].cost - low
        if budget < 0 or items[-1].units < units:
            return ()
    return tuple(items)


@dataclass(frozen=True, slots=True)
class _Pack:
    """An offer of ``most`` packs; the lighter of two plans costs less, or has fewer units, or else fewer packs."""

    offer: PackOffer
    units: int
    weight: int
    most: int


def _lines(need: int, offers: Sequence[PackOffer]) -> tuple[PackLine, ...]:
    """The lightest packs that cover a need, the largest first; all there are if they do not reach."""
    packs = _packs(need, offers) if need else []
    counts: Sequence[int] = [pack.most for pack in packs]
    if sum([pack.most * pack.units for pack in packs]) > need:
        counts = _lightest(need, packs)
    lines = [PackLine(pack.offer, count) for pack, count in zip(packs, counts, strict=False) if count]
    return tuple(sorted(lines, key=lambda line: -line.offer.units))


def _packs(need: int, offers: Sequence[PackOffer]) -> list[_Pack]:
    """The packs a lightest plan can have, the lightest a unit first: no 10 for 90 beside any number of 12 for 85.

    All but a few units are of the best that has enough, however large the need: as many of a heavier one as come to
    the units of some of the best would be changed for those, 2 of 9 for 3 of 6.
    """
    size = need + max((one.units for one in offers), default=0) + 1  # above the units and packs of any lightest plan
    reach, tried = 0, list[tuple[int, int, PackOffer]]()
    for offer in sorted(dict.fromkeys(offers), key=lambda one: (one.price, one.units, one.store or _LAST)):
        if offer.units > reach:
            enough = -(-need // offer.units)
            most = enough if offer.most is None else min(enough, offer.most)
            tried.append(((offer.price * size + offer.units) * size + 1, most, offer))
            reach = offer.units if most == enough else reach
    scale = lcm(*[offer.units for _, _, offer in tried])
    best, packs = 0, list[_Pack]()
    for weight, most, offer in sorted(tried, key=lambda one: one[0] * (scale // one[2].units)):
        few = min(most, best // gcd(best, offer.units) - 1) if best else most
        best = best or (offer.units if most * offer.units >= need else 0)
        if few:
            packs.append(_Pack(offer, offer.units, weight, few))
    return packs


_Begun = tuple[int, int, tuple[int, ...]]
"""A plan begun: the units left to cover, the weight so far, and how many of each of the first packs."""


def _lightest(need: int, packs: Sequence[_Pack]) -> tuple[int, ...]:
    """How many of each of the first packs make the lightest plan: of plans begun, the most promising goes on first.

    Its promise is its weight with the rest at the lightest a unit, as if packs came in parts. No plan weighs less than
    what it began with promised, so the first found that covers the need is the lightest. Of those with as many packs
    decided and units left only the lightest goes on: at most packs times need of them.
    """
    units = [0, *accumulate([pack.units * pack.most for pack in packs])]
    weights = [0, *accumulate([pack.weight * pack.most for pack in packs])]
    step = gcd(*[pack.units for pack in packs])
    waiting: list[tuple[int, _Begun]] = [(0, (-(-need // step) * step, 0, ()))]
    seen: set[tuple[int, int]] = set()
    while (begun := heappop(waiting)[1])[0] > 0:
        for left, weight, counts in _following(packs, seen, begun):
            reached = units[len(counts)] + max(0, left)
            if reached <= units[-1]:
                last = bisect_left(units, reached) - 1
                part = -((units[last] - reached) * packs[last].weight // packs[last].units)
                promise = weight + weights[last] - weights[len(counts)] + part
                heappush(waiting, (promise, (left, weight, counts)))
    return begun[2]


def _following(packs: Sequence[_Pack], seen: set[tuple[int, int]], begun: _Begun) -> Iterator[_Begun]:
    """One less of the last pack; and of the next as many as fit, and as many as just cover what is left."""
    left, weight, counts = begun
    pack, last = packs[len(counts)], packs[len(counts) - 1]
    if counts and counts[-1]:
        yield left + last.units, weight - last.weight, (*counts[:-1], counts[-1] - 1)
    if (len(counts), left) not in seen:
        seen.add((len(counts), left))
        alike = counts and last.weight == pack.weight  # and only needed once there is no more of the last
        most = 0 if alike and counts[-1] < last.most else pack.most
        for count in {min(most, left // pack.units), min(most, -(-left // pack.units))}:
            yield left - count * pack.units, weight + count * pack.weight, (*counts, count)
