"""How far the packing is against the calendar."""

from __future__ import annotations

from datetime import date

from core.day_rules import DayRule, Fixed
from core.group import Settings
from core.kits import Season


def season_of(whole: Season, settings: Settings) -> Season:
    """The season, from the day on which the group says its packing begins where it has said one."""
    if settings.season_starts is None:
        return whole
    starts = DayRule(Fixed(*settings.season_starts))
    years = (starts.in_year(year, settings.country) for year in (whole.end.year - 1, whole.end.year))
    within = [one for one in years if one is not None and whole.start <= one <= whole.end]
    return Season(within[-1], whole.end) if within else whole


def expected_by(goal: int, season: Season, day: date) -> int | None:
    """How many kits would be done by the end of a day at an even pace, rounded down; None before the season.

    120 from 2025-11-15 to 2026-11-14, by 2026-08-09: 268 of 365 days are over, so 88.
    """
    if day < season.start:
        return None
    days = (season.end - season.start).days + 1
    over = min(days, (day - season.start).days + 1)
    return goal * over // days
