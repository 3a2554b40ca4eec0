"""Buy now or wait, and why, in one line."""

from __future__ import annotations

from datetime import date

from bot.wording.amounts import UnitPrice
from bot.wording.days import day
from bot.wording.things import counted, plural
from bot.wording.windows import is_on, percent
from core.group import Settings
from core.wait_or_buy import Advice, Expected


def advice_line(item: str, advice: Advice, tell: UnitPrice, settings: Settings, today: date) -> str:
    """The advice on an item that is short: today's unit price against the best to expect before the kits are due."""
    things, now = plural(item), tell(advice.today)
    expected, running = advice.expected, advice.running
    on = (
        f"The {running.name} {is_on(running.name)} until {day(running.ends, today, settings.country)}. "
        if running
        else ""
    )
    if expected is None:
        later = "no cheaper sale" if running else "no sale"
        return f"{on}Buy {things} now, at {now}: we know of {later} before the kits are due."
    when = f"{expected.window.name} ({day(expected.window.starts, today, settings.country)})"
    then = f"about {tell(expected.unit_price)}, {_rests_on(expected)}"
    if advice.wait:
        return f"Wait with {things}: {when} brings {then}; now {now}."
    return f"{on}Buy {things} now, at {now}: {when} is hardly cheaper, {then}."


def _rests_on(expected: Expected) -> str:
    """What an expected price rests on."""
    if expected.is_estimate and expected.window.off is not None:
        return f"estimated at {percent(expected.window.off)} off the usual price"
    return f"seen in {counted(expected.years, 'year')}"
