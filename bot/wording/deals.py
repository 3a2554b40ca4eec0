"""Every sentence about a deal."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from bot.wording.amounts import UnitPrice, exact_unit_price, money, unit_prices
from bot.wording.days import day
from bot.wording.judged import told_of
from bot.wording.things import capital, counted, plural
from core.deals import Deal
from core.group import Settings
from core.items import PricePoint
from core.prices import Sighting, Verdict

BUY, SHARE, NOT_FOR_US = "I'm buying", "Share a case", "Not for us"
GONE = "That price was taken back."


def withdrawn(summary: str) -> str:
    """Takes the place of an alert whose price was taken back."""
    return f"Taken back: {summary}."


_MOST_LINES = 8


def deal_post(deal: Deal, verdict: Verdict, settings: Settings, today: date, paid: bool) -> str:
    """An alert: the unit price and where, against what, how many are still needed and what they would cost."""
    seen = deal.sighting
    until = f", until {day(seen.until, today, settings.country)}" if seen.until else ""
    until += f", seen {day(seen.seen_on, today, settings.country)}" if seen.seen_on < today - timedelta(days=1) else ""
    what = "" if seen.count == 1 else f" ({seen.count:,} for {money(seen.price, settings)})"
    tell = told_of(verdict, settings, deal.lowest)
    head = f"Deal: {_unit(seen, tell)}{what}{until}."
    needed = f"{deal.short:,} still needed: {_packs(deal)}{money(deal.cost, settings)}."
    if paid:
        needed = f"{deal.short:,} still needed."
    against = _over(deal, verdict.price_point, settings) + _against(deal, tell, settings)
    return "\n".join([head, f"{capital(against)}.", needed])


def _unit(seen: Sighting, tell: UnitPrice) -> str:
    where = f" at {seen.store}" if seen.store else ""
    return f"{plural(seen.item)} {tell(seen.unit_price)} each{where}"


def _over(deal: Deal, point: PricePoint, settings: Settings) -> str:
    """Said of a price that is the lowest in a year, and over the price point all the same."""
    if point.target is None or deal.sighting.unit_price <= point.target:
        return ""
    return f"over our price point of {exact_unit_price(point.target, settings)}, but "


def _against(deal: Deal, tell: UnitPrice, settings: Settings) -> str:
    parts = []
    if deal.target is not None:
        parts.append(f"below our price point of {exact_unit_price(deal.target, settings)}")
    if deal.lowest is not None:
        parts.append(f"the lowest in 12 months (before: {tell(deal.lowest)})")
    return " and ".join(parts)


def _packs(deal: Deal) -> str:
    count, limit = deal.sighting.count, deal.sighting.pack_limit
    most = f", at most {limit} a customer" if limit else ""
    if count == 1:
        return f"{most[2:]}, " if most else ""
    return f"{counted(deal.packs, 'pack')} of {count}{most}, "


def gathered(deals: Sequence[Deal], settings: Settings, today: date) -> str:
    """Several deals in one post."""
    lines = [f"• {_line(one, settings, today)}" for one in deals[:_MOST_LINES]]
    if len(deals) > _MOST_LINES:
        lines.append(f"… and {len(deals) - _MOST_LINES} more")
    return "\n".join(["Other deals since yesterday:", *lines])


def _line(deal: Deal, settings: Settings, today: date) -> str:
    until = f", until {day(deal.sighting.until, today, settings.country)}" if deal.sighting.until else ""
    tell = unit_prices((deal.sighting.unit_price, deal.lowest), settings, PricePoint(deal.target))
    return f"{_unit(deal.sighting, tell)}{until}: {_against(deal, tell, settings)}; {deal.short:,} needed"


def declined_summary(seen: Sighting) -> str:
    """The line that names it when taken back."""
    return f"not for us: {plural(seen.item)}{f' at {seen.store}' if seen.store else ''}"


def open_already(item: str, member: str) -> str:
    """The same case has been opened before."""
    return f"{member} has that case of {plural(item)} open already."


def declined(seen: Sighting, settings: Settings) -> str:
    """The echo of "not for us"."""
    where = f" at {seen.store}" if seen.store else ""
    count = "one costs" if seen.count == 1 else f"{seen.count:,} cost"
    below = f"{count} less than {money(seen.price, settings)}"
    return f"I will not speak of {plural(seen.item)}{where} again for half a year, unless {below}."
