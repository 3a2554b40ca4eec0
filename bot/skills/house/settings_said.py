"""What a message says of the settings: their values as core.choices writes them."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import time
from functools import cache
from zoneinfo import available_timezones

from bot.reading.clock_times import clock_at, hour_at
from bot.reading.dates import day_at
from bot.reading.form import Heard
from bot.reading.numbers import number_at
from bot.reading.occasions import occasion_at
from bot.reading.spans import Marked
from core.choices import OFF, ON, Setting
from core.day_rules import WEEKDAYS
from core.money import UnknownCurrencyError, currency

_OFF_WORDS = frozenset(
    "off no none dont kill stop without disable cancel rid away drop remove skip never end abolish".split()
)
_WEEKDAY_STARTS = {day[:3]: day for day in WEEKDAYS}


def is_off(heard: Heard) -> bool:
    """Whether the thing is not wanted at all: "turn quiet hours off"."""
    return bool(_OFF_WORDS & set(heard.said))


def quiet_hours(heard: Heard) -> str | None:
    """ "22:00-07:00": the first two times said; "off" where they are not wanted."""
    times = _times(heard, bare_hours=True)
    if len(times) < 2:
        return OFF if is_off(heard) else None
    starts, ends = (one for one, _ in times[:2])
    if not times[0][1] and starts < time(12):
        starts = time((starts.hour + 12) % 24, starts.minute)
    if not times[1][1] and ends >= time(12):
        ends = time(ends.hour - 12, ends.minute)
    return f"{_clock(starts)}-{_clock(ends)}"


def _clock(at: time) -> str:
    return "00:00" if at == time(23, 59) else f"{at:%H:%M}"


def _times(heard: Heard, *, bare_hours: bool = False) -> list[tuple[time, bool]]:
    """The times of day said, and whether it is sure which half of the day they are in."""
    bare = heard.marked.bare()
    found: list[tuple[time, bool]] = []
    index = heard.reach[0]
    while index < heard.reach[1]:
        here = clock_at(bare, index)
        sure = here is not None
        if here is None and bare_hours and bare.text_at(index - 1) in _BEFORE_AN_HOUR:
            here = hour_at(bare, index) or _late_hour(bare, index)
        if here and bare.text_at(index) != "night":
            found.append((here[0], sure))
        index = here[1] if here else index + 1
    return found


def _late_hour(bare: Marked, index: int) -> tuple[time, int] | None:
    """A bare hour of the second half of the day: the 22 of "from 22 to 6"."""
    word = bare.text_at(index)
    return (time(int(word)), index + 1) if word.isdigit() and 12 < int(word) < 24 else None


_BEFORE_AN_HOUR = frozenset("from between and to till until at - hours".split())


def summary_time(heard: Heard) -> str | None:
    """ "friday 16:30", "friday", "16:30" or "off"."""
    words = heard.said
    refused = {words[at + 2] for at in range(len(words) - 2) if words[at] == "not" and words[at + 1] in ("on", "at")}
    refused |= {words[at + 1] for at in range(len(words) - 1) if words[at] == "not"}
    told = [word for word in words if word not in refused]
    day = next((found for word in told if (found := _weekday(word))), None)
    times = _times(heard, bare_hours=True)
    parts = [*([day] if day else []), *([_clock(times[0][0])] if times else [])]
    if parts:
        return " ".join(parts)
    return OFF if is_off(heard) else None


def _weekday(word: str) -> str | None:
    """The weekday that a word is: "friday", "fridays", "fri", "tues"."""
    day = _WEEKDAY_STARTS.get(word[:3])
    shorts = {day[:3], f"{day[:3]}s", day[:4], day[:5]} if day else set()
    return day if day and (word.removesuffix("s") == day or word in shorts) else None


def whole_number(heard: Heard) -> str | None:
    """The first number said that is not one that was before: "5 days warning, not 3", "not more than 4"."""
    bare = heard.marked.bare()
    for index in range(*heard.reach):
        found = number_at(bare, index)
        before = bare.text_at(index - 1)
        was = before == "not" or (before == "than" and bare.text_at(index - 2) != "more")
        if found and found[0].whole is not None and not was and bare.text_at(index) not in _ARTICLES:
            return f"{'-' if before == '-' else ''}{found[0].whole}"
    return "0" if is_off(heard) else None


def lead_days(heard: Heard) -> str | None:
    """Days before any sale; None where one feast or sale is named, for then it is a reminder that is wanted."""
    bare, said = heard.marked.bare(), heard.said
    if any(occasion_at(bare, index, heard.sales) for index in range(*heard.reach)):
        return None
    if {"week", "weeks"} & set(said):
        number = whole_number(heard)
        return str(7 * int(number)) if number and number != "0" else "7"
    return whole_number(heard)


_ARTICLES = frozenset(("a", "an", "the"))


def rounding(heard: Heard) -> str | None:
    """ "up" or "tenth"."""
    said = set(heard.said)
    if said & {"tenth", "tenths", "decimal", "exact"}:
        return "tenth"
    return "up" if said & {"up", "upwards", "upward", "whole", "full"} else None


def percent(heard: Heard) -> str | None:
    """A rate in percent: "8.25"; "off" where there is no tax."""
    for index in range(*heard.reach):
        text = heard.marked.text_at(index)
        if text.replace(".", "", 1).isdigit():
            return text.rstrip(".")
    bare = heard.marked.bare()
    for index in range(*heard.reach):
        found = number_at(bare, index)
        if found and found[0].whole is not None and bare.text_at(index) not in _ARTICLES:
            return str(found[0].whole)
    return OFF if is_off(heard) else None


def currency_code(heard: Heard) -> str | None:
    """A currency by its code or its name: "CAD", "canadian dollars", "euro"."""
    words = _words(heard)
    names = currencies()
    for at, run in _runs(words, 3):
        name = " ".join(run)
        if name in names and not (at and words[at - 1] == "not"):
            return names[name]
    plain = next((word for word in words if word in _MONEY_WORDS), None)
    return _of_country(plain, heard.marked) if plain else None


_MONEY_WORDS = frozenset(("dollar", "dollars", "pound", "pounds"))
_DOLLARS = {"US": "USD", "CA": "CAD", "AU": "AUD", "NZ": "NZD", "SG": "SGD"}


def _of_country(word: str, marked: Marked) -> str | None:
    """Plain dollars or pounds are those of the group's country."""
    return "GBP" if word.startswith("pound") else _DOLLARS.get(marked.settings.country)


