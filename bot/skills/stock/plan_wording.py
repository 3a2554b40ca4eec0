"""Every sentence about what to buy where, and who is about to buy it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from bot.wording.amounts import money
from bot.wording.days import day
from bot.wording.things import capital, counted, listed, plural
from core.buying_plan import BuyingPlan, PackLine
from core.group import Settings
from core.stock import Reservation

NOTHING_TO_BUY = "Nothing is short, so there is nothing to buy."
_ANY_SHOP = "anywhere"


@dataclass(frozen=True, slots=True)
class Said:
    """What a plan is told by: the most that the group would pay for one of each item, its settings, and the day."""

    most: Mapping[str, Fraction | None]
    settings: Settings
    today: date

    def money(self, amount: int) -> str:
        """An amount in the group's currency."""
        return money(amount, self.settings)


def plan_answer(plan: BuyingPlan, others: Sequence[Reservation], said: Said) -> str:
    """The cheapest whole packs that cover the needs, shop by shop; one shop for all where that costs little more."""
    taken = [f"{capital(buying_summary(one.item, one.units, one.member))}." for one in others]
    if not plan.items and not plan.unknown:
        return "\n".join([NOTHING_TO_BUY, *taken])
    lines = [f"Cheapest for what is short: {said.money(plan.cost)}."] if plan.items else []
    for shop, bought in _by_shop(plan).items():
        lines.append(f"{capital(shop)}, {said.money(sum(line.cost for line, _ in bought))}:")
        lines += [f"• {_pack_line(line, over, said)}" for line, over in bought]
    return "\n".join([*lines, *_what_else(plan, said), *taken])


def _by_shop(plan: BuyingPlan) -> dict[str, list[tuple[PackLine, int]]]:
    """What to buy in each shop, each with the units left over of the whole item, told once."""
    found: dict[str, list[tuple[PackLine, int]]] = {}
    for item in plan.items:
        for place, line in enumerate(item.lines):
            over = item.leftover if place == len(item.lines) - 1 else 0
            found.setdefault(line.offer.store or _ANY_SHOP, []).append((line, over))
    return found


def _what_else(plan: BuyingPlan, said: Said) -> list[str]:
    """What limits leave open, the one shop for all, and what no known price covers."""
    lines = [
        f"Limits leave {counted(item.uncovered, item.item)} still to find." for item in plan.items if item.uncovered
    ]
    if plan.one_shop:
        dearer = said.money(plan.one_shop.cost - plan.cost)
        lines.append(f"All at {plan.one_shop.store}: {said.money(plan.one_shop.cost)}, {dearer} more.")
    if plan.unknown:
        without = listed([counted(units, item) for item, units in plan.unknown])
        lines.append(f"No price known lately: {without}.")
    return lines


def _pack_line(line: PackLine, over: int, said: Said) -> str:
    offer = line.offer
    pack = f"{line.packs:,} × {offer.units}" if offer.units > 1 else f"{line.packs:,}"
    parts = [f"{plural(offer.item)} {pack}: {said.money(line.cost)}"]
    parts[0] += f" ({said.money(offer.price)} each)" if line.packs > 1 else ""
    if over:
        parts.append(f"{over:,} over")
    if offer.until:
        parts.append(f"until {day(offer.until, said.today, said.settings.country)}")
    most = said.most.get(offer.item)
    if most is not None and Fraction(offer.price, offer.units) > most:
        parts.append("over what we pay")
    return ", ".join(parts)


BUY_AS_WELL = "Buy them as well"


def buy_the_rest(needed: int) -> str:
    """The label: only what nobody else is buying."""
    return f"Only {needed:,}"


def bought_by_others(item: str, others: Sequence[Reservation], needed: int, now: datetime) -> str:
    """The question where somebody else is about to buy the same; ``needed`` are those still needed besides."""
    told = [f"{one.member} is buying {counted(one.units, item)} (said {_ago(one.at, now)})" for one in others]
    more = f"only {needed:,} more {'is' if needed == 1 else 'are'}" if needed else "no more are"
    return f"{capital(listed(told))}, and {more} needed."


def _ago(at: datetime, now: datetime) -> str:
    minutes = int((now - at).total_seconds()) // 60
    if minutes < _HOUR:
        return "just now" if minutes < 2 else f"{minutes} minutes ago"
    return counted(minutes // _HOUR, "hour") + " ago"


_HOUR = 60


def buying_summary(item: str, units: int, buyer: str) -> str:
    """What somebody is about to buy, in one line."""
    return f"{buyer} is buying {counted(units, item)}"


def buying_answer(item: str, units: int, buyer: str, needed: int) -> str:
    """The echo of what somebody is about to buy; ``needed`` is what nobody else is buying."""
    line = f"{buying_summary(item, units, buyer)}; noted for a day."
    if units > needed:
        return f"{line} That is {units - needed:,} more than needed."
    return f"{line} {needed - units:,} more to buy." if units < needed else line


def none_needed(item: str) -> str:
    """Said of an item that is not short."""
    return f"No {plural(item)} are short for the goals."


def cannot_advise(item: str, priced: bool) -> str:
    """Said where there is nothing to advise from."""
    if priced:
        return f"No collection day is set for what needs {plural(item)}. Say it, such as: collection day is nov 14"
    return f"No price of {plural(item)} is known lately. Tell me one, such as: 12 {plural(item)} 1.20 at corner store"


def not_buying(item: str, buyer: str) -> str:
    """What somebody will not buy after all, in one line."""
    return f"{buyer} is not buying {plural(item)}"


def open_again(line: str, item: str, short: int) -> str:
    """The echo of that, with how many are then open."""
    return f"{line}. Still short: {counted(short, item)}." if short else f"{line}."
