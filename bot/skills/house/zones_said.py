"""A time zone as people name it: a city, the zone's name in the tz database, "eastern", "EST"."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from zoneinfo import ZoneInfo, available_timezones

from bot.reading.form import Heard
from bot.skills.house.runs_said import plain_words, runs

_ZONES = {
    "US": {
        "eastern": "America/New_York",
        "central": "America/Chicago",
        "mountain": "America/Denver",
        "pacific": "America/Los_Angeles",
        "alaska": "America/Anchorage",
        "hawaii": "Pacific/Honolulu",
    },
    "CA": {
        "eastern": "America/Toronto",
        "central": "America/Winnipeg",
        "mountain": "America/Edmonton",
        "pacific": "America/Vancouver",
        "atlantic": "America/Halifax",
        "newfoundland": "America/St_Johns",
    },
    "AU": {
        "eastern": "Australia/Sydney",
        "central": "Australia/Adelaide",
        "western": "Australia/Perth",
    },
}
_SHORT = {"et": "eastern", "ct": "central", "mt": "mountain", "pt": "pacific"}
"""How North Americans write a zone the whole year through."""
_ZONES_OF_ALL = {
    "utc": "UTC",
    "gmt": "UTC",
    "newfoundland": "America/St_Johns",
    "greenwich": "UTC",
    "uk": "Europe/London",
    "nz": "Pacific/Auckland",
}


def zone_name(heard: Heard) -> str | None:
    """A time zone by its name in the tz database, its city, or what people call it: "Denver time", "eastern", "EST"."""
    words = plain_words(heard)
    if {"utc", "gmt"} & set(words) and any(word.isdigit() for word in words):
        return "".join(words[-3:])  # an offset is no zone, for it knows no summer time
    cities = places()
    for _, run in runs(words, 3):
        if (name := "_".join(run)) in cities:
            return cities[name]
    country = heard.marked.settings.country
    named = {
        **_ZONES["US"],
        **_ZONES_OF_ALL,
        **_ZONES.get(country, {}),
        **_abbreviations(country, heard.marked.at.year),
    }
    return next((named[word] for word in words if word in named), None)


@cache
def zone_words() -> frozenset[str]:
    """Every word of a zone's name, and what its clocks are called: the "est" of a group anywhere."""
    words = {part for place in places() for part in place.split("_")}
    called = {name for zone in places().values() for name in _called(zone, 2000)}
    return frozenset({*words, *called, *_ZONES["US"], *_ZONES["CA"], *_ZONES_OF_ALL, *_SHORT})


@cache
def _abbreviations(country: str, year: int) -> dict[str, str]:
    """The zones of a country by what their clocks are called in winter and summer: "est" and "edt" for New York.

    Where several are called so, the one that people mean by the name of its region comes first, then those that
    have a summer time.
    """
    from babel.core import get_global

    regions = list(_ZONES.get(country, {}).values())
    zones = sorted(
        get_global("territory_zones").get(country, ()),
        key=lambda zone: (zone not in regions, len(_called(zone, year)) < 2),
    )
    found: dict[str, str] = {}
    for zone in zones:
        for name in _called(zone, year):
            found.setdefault(name, zone)
    short = {word: _ZONES[country][name] for word, name in _SHORT.items()} if country in ("US", "CA") else {}
    return found | short


@cache
def _called(zone: str, year: int) -> frozenset[str]:
    """What the clocks of a zone are called in a year, where that is more than an offset."""
    names = (datetime(year, month, 1, tzinfo=ZoneInfo(zone)).tzname() or "" for month in (1, 7))
    return frozenset(name.casefold() for name in names if name.isalpha())


@cache
def places() -> dict[str, str]:
    """Zones of places by their whole name and by their last part, in lower case, without strokes."""
    found: dict[str, str] = {}
    for zone in sorted(available_timezones()):
        area, _, city = zone.rpartition("/")
        if area or not zone.isupper():
            found[zone.casefold().replace("/", "_").replace("-", "_")] = zone
        if area in ("America", "Europe", "Asia", "Australia", "Africa", "Pacific", "Atlantic"):
            found.setdefault(city.casefold().replace("-", "_"), zone)
    return found
