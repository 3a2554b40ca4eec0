"""Numbers in digits and in words, with the count words of the trade (dozen, gross, score)."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from typing import cast

from bot.reading.spans import Marked, Reach
from bot.reading.words import Sort

_SMALL = {
    word: value
    for value, word in enumerate(
        "zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen"
        " seventeen eighteen nineteen".split()
    )
}
_TENS = {
    word: 10 * value
    for value, word in enumerate("twenty thirty forty fifty sixty seventy eighty ninety".split(), start=2)
} | {"fourty": 40}
_SCALES = {"hundred": 100, "thousand": 1000, "million": 1_000_000}
COLLECTIVES = {"dozen": 12, "dozens": 12, "doz": 12, "dz": 12, "dozn": 12, "dozin": 12, "gross": 144, "score": 20}
"""Units in one of each count word (GNU units 2.22; WordNet 3.0)."""
_NAMED_COUNTS = {
    ("baker", "dozen"): 13,
    ("bakers", "dozen"): 13,
    ("great", "gross"): 1728,
    ("small", "gross"): 120,
    ("long", "hundred"): 120,
    ("threescore",): 60,
    ("brace",): 2,
}
"""Count words of their own (GNU units 2.22)."""
_VAGUE = {"couple": 2, "few": 3, "several": 3, "bunch": 10, "load": 10, "loads": 10, "quire": 25, "ream": 500}
"""Count words that say no sure number (a ream is 480 or 500); the values are only first guesses to ask with."""
_MOST_DIGITS = 12
"""Digits of the longest number told apart: all beyond are as absurd as one another."""
_ARTICLES = frozenset(("a", "an", "one", "the", "per"))
_SHARES = {"half": Fraction(1, 2), "quarter": Fraction(1, 4)}
NUMBER_WORDS = frozenset(
    {*_SMALL, *_TENS, *COLLECTIVES, *_VAGUE, *_ARTICLES, "half", "some", *(words[0] for words in _NAMED_COUNTS)}
)
"""The words a number can begin with; any other is no number, which is most of them."""


@dataclass(frozen=True, slots=True)
class Number:
    """A number as said.

    ``decimals`` is None for words; ``collective`` tells that a count word was in it; ``other`` is a second
    sensible reading ("three hundred and two dozen" is 324 or 3624), or the number itself for a vague word.
    """

    value: Fraction
    decimals: int | None = None
    collective: bool = False
    other: Fraction | None = None

    @property
    def whole(self) -> int | None:
        """The value as an integer, None for a fraction."""
        return int(self.value) if self.value.denominator == 1 else None


Read = tuple[Number, int]


def number_at(marked: Marked, index: int) -> Read | None:
    """The number that starts at a free token, and the index after it; None where there is none."""
    if marked.word(index) not in NUMBER_WORDS and not marked.is_sort(index, Sort.NUMBER):
        return None
    if index not in marked.remembered:
        marked.remembered[index] = _number_at(marked, index)
    return cast("Read | None", marked.remembered[index])


def numbers_in(marked: Marked, reach: Reach, unless: frozenset[str]) -> list[Number]:
    """The numbers of a stretch, whatever other spans have been made of them; none that begins with such a word."""
    bare, found, index = marked.bare(), list[Number](), reach[0]
    while index < reach[1]:
        number = number_at(bare, index)
        if number and bare.text_at(index) not in unless:
            found.append(number[0])
        index = number[1] if number else index + 1
    return found


def _number_at(marked: Marked, index: int) -> Read | None:
    plain = _digits(marked, index) or _in_words(marked, index)
    if plain:
        return _multiplied(marked, _and_a_share(marked, plain))
    return _named_count(marked, index) or _one_collective(marked, index) or _vague(marked, index)


def _digits(marked: Marked, index: int) -> Read | None:
    if not marked.is_sort(index, Sort.NUMBER):
        return None
    if part := fraction_at(marked, index):
        return Number(part[0], None), part[1]
    plain = _plain_digits(marked.word(index))
    if len(plain) > _MOST_DIGITS:
        plain = "9" * _MOST_DIGITS + ("." + "0" * len(plain.partition(".")[2]) if "." in plain else "")
    decimals = len(plain.partition(".")[2])
    end = index + 1
    value = Fraction(plain)
    if not decimals and marked.word(end) == "k" and marked.glued(end):
        value, end = value * 1000, end + 1
    if not decimals and not marked.glued(end) and (part := fraction_at(marked, end)):
        value, end = value + part[0], part[1]
    while scale := _SCALES.get(marked.word(end)):
        value, end = value * scale, end + 1
    return Number(value, decimals), end


def _plain_digits(raw: str) -> str:
    """Digits with a point, whichever way thousands and decimals were parted: 1.234,50 and 1,234.50."""
    raw = raw.replace(" ", "")
    decimal_comma = "," in raw and len(raw) - raw.rindex(",") == 3 and "." not in raw[raw.rindex(",") :]
    return raw.replace(".", "").replace(",", ".") if decimal_comma else raw.replace(",", "")


def fraction_at(marked: Marked, index: int) -> tuple[Fraction, int] | None:
    """A proper fraction written with a stroke, such as 1/2, glued together."""
    if not (marked.is_sort(index, Sort.NUMBER) and marked.word(index + 1) == "/" and marked.glued(index + 1)):
        return None
    top, bottom = marked.word(index), marked.word(index + 2)
    small = top.isdigit() and bottom in ("2", "3", "4", "8") and int(top) < int(bottom)
    return (Fraction(int(top), int(bottom)), index + 3) if small and marked.glued(index + 2) else None


def _in_words(marked: Marked, index: int) -> Read | None:
    start, total, group, joined = index, 0, 0, False
    if marked.word(index) in ("a", "an") and marked.word(index + 1) in _SCALES:
        index, group = index + 1, 1
    last_said = 0
    while True:
        word = marked.word(index)
        if word in _SMALL and (group == 0 or _fits(group, _SMALL[word])):
            group, last_said = group + _SMALL[word], _SMALL[word]
        elif word in _TENS and (group == 0 or group % 100 == 0):
            group, last_said = group + _TENS[word], _TENS[word]
        elif word in _SCALES and (group or total):
            total, group = _scaled(total, group, _SCALES[word])
        elif word == "and" and marked.word(index - 1) in _SCALES and _is_small(marked.word(index + 1)):
            joined = True
        elif word == "," and marked.word(index - 1) == "thousand" and _is_small(marked.word(index + 1)):
            pass
        else:
            break
        index += 1
    if index == start:
        return None
    value = Fraction(total + group)
    if marked.word(index) == "point" and marked.word(index + 1) in _SMALL:
        return _with_point(marked, value, index + 1)
    return Number(value, None, False, value - last_said if joined else None), index


def _with_point(marked: Marked, value: Fraction, index: int) -> Read:
    """Two point five, two hundred point zero three."""
    place = Fraction(1)
    while marked.word(index) in _SMALL:
        place /= 10
        value += _SMALL[marked.word(index)] * place
        index += 1
    return Number(value), index


def _fits(group: int, small: int) -> bool:
    return (group % 10 == 0 and group % 100 >= 20 and 0 < small < 10) or (group % 100 == 0 and small > 0)


def _is_small(word: str) -> bool:
    return word in _SMALL or word in _TENS


def _scaled(total: int, group: int, scale: int) -> tuple[int, int]:
    return (total, group * scale) if scale == 100 else (total + (group or 1) * scale, 0)


def _and_a_share(marked: Marked, found: Read) -> Read:
    """One and a half, five and a quarter: where a count word or a unit of money follows."""
    number, end = found
    if number.whole is None or not marked.has_phrase(end, ("and", "a")):
        return found
    share = _SHARES.get(marked.word(end + 2))
    follows = marked.word(end + 3)
    if share is None or not (follows in COLLECTIVES or follows.startswith(("dollar", "buck", "pound", "quid", "euro"))):
        return found
    return Number(number.value + share), end + 3


def _multiplied(marked: Marked, found: Read) -> Read:
    number, end = found
    units = COLLECTIVES.get(marked.word(end))
    if units is None or number.decimals:
        return replace(number, other=None), end
    other = None
    if number.other is not None:
        other = number.other + (number.value - number.other) * units
    return Number(number.value * units, None, True, other), end + 1


def _named_count(marked: Marked, index: int) -> Read | None:
    at = index + (marked.word(index) in _ARTICLES)
    for words, units in _NAMED_COUNTS.items():
        if marked.has_phrase(at, words):
            return Number(Fraction(units), None, True), at + len(words)
    return None


def _one_collective(marked: Marked, index: int) -> Read | None:
    half = Fraction(1)
    if marked.word(index) == "half":
        half, index = Fraction(1, 2), index + 1
    elif marked.word(index) in ("a", "an") and marked.word(index + 1) == "half":
        half, index = Fraction(1, 2), index + 2
    article = marked.word(index) in _ARTICLES
    word = marked.word(index + article)
    if word not in COLLECTIVES or (word == "score" and marked.word(index) not in ("a", "one")):
        return None
    end = index + article + 1
    if half == 1 and marked.has_phrase(end, ("and", "a", "half")):
        half, end = Fraction(3, 2), end + 3
    return Number(half * COLLECTIVES[word], None, True), end


def _vague(marked: Marked, index: int) -> Read | None:
    if marked.word(index) in ("a", "some"):
        index += 1
    word = marked.word(index)
    if word not in _VAGUE:
        return None
    value, end = Fraction(_VAGUE[word]), index + 1
    if units := COLLECTIVES.get(marked.word(end)):
        value, end = value * units, end + 1
    return Number(value, None, False, value), end + (marked.word(end) == "of")
