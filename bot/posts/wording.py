"""Every sentence that the clerk says unasked, but for deals and the weekly summary."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from bot.skills.supply import Wanted
from bot.wording.amounts import exact_unit_price, unit_prices
from bot.wording.days import clock_time, day, in_days
from bot.wording.things import capital, counted, listed_up_to, plural
from bot.wording.windows import is_on, markdown_words, window_days
from core.group import Settings
from core.items import PricePoint
from core.kits import KitNeed
from core.reminders import Reminder
from core.windows import SaleWindow

_MOST_LINES = 8
_MOST_NAMED = 4


def late(post: str, due: datetime, settings: Settings, today: date) -> str:
    """A post that comes late, and says so."""
    return f"Late, it was due {clock_time(due, today, settings.country)}:\n{post}"


def reminder_post(reminder: Reminder) -> str:
    """What somebody asked to be reminded of."""
    who = f"{reminder.whom}, a reminder" if reminder.whom else "Reminder for all"
    by = f" (from {reminder.by})" if reminder.by != reminder.whom else ""
    return f"{who}{by}: {reminder.what}"


def window_post(window: SaleWindow, wanted: Sequence[Wanted], settings: Settings, today: date) -> str:
    """A sale to come: when, its markdowns, and the shopping list for it."""
    days = window_days(window, settings, today)
    head = f"{capital(window.name)} {_begins(window, today)}: {days}{markdown_words(window)}."
    if not wanted:
        return f"{head} Nothing that we are short of usually drops then."
    lines = [f"• {_wanted(one, settings, today)}" for one in wanted[:_MOST_LINES]]
    if len(wanted) > _MOST_LINES:
        lines.append(f"… and {counted(len(wanted) - _MOST_LINES, 'more item')}")
    return "\n".join([head, "Look for:", *lines])


def _begins(window: SaleWindow, today: date) -> str:
    if window.starts > today:
        return f"{'begin' if window.name.endswith('s') else 'begins'} {in_days(window.starts, today)}"
    return is_on(window.name)


def _wanted(one: Wanted, settings: Settings, today: date) -> str:
    parts = []
    if one.target is not None:
        parts.append(f"price point {exact_unit_price(one.target, settings)}")
    if one.before is not None:
        where = f" at {one.before.store}" if one.before.store else ""
        when = day(one.before.seen_on, today, settings.country)
        tell = unit_prices([one.before.unit_price], settings, PricePoint(one.target))
        parts.append(f"{tell(one.before.unit_price)}{where} then ({when})")
    return f"{counted(one.units, one.item)}{': ' if parts else ''}{', '.join(parts)}"


def deadline_post(collected: date, kits: Sequence[KitNeed], settings: Settings, today: date) -> str:
    """How long until the collection day, and what the kits still lack."""
    head = f"Collection day is {day(collected, today, settings.country)}, {in_days(collected, today)}."
    return "\n".join([head, *(_stand(need) for need in kits)])


def _stand(need: KitNeed) -> str:
    head = f"{capital(plural(need.kit.name))}: {need.packed:,} of {need.kit.goal or 0:,} packed"
    if not need.remaining:
        return f"{head}, all done."
    if not need.short:
        return f"{head}; everything for the other {need.remaining:,} is here."
    worst = sorted(need.short.items(), key=lambda one: -one[1])
    named = [counted(units, item) for item, units in worst]
    return f"{head}; short of {listed_up_to(named, _MOST_NAMED)}."
