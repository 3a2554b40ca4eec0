"""What is said where nobody knows a sale of that name: the nearest that is known, else the next one."""

from __future__ import annotations

from rapidfuzz import fuzz

from bot.skills.answering import Answer, Desk
from bot.skills.calendar import wording
from core.windows import next_windows

_LIKE = 80
"""How like two words must be, of 100, for one to be a slip of the other."""


def no_such_sale(called: str, desk: Desk) -> Answer:
    """That no sale is called so, with the sale of the nearest name, or the one that starts next."""
    coming = next_windows(desk.group.window_rules, desk.settings.country, desk.today)
    like = next((window for window in coming if _is_like(called, window.name)), None)
    other = like or next((window for window in coming if window.starts > desk.today), None)
    told = wording.window_line(other, desk.settings, desk.today) if other else ""
    return Answer(wording.no_such_window(called, told, near=like is not None))


def _is_like(called: str, name: str) -> bool:
    return any(fuzz.ratio(one, other) >= _LIKE for one in called.split() for other in name.casefold().split())
