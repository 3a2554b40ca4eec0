"""Every sentence about what to buy where, and who is about to buy it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from bot.wording.amounts import money
from bot.wording.days import day
from bot.wording.things import capital, counted, listed, plural
from core.buying_plan import BuyingPlan, PackLine
from core.group import Settings
from core.stock import Reservation

NOTHING_TO_BUY = "Nothing is short, so there is nothing to buy."
_ANY_SHOP = "anywhere"


def plan_answer(plan: BuyingPlan, others: Sequence[Reservation], settings: Settings, today: date) -> str:
    """The cheapest whole packs that cover the needs, shop by shop; one shop for all where that costs little more."""
    taken = [f"{capital(buying_summary(one.item, one.units, one.member))}." for one in others]
    if not plan.items and not plan.unknown:
        return "\n".join([NOTHING_TO_BUY, *taken])
    lines = []
    by_shop: dict[str, list[tuple[PackLine, int]]] = {}
    for item in plan.items:
        for place, line in enumerate(item.lines):
            over = item.leftover if place == len(item.lines) - 1 else 0
            by_shop.setdefault(line.offer.store or _ANY_SHOP, []).append((line, over))
    if plan.items:
        lines.append(f"Cheapest for what is short: {money(plan.cost, settings)}.")
    for shop, bought in by_shop.items():
        total = sum(line.cost for line, _ in bought)
        lines.append(f"{capital(shop)}, {money(total, settings)}:")
        lines += [f"• {_pack_line(line, over, settings, today)}" for line, over in bought]
    lines += [
        f"Not enough on offer: {counted(item.uncovered, item.item)} more." for item in plan.items if item.uncovered
    ]
    if plan.one_shop:
        dearer = plan.one_shop.cost - plan.cost
        lines.append(
            f"All at {plan.one_shop.store}: {money(plan.one_shop.cost, settings)}, {money(dearer, settings)} more."
        )
    if plan.unknown:
        without = listed([counted(units, item) for item, units in plan.unknown])
        lines.append(f"No price known lately: {without}.")
    return "\n".join([*lines, *taken])


def _pack_line(line: PackLine, over: int, settings: Settings, today: date) -> str:
    pack = f"{line.packs:,} × {line.offer.units}" if line.offer.units > 1 else f"{line.packs:,}"
    price = money(line.offer.price, settings)
    each = f" ({price} each)" if line.packs > 1 else ""
    left = f", {over:,} over" if over else ""
    until = f", until {day(line.offer.until, today, settings.country)}" if line.offer.until else ""
    return f"{plural(line.offer.item)} {pack}: {money(line.cost, settings)}{each}{left}{until}"


BUY_AS_WELL = "Buy them as well"


def bought_by_others(item: str, others: Sequence[Reservation], now: datetime) -> str:
    """The question where somebody else is about to buy the same."""
    told = [f"{one.member} is buying {counted(one.units, item)} (said {_ago(one.at, now)})" for one in others]
    return f"{capital(listed(told))}, and no more are needed."


def _ago(at: datetime, now: datetime) -> str:
    minutes = int((now - at).total_seconds()) // 60
    if minutes < _HOUR:
        return "just now" if minutes < 2 else f"{minutes} minutes ago"
    return counted(minutes // _HOUR, "hour") + " ago"


_HOUR = 60


def buying_summary(item: str, units: int, buyer: str) -> str:
    """What somebody is about to buy, in one line."""
    return f"{buyer} is buying {counted(units, item)}"


def buying_answer(item: str, units: int, buyer: str, short: int) -> str:
    """The echo of what somebody is about to buy."""
    line = buying_summary(item, units, buyer)
    over = (
        f" Only {short:,} are short."
        if units > short
        else f" {short - units:,} are still open."
        if units < short
        else ""
    )
    return f"{line}; noted for a day.{over}"


def none_needed(item: str) -> str:
    """Said of an item that is not short."""
    return f"No {plural(item)} are short for the goals."


def cannot_advise(item: str, priced: bool) -> str:
    """Said where there is nothing to advise from."""
    if priced:
        return f"No collection day is set for what needs {plural(item)}. Say it, such as: collection day is nov 14"
    return f"No price of {plural(item)} is known lately. Tell me one, such as: 12 {plural(item)} 1.20 at corner store"
