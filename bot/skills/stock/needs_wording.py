"""Every sentence about what is still to buy, and what to pay for it in a shop."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction

from bot.skills.stock.shopping import Short
from bot.wording.amounts import UnitPrice, exact_unit_price, money, unit_prices
from bot.wording.days import by_day, day
from bot.wording.judged import point_words
from bot.wording.things import capital, counted, listed, plural
from core.counts import SHELF_PACKS
from core.group import Settings
from core.kits import KitNeed, Needs
from core.money import half_up
from core.prices import Sighting, dearest_packs

NOTHING_SHORT = "Nothing is short: everything for the goals is here."
NO_GOAL = "No goal is set yet. Say it, such as: goal 150 school pouches by nov 14"
_MOST_LINES = 12
_MOST_PACKS = 3
_MOST_NAMED = 3


def needs_answer(needs: Needs, short: Sequence[Short], settings: Settings, today: date) -> str:
    """All that is short, item by item, with what it costs; then how many kits the stock completes."""
    if not any(need.kit.goal for need in needs.kits):
        return NO_GOAL
    kits = [_completes(need, settings, today) for need in needs.kits if need.kit.goal]
    if not short:
        return "\n".join([NOTHING_SHORT, *kits])
    lines = [f"• {_short_line(one, settings)}" for one in short[:_MOST_LINES]]
    if len(short) > _MOST_LINES:
        lines.append(f"… and {len(short) - _MOST_LINES} more; ask kit by kit")
    return "\n".join(["Still short:", *lines, *_sums(short, settings), *kits])


def _short_line(one: Short, settings: Settings) -> str:
    packs = f" ({_in_packs(one)})" if one.packs else ""
    prices = []
    if one.at_target is not None and one.price_point.target is not None:
        prices.append(f"{_about(one.at_target, settings)} at {exact_unit_price(one.price_point.target, settings)}")
    if one.best is not None and one.at_best is not None:
        tell = unit_prices([one.best.unit_price], settings, one.price_point)
        prices.append(f"best {_about(one.at_best, settings)} ({_seen_at(one.best, tell)})")
    return f"{counted(one.units, one.item)}{packs}{': ' if prices else ''}{', '.join(prices)}{_buying(one)}"


def _in_packs(one: Short) -> str:
    """Whole packs of each size seen that cover what is short: "20 × 24"."""
    return " or ".join(f"{-(-one.units // size):,} × {size}" for size in one.packs[-_MOST_PACKS:])


def _seen_at(best: Sighting, tell: UnitPrice) -> str:
    return f"{tell(best.unit_price)}{f', {best.store}' if best.store else ''}"


def _about(amount: Fraction, settings: Settings) -> str:
    return money(half_up(amount), settings)


def _buying(one: Short) -> str:
    return "".join(f". {who.member} is buying {who.units:,}" for who in one.buying)


def _sums(short: Sequence[Short], settings: Settings) -> list[str]:
    """What all of it costs, by price points and at the best prices, as far as they are known."""
    parts = []
    targets = [one.at_target for one in short if one.at_target is not None]
    if targets:
        parts.append(
            f"{_about(sum(targets, Fraction(0)), settings)} by price points{_without(len(short) - len(targets))}"
        )
    bests = [one.at_best for one in short if one.at_best is not None]
    if bests:
        parts.append(
            f"{_about(sum(bests, Fraction(0)), settings)} at the best prices known{_without(len(short) - len(bests))}"
        )
    return [f"In all {', '.join(parts)}."] if parts else []


def _without(missing: int) -> str:
    return f" (without {counted(missing, 'item')} of unknown price)" if missing else ""


def _completes(need: KitNeed, settings: Settings, today: date) -> str:
    """How many of a kit the stock completes, and what holds the rest back."""
    kit = need.kit
    head = f"{capital(plural(kit.name))}: {need.packed:,} of {kit.goal or 0:,}{by_day(kit.by, today, settings.country)}"
    if not need.remaining:
        return f"{head}, all done."
    if not kit.contents:
        return f"{head}; nobody has said yet what goes in one."
    if not need.completes and len(need.held_back_by) == len(kit.contents) > 1:
        return f"{head}; none can be finished yet, all {len(kit.contents)} items are short."
    if not need.completes:
        return f"{head}; none can be finished yet, for want of {_first_few(need.held_back_by)}."
    held = f", then we are out of {_first_few(need.held_back_by)}" if need.held_back_by else ""
    return f"{head}; what we have completes {need.completes:,} more{held}."


def _first_few(items: Sequence[str]) -> str:
    named = [plural(item) for item in items[:_MOST_NAMED]]
    return listed([*named, f"{len(items) - _MOST_NAMED} more"] if len(items) > _MOST_NAMED else named)


def kit_needs(need: KitNeed, settings: Settings, today: date) -> str:
    """What one kit still lacks."""
    if not need.kit.goal:
        return f"{capital(plural(need.kit.name))}: no goal. Say it, such as: goal 100 {plural(need.kit.name)} by nov 14"
    worst = sorted(need.short.items(), key=lambda one: -one[1])
    lines = [f"• {counted(units, item)}" for item, units in worst[:_MOST_LINES]]
    if len(worst) > _MOST_LINES:
        lines.append(f"… and {len(worst) - _MOST_LINES} more items")
    return "\n".join([_completes(need, settings, today), *lines])


def item_answer(one: Short, settings: Settings, today: date) -> str:
    """What is short of one item, what to pay for it, and where it was cheapest."""
    if not one.units:
        return f"{capital(plural(one.item))}: none short."
    most = _most_to_pay(one, settings)
    lines = [f"Short of {_short_line(one, settings)}.", f"{capital(most)}." if most else ""]
    if one.best:
        tell = unit_prices([one.best.unit_price], settings, one.price_point)
        lines.append(f"Best price now {_where_when(one.best, tell, settings, today)}.")
    return "\n".join(filter(None, lines))


def shop_answer(store: str, short: Sequence[Short], settings: Settings, today: date) -> str:
    """What to pick up in a shop: each item with the most to pay for its packs, the last price here, and elsewhere."""
    if not short:
        return NOTHING_SHORT
    lines = [f"• {_shelf_line(one, settings, today)}" for one in short[:_MOST_LINES]]
    if len(short) > _MOST_LINES:
        lines.append(
            f"… and {len(short) - _MOST_LINES} more; ask for one, such as: do we need {plural(short[-1].item)}?"
        )
    return "\n".join([f"Needed, at {store}:", *lines])


def _shelf_line(one: Short, settings: Settings, today: date) -> str:
    if one.buying and not one.open_units:
        buyers = [who.member for who in one.buying]
        return f"{counted(one.units, one.item)}: {listed(buyers)} {'are' if len(buyers) > 1 else 'is'} buying them"
    parts = [f"{counted(one.open_units, one.item)}: {_most_to_pay(one, settings) or 'no price point yet'}"]
    tell = unit_prices((seen.unit_price for seen in (one.last_here, one.best) if seen), settings, one.price_point)
    if one.last_here:
        parts.append(f"last here {_unit_when(one.last_here, tell, settings, today)}")
    if one.best and one.best is not one.last_here and (one.dearer_here or not one.last_here):
        parts.append(f"best {_where_when(one.best, tell, settings, today)}")
    return "; ".join(parts) + _buying(one)


def _most_to_pay(one: Short, settings: Settings) -> str:
    """The price point, and the most to pay for the packs on the shelf: "price point 5¢; 12-pack up to $0.84"."""
    if one.price_point.most is None:
        return ""
    packs = dearest_packs(one.price_point, one.packs[-_MOST_PACKS:] or SHELF_PACKS[1:])
    shelf = ", ".join(f"{size}-pack up to {money(most, settings)}" for size, most in packs)
    return f"{point_words(one.price_point, settings)}: {shelf}"


def _unit_when(seen: Sighting, tell: UnitPrice, settings: Settings, today: date) -> str:
    return f"{tell(seen.unit_price)}, {day(seen.seen_on, today, settings.country)}"


def _where_when(seen: Sighting, tell: UnitPrice, settings: Settings, today: date) -> str:
    where = f"{seen.store}, " if seen.store else ""
    return f"{tell(seen.unit_price)} ({where}{day(seen.seen_on, today, settings.country)})"