@cache
def currencies() -> dict[str, str]:
    """Currencies by code and by name, in lower case."""
    from babel import Locale

    found: dict[str, str] = {}
    for code, name in Locale("en").currencies.items():
        if not _in_use(code):
            continue
        plain = name.casefold()
        for said in (code.casefold(), plain, f"{plain}s", plain.removeprefix("us ")):
            found.setdefault(said, code)
    return {said: code for said, code in found.items() if said not in _NO_CODES} | _OTHER_NAMES


def _in_use(code: str) -> bool:
    try:
        currency(code)
    except UnknownCurrencyError:
        return False
    return True


_OTHER_NAMES = {"american dollar": "USD", "american dollars": "USD", "sterling": "GBP", "euros": "EUR"}
_NO_CODES = frozenset("all top try mad cup pen tnd sos rub".split())
"""Codes that are plain words as well."""


def country_code(heard: Heard) -> str | None:
    """A country by its name or its two letters: "Ireland", "CA"."""
    words = _words(heard)
    names = _countries()
    for at, run in _runs(words, 4):
        name = " ".join(run)
        if name in names and not (at and words[at - 1] == "not"):
            return names[name]
    written = heard.marked.said(*heard.reach).split()
    codes = set(names.values())
    return next((word.strip(".,") for word in written if word.strip(".,") in codes), None)


@cache
def _countries() -> dict[str, str]:
    """Countries by name, in lower case."""
    from babel import Locale

    territories = Locale("en").territories.items()
    names = {name.casefold().replace(".", ""): code for code, name in territories if len(code) == 2 and code.isalpha()}
    return names | _OTHER_COUNTRIES


