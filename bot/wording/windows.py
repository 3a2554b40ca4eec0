"""What is said of a sale window wherever one is named."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from bot.wording.days import day
from core.group import Settings
from core.windows import SaleWindow


def window_days(window: SaleWindow, settings: Settings, today: date) -> str:
    """Its days: "Dec 26 to Jan 10"."""
    starts = day(window.starts, today, settings.country)
    if window.ends == window.starts:
        return starts
    return f"{starts} to {day(window.ends, today, settings.country)}"


def is_on(name: str) -> str:
    """ "is on", or "are on" where the sale's name is in the plural."""
    return "are on" if name.endswith("s") else "is on"


def markdown_words(window: SaleWindow) -> str:
    """Its usual markdowns, with a comma before them: ", usually 50% off, 75% after 7 days"; empty without any known."""
    if not window.steps:
        return ""
    first, *later = window.steps
    told = [f", usually {percent(first[1])} off"]
    told += [f"{percent(off)} after {(starts - window.starts).days} days" for starts, off in later]
    return ", ".join(told)


def percent(off: Fraction) -> str:
    """A share as people say it: "50%"."""
    return f"{float(off * 100):g}%"
