"""What a message says of the settings: their values as core.choices writes them."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from itertools import pairwise

from bot.reading.clock_times import clock_at
from bot.reading.dates import day_at
from bot.reading.form import Heard
from bot.reading.numbers import number_at
from bot.reading.occasions import occasion_at, sales_in_general
from bot.reading.spans import Marked
from bot.reading.words import Sort
from bot.skills.house.hours_said import quiet_hours, summary_time
from bot.skills.house.runs_said import OFF_WORDS, is_off, is_on, plain_words, runs
from bot.skills.house.setting_words import HEADS, PLAIN
from bot.skills.house.zones_said import zone_name, zone_words
from core.choices import NO_LIMIT, OFF, ON, Setting
from core.money import UnknownCurrencyError, currency


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
    """Days before any sale; None where no sales in general, or one feast or sale, are spoken of."""
    bare, said = heard.marked.bare(), heard.said
    lead = "lead" in said and all(word in _OF_LEAD_DAYS or word.isdigit() for word in said)
    if not lead and not sales_in_general(bare, heard.reach):
        return None
    if any(occasion_at(bare, index, heard.sales) for index in range(*heard.reach)):
        return None
    if {"week", "weeks"} & set(said):
        number = whole_number(heard)
        return str(7 * int(number)) if number and number != "0" else "7"
    return whole_number(heard)


_ARTICLES = frozenset(("a", "an", "the"))
_OF_LEAD_DAYS = frozenset("set make change put the our lead days day time to is of at = : please pls".split())


def rounding(heard: Heard) -> str | None:
    """ "up" or "tenth"."""
    said = set(heard.said)
    if not said & _ROUNDED:
        return None
    if said & {"tenth", "tenths", "decimal", "exact"}:
        return "tenth"
    return "up" if said & {"up", "upwards", "upward", "whole", "full"} else None


_ROUNDED = frozenset("price prices cent cents penny pence unit tenth tenths".split())


def alerts(heard: Heard) -> str | None:
    """How many a day, "no limit", "on" or "off"."""
    bare, said = heard.marked.bare(), heard.said
    if any(clock_at(bare, index) for index in range(*heard.reach)) or _PLACES & set(said):
        return None
    number = whole_number(heard)
    if number and number != "0":
        return number
    if is_off(heard):
        return NO_LIMIT if _LIMITS & set(said) else "0"
    beside = set(pairwise(said))
    if "unlimited" in said or beside & _ALL_OF_THEM:
        return NO_LIMIT
    return ON if is_on(heard) else number


_PLACES = frozenset("here topic thread main general".split())
_LIMITS = frozenset("limit limits cap max maximum".split())
_ALL_OF_THEM = frozenset((("all", "alerts"), ("every", "alert"), ("as", "many")))


def percent(heard: Heard) -> str | None:
    """A rate in percent: "8.25"; "off" where there is no tax."""
    bare = heard.marked.bare()
    for index in range(*heard.reach):
        number = _rate_at(bare, index)
        if number and (_is_percent(bare, number[1]) or _is_of_tax(bare, index, number[1])):
            return number[0]
    return OFF if is_off(heard) or "exempt" in heard.said else None


def _rate_at(bare: Marked, index: int) -> tuple[str, int] | None:
    """A number in figures or words, and where it ends."""
    text = bare.text_at(index)
    if text.replace(".", "", 1).isdigit():
        return text.rstrip("."), index + 1
    found = number_at(bare, index)
    return (str(found[0].whole), found[1]) if found and found[0].whole is not None and text not in _ARTICLES else None


def _is_percent(bare: Marked, index: int) -> bool:
    return bare.text_at(index) in ("%", "percent", "pc") or bare.has_phrase(index, ("per", "cent"))


def _is_of_tax(bare: Marked, start: int, end: int) -> bool:
    """Whether a number without its sign is what the tax is said to be: "tax rate 5.3", "set tax to 6.5"."""
    if bare.text_at(start).startswith(("0.", ".")):
        return False  # rather an amount: "tax 0.50"
    ends = bare.text_at(end) in (PLAIN | {"", ",", "."}) or bare.tokens[end].sort is Sort.STOP
    while bare.text_at(start - 1) in _BEFORE_A_RATE:
        start -= 1
    return ends and bare.text_at(start - 1) in HEADS[Setting.TAX_RATE]


_BEFORE_A_RATE = frozenset("rate is at to of = : now here stands so".split())


def currency_code(heard: Heard) -> str | None:
    """A currency by its code or its name: "CAD", "canadian dollars", "euro"."""
    words = plain_words(heard)
    names = currencies()
    for at, run in runs(words, 3):
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
    words = plain_words(heard)
    names = _countries()
    for at, run in runs(words, 4):
        name = " ".join(run)
        if name in names and not (at and words[at - 1] == "not"):
            return names[name]
    written = heard.marked.said(*heard.reach).split()
    codes = set(names.values())
    capitals = (word.strip(".,") for word in written if word.strip(".,") in codes)
    return next(capitals, None) or _code_behind(words, codes)


def _code_behind(words: list[str], codes: set[str]) -> str | None:
    """A code in small letters, where it can be no other word: it ends what is said of the country."""
    told = [word for word in words if word not in _COURTESIES]
    before = told[:-1]
    while before and before[-1] in _BEFORE_A_CODE:
        before.pop()
    is_behind = bool(before) and before[-1] in HEADS[Setting.COUNTRY]
    return told[-1].upper() if is_behind and told[-1].upper() in codes else None


_COURTESIES = frozenset("please pls plz thanks now".split())
_BEFORE_A_CODE = frozenset("is to = : as code".split())


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
    return OFF if before & (OFF_WORDS | {"instead", "rather"}) or "off" in said else ON


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


VALUES: dict[Setting, Callable[[Heard], str | None]] = {
    Setting.QUIET_HOURS: quiet_hours,
    Setting.SUMMARY: summary_time,
    Setting.ALERTS_A_DAY: alerts,
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


@cache
def value_words(setting: Setting) -> frozenset[str]:
    """The words of which the names of a setting's values are made, where they are names."""
    match setting:
        case Setting.CURRENCY:
            names = frozenset((*currencies(), *_MONEY_WORDS))
        case Setting.COUNTRY:
            names = frozenset((*_countries(), *(code.casefold() for code in _countries().values())))
        case Setting.TIMEZONE:
            return zone_words()
        case _:
            return frozenset()
    return frozenset(word for name in names for word in name.split())
