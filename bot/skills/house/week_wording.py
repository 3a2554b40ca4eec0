"""Every sentence of the weekly summary."""

from __future__ import annotations

from datetime import date

from bot.skills.weekly import Find, KitStand, Week
from bot.wording.amounts import exact_unit_price, money, unit_prices
from bot.wording.days import dated, day, in_days
from bot.wording.things import capital, counted, listed, plural
from core.group import Settings
from core.items import PricePoint
from core.ledger import Payment
from core.money import half_up
from core.shares import Standing
from core.windows import SaleWindow

_MOST_SHORT = 4
_MOST_KITS = 6
_MOST_OPEN = 3
_MOST_PAYMENTS = 4


def week_text(week: Week, settings: Settings, today: date) -> str:
    """The summary of a week: a line for each thing worth one; a quiet week in one line."""
    if week.quiet:
        return _quiet(week, settings, today)
    lines = [
        f"The week to {_on(week.ends, settings, today)}:",
        *_kits(week, settings, today),
        _finds(week.finds, settings),
        _money(week, settings),
        _open(week.open_cases),
        _owed(week.owed, settings),
        _short(week),
        _next(week.next_window, settings, today),
    ]
    return "\n".join(filter(None, lines))


def _on(ends: date, settings: Settings, today: date) -> str:
    return f"{ends:%a} {dated(ends, today, settings.country)}"


def _quiet(week: Week, settings: Settings, today: date) -> str:
    kits = [f"{plural(one.kit.name)} {_done(one)}{_pace(one)}" for one in week.kits]
    parts = [f"The week to {_on(week.ends, settings, today)} was quiet", *kits[:_MOST_KITS]]
    return f"{'; '.join(parts)}. {_next(week.next_window, settings, today)}".strip()


def _kits(week: Week, settings: Settings, today: date) -> list[str]:
    lines = [_kit_line(one, settings, today) for one in week.kits[:_MOST_KITS]]
    if len(week.kits) > _MOST_KITS:
        lines.append(f"… and {counted(len(week.kits) - _MOST_KITS, 'more kit')}")
    return lines


def _kit_line(one: KitStand, settings: Settings, today: date) -> str:
    by = f" by {day(one.kit.by, today, settings.country)}" if one.kit.by and one.kit.by >= today else ""
    lately = f" (+{one.this_week})" if one.this_week else ""
    return f"{capital(plural(one.kit.name))}: {_done(one)}{by}{lately}{_pace(one)}"


def _done(one: KitStand) -> str:
    return f"{one.done:,} of {one.kit.goal:,}"


def _pace(one: KitStand) -> str:
    if one.done >= (one.kit.goal or 0):
        return ", all done"
    if one.expected is None:
        return ""
    ahead = one.done - one.expected
    if not ahead:
        return ", on time"
    return f", {abs(ahead):,} {'ahead' if ahead > 0 else 'behind'}"


def _finds(finds: tuple[Find, ...], settings: Settings) -> str:
    if not finds:
        return ""
    told = []
    for find in finds:
        seen = find.sighting
        where = f" at {seen.store}" if seen.store else ""
        point = f" (price point {exact_unit_price(find.point.target, settings)})" if find.point.target else ""
        tell = unit_prices([seen.unit_price], settings, PricePoint(find.point.target))
        told.append(f"{plural(seen.item)} {tell(seen.unit_price)}{where}{point}")
    return f"Best finds: {'; '.join(told)}"


def _money(week: Week, settings: Settings) -> str:
    costs = [
        f"a {one.kit.name} has cost {'at least ' if one.in_part else ''}{money(half_up(one.cost), settings)}"
        for one in week.kits
        if one.cost is not None
    ]
    if not week.spent_in_season and not costs:
        return ""
    spent = f"Spent {money(week.spent, settings)}, {money(week.spent_in_season, settings)} this season"
    return "; ".join([spent, *costs[:_MOST_KITS]])


def _open(cases: tuple[Standing, ...]) -> str:
    if not cases:
        return ""
    told = [f"{counted(one.case.count, one.case.item)} ({one.case.payer}), {one.left:,} left" for one in cases]
    return f"Open cases: {'; '.join(told[:_MOST_OPEN])}{_more(len(told) - _MOST_OPEN)}"


def _owed(payments: tuple[Payment, ...], settings: Settings) -> str:
    if not payments:
        return ""
    told = [f"{one.payer} owes {one.payee} {money(one.amount, settings)}" for one in payments]
    return f"Owed: {', '.join(told[:_MOST_PAYMENTS])}{_more(len(told) - _MOST_PAYMENTS)}"


def _more(count: int) -> str:
    return f" and {count} more" if count > 0 else ""


def _short(week: Week) -> str:
    if not week.short:
        return ""
    named = [counted(units, item) for item, units in week.short[:_MOST_SHORT]]
    rest = len(week.short) - _MOST_SHORT
    return f"Most short: {listed([*named, f'{rest} more items'] if rest > 1 else named)}"


def _next(window: SaleWindow | None, settings: Settings, today: date) -> str:
    if window is None:
        return ""
    if window.starts <= today:
        return f"On now: {window.name}, until {day(window.ends, today, settings.country)}"
    return f"Next sale: {window.name}, {day(window.starts, today, settings.country)} ({in_days(window.starts, today)})"


def not_yet(monday: date, settings: Settings, today: date) -> str:
    """A week that is still to come."""
    when = day(monday, today, settings.country)
    return f"The week of {when} is still to come. Ask for one that was: last week's summary"


ONE_WEEK = "I sum up one week at a time. Ask such as: last week's summary, or: summary for the week of july 20"
"""Said to somebody who wants a month or a year summed up."""
