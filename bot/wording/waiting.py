"""Buy now or wait, and why, in one line."""

from __future__ import annotations

from datetime import date

from bot.wording.amounts import unit_price
from bot.wording.days import day
from bot.wording.things import counted, plural
from core.group import Settings
from core.wait_or_buy import Advice


def advice_line(item: str, advice: Advice, settings: Settings, today: date) -> str:
    """The advice on an item that is short: today's unit price against the best to expect before the kits are due."""
    things, now = plural(item), unit_price(advice.today, settings)
    expected = advice.expected
    if expected is None:
        return f"Buy {things} now, at {now}: we know of no sale before the kits are due."
    when = f"{expected.window.name} ({day(expected.window.starts, today, settings.country)})"
    rests = "estimated from the usual price" if expected.is_estimate else f"seen in {counted(expected.years, 'year')}"
    then = f"about {unit_price(expected.unit_price, settings)}, {rests}"
    if advice.wait:
        return f"Wait with {things}: {when} brings {then}; now {now}."
    return f"Buy {things} now, at {now}: {when} is hardly cheaper, {then}."
