"""What a new group's administrator types in answer to the first questions: a currency, a time zone, a kit."""

from __future__ import annotations

from collections.abc import Iterable

from bot.reading.words import Sort, clean, tokens_of
from bot.skills.house.settings_said import currencies
from bot.skills.house.zones_said import places

_AROUND = frozenset(
    "we were are us use pay buy shop in with it its is our ours currency prices money everything the a an please pls"
    " thanks at by on near around live based from time timezone zone city kit kits first pack packing i im so ok okay"
    " yes hi clerk to of for and be will would like lets".split()
)
"""Words that may stand around an answer: "we use euros", "we're in chicago"."""
_WE = frozenset("we were im i our the my time timezone".split())
_THERE = frozenset("in near live based around zone timezone time".split())
_SIGNS = {"€": " euros ", "£": " pounds ", "$": " dollars "}
_DOLLARS = {"US": "USD", "CA": "CAD", "AU": "AUD", "NZ": "NZD"}
_SHORT = {
    short: name
    for name in ("eastern", "central", "mountain", "pacific", "atlantic")
    for short in (f"{name[0]}t", f"{name[0]}st", f"{name[0]}dt")
    if short != "at"
}
_PLAIN = {"pound": "GBP", "pounds": "GBP", "quid": "GBP"}


def answer_in(text: str) -> str:
    """The words of a short answer without those around it, in lower case; empty where it is none."""
    for sign, name in _SIGNS.items():
        text = text.replace(sign, name)
    tokens = tokens_of(clean(text))
    if "?" in text or any(token.sort is Sort.NUMBER for token in tokens):
        return ""
    words = [token.text for token in tokens if token.sort is Sort.WORD]
    while words and words[-1] in _AROUND:
        words.pop()
    while len(words) > 1 and words[0] in _AROUND and " ".join(words) not in currencies():
        words.pop(0)
    return " ".join(words)


def says_where(text: str) -> bool:
    """Whether a text begins by saying where its writers live: "we're in boston", "time zone boston"."""
    words = [token.text for token in tokens_of(clean(text)) if token.sort is Sort.WORD]
    return bool(words) and words[0] in _WE and bool(_THERE & set(words[1:3]))


def currency_typed(words: str, country: str) -> str | None:
    """A currency by its code or name and nothing else; plain dollars are those of the group's country."""
    if words in ("dollar", "dollars", "bucks"):
        return _DOLLARS.get(country)
    return _PLAIN.get(words) or currencies().get(words)


def zone_typed(words: str) -> str | None:
    """A time zone by its name or its city and nothing else."""
    zone = places().get(words.replace(" ", "_"), "")
    return zone if "/" in zone or zone == "UTC" else None


def country_of(zone: str) -> str | None:
    """The country that a time zone lies in (CLDR); None for one of none."""
    from babel.core import get_global

    found: str = get_global("zone_territories").get(zone, "001")
    return found if found.isalpha() else None


def label_typed(words: str, labels: Iterable[str]) -> int | None:
    """Which of the buttons is typed: by its label, by its plural, or by the first word of it."""
    words = _SHORT.get(words, words)
    for index, label in enumerate(labels):
        plain = label.casefold()
        if words in (plain, f"{plain}s", f"{plain}es", plain.split()[0]):
            return index
    return None
