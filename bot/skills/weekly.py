"""The week as a summary tells it: kits against the calendar, finds, spending, what is open, what comes next."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from fractions import Fraction

from bot.skills.answering import Desk
from bot.skills.costing import Spent, in_packed, spent_on_items
from bot.skills.judging import price_point
from bot.skills.supply import Supply
from bot.storage.kits import goals_at
from bot.storage.ledger import balances
from bot.storage.prices import seen_between, spent
from bot.storage.shares import open_splits
from bot.storage.stock import packed
from bot.storage.weeks import entered
from core.deals import BEST_OF_MONTHS
from core.due import moment_of
from core.group import USUAL_SUMMARY, Kit, Weekly
from core.items import PricePoint
from core.kits import Season, season
from core.ledger import Payment
from core.pace import expected_by, season_of
from core.prices import Sighting, since
from core.settling import fewest_payments
from core.shares import Standing
from core.stock import Cost
from core.windows import SaleWindow

_BEST = 3


@dataclass(frozen=True, slots=True)
class KitStand:
    """A kit at the end of the week: done of its goal, and how many would be done at an even pace.

    ``cost`` is what one finished kit has cost so far, exact minor units; None where none is finished, or no price of
    what is in it is known. ``in_part`` tells that the price of some of it is not.
    """

    kit: Kit
    done: int
    expected: int | None
    cost: Fraction | None
    in_part: bool = False
    this_week: int = 0


@dataclass(frozen=True, slots=True)
class Find:
    """One of the best prices of the week, with the item's price point."""

    sighting: Sighting
    point: PricePoint


@dataclass(frozen=True, slots=True)
class Week:
    """What was entered in a week up to ``ends``; amounts are minor units. Of a week that is over, what is open now
    and comes next is left empty."""

    ends: date
    kits: tuple[KitStand, ...]
    finds: tuple[Find, ...]
    spent: int
    spent_in_season: int
    entries: int
    open_cases: tuple[Standing, ...] = ()
    owed: tuple[Payment, ...] = ()
    short: tuple[tuple[str, int], ...] = ()
    next_window: SaleWindow | None = None

    @property
    def quiet(self) -> bool:
        """True where nothing was entered in these days."""
        return not self.entries


def summary_day(desk: Desk, about: date | None) -> date:
    """The day that ends the week of a day, else the week that is on: the next day of the group's summary."""
    day, weekly = about or desk.today, _weekly(desk)
    ends = day + timedelta(days=(weekly.weekday - day.weekday()) % 7)
    return ends + timedelta(days=7) if about is None and _close(ends, desk) < desk.at else ends


def has_just_begun(ends: date, desk: Desk) -> bool:
    """Whether the summary before the week that ends on a day is not a day old yet."""
    return desk.at - _close(ends - timedelta(days=7), desk) < timedelta(days=1)


def _weekly(desk: Desk) -> Weekly:
    return desk.settings.summary or USUAL_SUMMARY


def _close(ends: date, desk: Desk) -> datetime:
    """The moment of the summary on a day."""
    return moment_of(datetime.combine(ends, _weekly(desk).at), desk.settings.zone)


def week(ends: date, desk: Desk, *, latest: bool = False) -> Week:
    """The week that ends with the summary of a day, from the books as they stand now, up to now at the most.

    It begins with the summary before, so that what was entered in between is told in one of them. ``latest`` tells
    that no later one has been posted, so that what is open now belongs to it though it is over.
    """
    close = _close(ends, desk)
    told = entered(desk.books, _close(ends - timedelta(days=7), desk), close)
    day = min(ends, desk.today)
    kits = desk.group.kits if close >= desk.at else _kits_then(desk, close)
    found = Week(
        day,
        tuple(_kit_stands(desk, kits, told.packed, day)),
        _finds(desk, told.sightings, ends - timedelta(days=7)),
        told.spent,
        spent(desk.books, _season_start(desk, kits, day), day),
        told.entries,
    )
    return _with_today(found, desk) if latest or close >= desk.at else found