_OTHER_COUNTRIES = {"usa": "US", "america": "US", "the states": "US", "uk": "GB"} | dict.fromkeys(
    ("britain", "england", "scotland", "wales"), "GB"
)
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
}
_ZONES_OF_ALL = {
    "utc": "UTC",
    "gmt": "UTC",
    "newfoundland": "America/St_Johns",
    "greenwich": "UTC",
    "uk": "Europe/London",
}


def zone_name(heard: Heard) -> str | None:
    """A time zone by its name in the IANA database, its city, or what people call it: "Denver time", "eastern"."""
    words = _words(heard)
    if {"utc", "gmt"} & set(words) and any(word.isdigit() for word in words):
        return "".join(words[-3:])  # an offset is no zone, for it knows no summer time
    cities = places()
    for _, run in _runs(words, 3):
        if (name := "_".join(run)) in cities:
            return cities[name]
    of_country = {**_ZONES["US"], **_ZONES_OF_ALL, **_ZONES.get(heard.marked.settings.country, {})}
    return next((of_country[word] for word in words if word in of_country), None)


@cache
def places() -> dict[str, str]:
    """Zones by their whole name and by their last part, in lower case, without strokes."""
    found: dict[str, str] = {}
    for zone in sorted(available_timezones()):
        area, _, city = zone.rpartition("/")
        found[zone.casefold().replace("/", "_").replace("-", "_")] = zone
        if area in ("America", "Europe", "Asia", "Australia", "Africa", "Pacific", "Atlantic"):
            found.setdefault(city.casefold().replace("-", "_"), zone)
    return found


def season_days(heard: Heard) -> str | None:
    """ "01-10/11-14": the first and, if said, the last day of the packing season."""
    bare = heard.marked.bare()
    found: list[str] = []
    index = heard.reach[0]
    while index < heard.reach[1]:
        here = day_at(bare, index, ahead=True)
        if here and here[1] > index + 1:
            found.append(f"{here[0]:%m-%d}")
        index = here[1] if here and here[1] > index + 1 else index + 1
    return "/".join(found[:2]) or (OFF if is_off(heard) else None)


def reactions(heard: Heard) -> str | None:
    """ "on" where a sign on a price is enough, "off" where each is to be answered in words."""
    said = heard.said
    at = next((index for index, word in enumerate(said) if word in _SIGNS), None)
    worded = any(word in _ANSWERS for word in said)
    if at is None:
        return (ON if is_off(heard) else OFF) if worded else None
    before = set(said[:at])
    if before & {"just", "only"} and not before & {"dont", "not"}:
        return ON
    return OFF if before & (_OFF_WORDS | {"instead", "rather"}) or "off" in said else ON


_SIGNS = frozenset("react reacting reaction reactions thumb thumbs emoji emojis sign".split())
_ANSWERS = frozenset("answer answering reply replying respond words text".split())


def topic(heard: Heard) -> str | None:
    """ "here", or "off" for the main part of the chat; None where the posts are not wanted."""
    said = heard.said
    if is_off(heard):
        return None
    refused = said.index("not") if "not" in said else len(said)
    wanted = set(said[:refused])
    if wanted & {"main", "general"}:
        return OFF
    return HERE if wanted & {"here", "this"} else None


HERE = "here"
"""The topic in which it is said, as a message can name it."""


def _runs(words: list[str], longest: int) -> Iterator[tuple[int, list[str]]]:
    """Every run of words, the longest first, and where it begins."""
    for length in range(longest, 0, -1):
        for at in range(len(words) - length + 1):
            yield at, words[at : at + length]


def _words(heard: Heard) -> list[str]:
    return [word for word in heard.said if word not in ("/", ".", ",")]


VALUES: dict[Setting, Callable[[Heard], str | None]] = {
    Setting.QUIET_HOURS: quiet_hours,
    Setting.SUMMARY: summary_time,
    Setting.ALERTS_A_DAY: whole_number,
    Setting.LEAD_DAYS: lead_days,
    Setting.ROUNDING: rounding,
    Setting.CURRENCY: currency_code,
    Setting.TAX_RATE: percent,
    Setting.COUNTRY: country_code,
    Setting.TIMEZONE: zone_name,
    Setting.SEASON: season_days,
    Setting.REACTIONS: reactions,
    Setting.TOPIC: topic,
}
"""How the value of each setting is found in a message."""
