"""What every room may ask of the stock book: what there is, what the goals still need, at which prices, and when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from functools import cached_property

from bot.skills.answering import Desk
from bot.storage.prices import PackPrice, history, newest_by_pack, seen_between
from bot.storage.stock import holdings, packed, reserved
from core.buying_plan import PackOffer
from core.group import Kit
from core.kits import Needs, Season, needs_of, season
from core.prices import Purchase, Sighting, since
from core.stock import RESERVED_FOR, Move, Packing, Reservation
from core.wait_or_buy import Advice, Expected, advise, earlier_years, expected_in, running_on, windows_before
from core.windows import SaleWindow, is_worth_a_look, next_windows

NOW_MONTHS = 3
"""Months within which a price counts as one of now."""
SEEN_MONTHS = 12
"""Months within which a price tells what packs there are."""


@dataclass(frozen=True)
class Supply:
    """The stock and the needs as they stand at the desk's moment; each part is looked up when first asked for."""

    desk: Desk

    @cached_property
    def kits(self) -> tuple[Kit, ...]:
        """The group's kits, each due in the season that today belongs to."""
        today = self.desk.today
        return tuple(replace(kit, by=season(kit.by, today).end) if kit.by else kit for kit in self.desk.group.kits)

    def kit(self, name: str) -> Kit | None:
        """The kit of this name, due in the season that today belongs to."""
        return next((kit for kit in self.kits if kit.name == name), None)

    @cached_property
    def season(self) -> Season:
        """The season of the group: up to the collection date of the kit named first that has one.

        Without any, the twelve months up to today.
        """
        days = [kit.by for kit in self.kits if kit.by]
        return season(days[0] if days else self.desk.today, self.desk.today)

    @cached_property
    def packed(self) -> dict[str, int]:
        """How many of each kit are packed in its season; of a kit without a date, ever."""
        starts = {kit.name: season(kit.by, self.desk.today).start for kit in self.kits if kit.by}
        found: dict[str, int] = {}
        for kit, day, count in packed(self.desk.books):
            if day >= starts.get(kit, date.min):
                found[kit] = found.get(kit, 0) + count
        for said in self.desk.said:
            if isinstance(said, Packing):
                found[said.kit] = found.get(said.kit, 0) + said.count
        return found

    @cached_property
    def held(self) -> dict[str, dict[str, int]]:
        """By item, the units that each member holds, with what the same message said before."""
        found = {item: {one.member: one.units for one in held} for item, held in holdings(self.desk.books).items()}
        for said in self.desk.said:
            if isinstance(said, Move):
                _add(found.setdefault(said.item, {}), said.member, said.units)
            elif isinstance(said, Purchase):
                _add(found.setdefault(said.item, {}), said.buyer, said.count)
        return found

    @cached_property
    def stock(self) -> dict[str, int]:
        """Units of each item that the group holds."""
        return {item: sum(held.values()) for item, held in self.held.items()}

    @cached_property
    def needs(self) -> Needs:
        """What the goals still need."""
        return needs_of(self.kits, self.packed, self.stock)

    @cached_property
    def reserved(self) -> list[Reservation]:
        """What members are about to buy."""
        return reserved(self.desk.books, self.desk.at - RESERVED_FOR)

    @cached_property
    def seen(self) -> list[PackPrice]:
        """Of each item, shop and count the newest prices, on the shelf and paid, of the last twelve months."""
        return newest_by_pack(self.desk.books, since(self.desk.today, SEEN_MONTHS))

    @cached_property
    def seen_of(self) -> dict[str, list[PackPrice]]:
        """The prices seen, by item."""
        found: dict[str, list[PackPrice]] = {}
        for one in self.seen:
            found.setdefault(one.sighting.item, []).append(one)
        return found

    @cached_property
    def known(self) -> list[Sighting]:
        """The prices that count as those of now: not older than three months, and not over.

        What was paid counts only in shops of which no price on the shelf is known: it may have been several packs,
        and says nothing of limits and last days.
        """
        first, today = since(self.desk.today, NOW_MONTHS), self.desk.today
        recent = [one for one in self.seen if one.sighting.seen_on >= first]
        on_shelves = {(one.sighting.item, one.sighting.store) for one in recent if not one.paid}
        return [
            one.sighting
            for one in recent
            if (not one.paid or (one.sighting.item, one.sighting.store) not in on_shelves)
            and one.sighting.holds_on(today)
        ]

    @cached_property
    def best(self) -> dict[str, Sighting]:
        """The lowest unit price now known of each item."""
        found: dict[str, Sighting] = {}
        for one in self.known:
            if one.item not in found or one.unit_price < found[one.item].unit_price:
                found[one.item] = one
        return found

    def pack_sizes(self, item: str, store: str | None = None) -> tuple[int, ...]:
        """The sizes of packs seen of an item, on a shop's shelf or on any, the smallest first."""
        shelf = (one.sighting for one in self.seen_of.get(item, ()) if not one.paid)
        return tuple(sorted({one.count for one in shelf if one.count > 1 and store in (None, one.store)}))

    def offers(self) -> list[PackOffer]:
        """The prices of now as packs to choose from; a case bought nowhere in particular is not on offer again."""
        return [
            PackOffer(one.item, one.count, one.price, one.store, one.pack_limit, one.until)
            for one in self.known
            if one.store is not None or one not in self._paid
        ]

    @cached_property
    def _paid(self) -> set[Sighting]:
        return {one.sighting for one in self.seen if one.paid}

    def due(self, item: str) -> date | None:
        """When the last of the kits that still lack an item are collected."""
        days = [need.kit.by for need in self.needs.kits if item in need.short and need.kit.by]
        return max(days, default=None)

    def target(self, item: str) -> Fraction | None:
        """What one unit should cost."""
        known = self.desk.group.item(item)
        return known.price_point.target if known else None

    @cached_property
    def windows(self) -> list[SaleWindow]:
        """Of each sale window the one that is on or comes next, the soonest first."""
        return next_windows(self.desk.group.window_rules, self.desk.settings.country, self.desk.today)

    def advice(self, item: str, today: Fraction | None = None) -> Advice | None:
        """Whether to buy at a unit price (else the best now known) or wait; None for what nobody needs or knows."""
        due = self.due(item)
        best = self.best.get(item)
        unit = today if today is not None else best.unit_price if best else None
        if due is None or unit is None:
            return None
        running = running_on((one for one in self.windows if self.fits(one, item)), self.desk.today)
        expected = self._expected(item, windows_before(self.windows, self.desk.today, due))
        if running is not None:
            # What a price of now, which is one of a sale already, will come down by in a usual sale is a mere guess.
            said = self.desk.group.windows
            expected = [one for one in expected if not one.is_estimate or one.window.rule in said]
        return replace(advise(unit, expected), running=running)

    def fits(self, window: SaleWindow, item: str) -> bool:
        """Whether an item is of the sort that usually drops in a window; of a window for all sorts, every item is."""
        known = self.desk.group.item(item)
        names = (item, *known.aliases) if known else (item,)
        return not window.rule.look_for or is_worth_a_look(window.rule, names)

    def _expected(self, item: str, coming: Sequence[SaleWindow]) -> list[Expected]:
        """What an item will likely cost in the windows to come: where it was seen before, or is of the usual sort."""
        if not coming:
            return []
        earlier = {window.name: earlier_years(window, self.desk.settings.country) for window in coming}
        spans = [(one.starts, one.ends) for years in earlier.values() for one in years]
        seen = seen_between(self.desk.books, spans, item)
        usual = history(self.desk.books, item, self.desk.today).usual
        regular = usual.price if usual else None
        found = (expected_in(one, earlier[one.name], seen, regular if self.fits(one, item) else None) for one in coming)
        return [one for one in found if one is not None]

    def to_look_for(self, window: SaleWindow) -> list[Wanted]:
        """What is short and of the sort that drops in a window, or was bought or seen there in an earlier year."""
        earlier = earlier_years(window, self.desk.settings.country)
        lows: dict[str, Sighting] = {}
        for one in seen_between(self.desk.books, [(past.starts, past.ends) for past in earlier]):
            if one.item not in lows or one.unit_price <= lows[one.item].unit_price:
                lows[one.item] = one
        short = self.needs.short
        return [
            Wanted(item, units, self.target(item), lows.get(item))
            for item, units in short.items()
            if item in lows or self.fits(window, item)
        ]


@dataclass(frozen=True, slots=True)
class Wanted:
    """An item to look for in a sale: units missing, its price point, and the lowest price seen there before."""

    item: str
    units: int
    target: Fraction | None
    before: Sighting | None


def _add(held: dict[str, int], member: str, units: int) -> None:
    held[member] = held.get(member, 0) + units