def _with_today(found: Week, desk: Desk) -> Week:
    supply = Supply(desk)
    short = sorted(supply.needs.short.items(), key=lambda one: -_weight(one, supply))
    return replace(
        found,
        open_cases=tuple(open_splits(desk.books)),
        owed=tuple(fewest_payments(balances(desk.books))),
        short=() if any(_has_ended(kit, desk.today) for kit in desk.group.kits) else tuple(short),
        next_window=supply.windows[0] if supply.windows else None,
    )


def _weight(one: tuple[str, int], supply: Supply) -> Fraction:
    """What the missing units cost at the price point, or at the best price known."""
    item, units = one
    best = supply.best.get(item)
    unit = supply.target(item) or (best.unit_price if best else None)
    return units * (unit or Fraction(0))


def _season_of(by: date, day: date) -> Season:
    """The season that a week belongs to, by its last day: one that has ended in this week is told to its end."""
    found = season(by, day)
    before = season(by, day - timedelta(days=6))
    return before if before.end < found.start else found


def _has_ended(kit: Kit, day: date) -> bool:
    """Whether the kits of a sort were collected in the week up to a day: what is short now is for the next season."""
    return kit.by is not None and bool(kit.goal) and _season_of(kit.by, day).end < day


def _season_start(desk: Desk, kits: Sequence[Kit], day: date) -> date:
    days = [kit.by for kit in kits if kit.by]
    whole = _season_of(days[0], day) if days else season(day, day)
    return season_of(whole, desk.settings).start


def _kit_stands(desk: Desk, kits: Sequence[Kit], lately: Mapping[str, int], day: date) -> list[KitStand]:
    items, all_packed = spent_on_items(desk), packed(desk.books)
    stands = []
    for kit in kits:
        if kit.goal:
            of_kit = [(on, units) for name, on, units in all_packed if name == kit.name]
            stand = _kit_stand(kit, desk, items, of_kit, day)
            stands.append(replace(stand, this_week=lately.get(kit.name, 0)))
    return stands


def _kit_stand(
    kit: Kit, desk: Desk, items: dict[str, Spent], of_kit: Sequence[tuple[date, int]], day: date
) -> KitStand:
    whole = _season_of(kit.by, day) if kit.by else None
    first, last = (whole.start, min(day, whole.end)) if whole else (date.min, day)
    count = sum(units for on, units in of_kit if first <= on <= last)
    expected = expected_by(kit.goal or 0, season_of(whole, desk.settings), day) if whole else None
    paid = sum(in_packed(kit, items, last).values(), Cost())
    cost = paid.amount + count * sum(kit.costs.values())
    due = replace(kit, by=whole.end) if whole else kit
    each = Fraction(cost) / count if count and (cost or not paid.unpriced) else None
    return KitStand(due, count, expected, each, bool(paid.unpriced))


def _kits_then(desk: Desk, moment: datetime) -> list[Kit]:
    """The kits with the goals that stood at a moment."""
    then = goals_at(desk.books, moment)
    goals = [(kit, *then.get(kit.name, (None, None))) for kit in desk.group.kits]
    return [replace(kit, goal=goal, by=by) for kit, goal, by in goals]


def _finds(desk: Desk, seen: Iterable[Sighting], before: date) -> tuple[Find, ...]:
    """The best prices among those seen: the lowest of each item, below the price point or the lowest of a year."""
    lows: dict[str, Sighting] = {}
    for one in seen:
        if one.item not in lows or one.unit_price < lows[one.item].unit_price:
            lows[one.item] = one
    year = seen_between(desk.books, [(since(before, BEST_OF_MONTHS), before)]) if lows else []
    best: dict[str, Fraction] = {}
    for one in year:
        best[one.item] = min(best.get(one.item, one.unit_price), one.unit_price)
    found = []
    for item, low in lows.items():
        point = price_point(desk, item)
        against = point.target if point.target is not None else best.get(item)
        if against and low.unit_price < against:
            found.append((low.unit_price / against, Find(low, point)))
    return tuple(find for _, find in sorted(found, key=lambda one: one[0])[:_BEST])
