"""Numbers in digits and in words, with the count words of the trade (dozen, gross, score)."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from bot.reading.spans import Marked
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
COLLECTIVES = {"dozen": 12, "dozens": 12, "doz": 12, "dz": 12, "gross": 144, "score": 20}
"""Units in one of each count word (GNU units 2.22; WordNet 3.0)."""
_VAGUE = {"couple": 2, "few": 3, "several": 3, "bunch": 10, "load": 10, "loads": 10}
"""Count words that say no number; the values are only first guesses to ask with."""
_ARTICLES = frozenset(("a", "an", "one"))


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


def number_at(marked: Marked, index: int) -> tuple[Number, int] | None:
    """The number that starts at a free token, and the index after it; None where there is none."""
    if not marked.word(index):
        return None
    return (
        _multiplied(marked, _digits(marked, index))
        or _multiplied(marked, _in_words(marked, index))
        or _one_collective(marked, index)
        or _vague(marked, index)
    )


def _digits(marked: Marked, index: int) -> tuple[Number, int] | None:
    if not marked.is_sort(index, Sort.NUMBER):
        return None
    raw = marked.word(index)
    plain = raw.replace(",", ".") if _decimal_comma(raw) else raw.replace(",", "")
    decimals = len(plain.partition(".")[2])
    end = index + 1
    value = Fraction(plain)
    if not decimals and marked.word(end) == "k" and marked.glued(end):
        value, end = value * 1000, end + 1
    if not decimals and not marked.glued(end) and (part := fraction_at(marked, end)):
        value, end = value + part[0], part[1]
    return Number(value, decimals), end


def _decimal_comma(raw: str) -> bool:
    return "," in raw and "." not in raw and len(raw) - raw.rindex(",") == 3


def fraction_at(marked: Marked, index: int) -> tuple[Fraction, int] | None:
    """A proper fraction written with a stroke, such as 1/2, glued together."""
    if not (marked.is_sort(index, Sort.NUMBER) and marked.word(index + 1) == "/" and marked.glued(index + 1)):
        return None
    top, bottom = marked.word(index), marked.word(index + 2)
    if not (marked.glued(index + 2) and top.isdigit() and bottom in ("2", "3", "4", "8") and int(top) < int(bottom)):
        return None
    return Fraction(int(top), int(bottom)), index + 3


def _in_words(marked: Marked, index: int) -> tuple[Number, int] | None:
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
        elif word in _SCALES and group:
            total, group = _scaled(total, group, _SCALES[word])
        elif word == "and" and _SCALES.get(marked.word(index - 1)) and _is_small(marked.word(index + 1)):
            joined = True
        else:
            break
        index += 1
    if index == start:
        return None
    value = total + group
    other = Fraction(value - last_said) if joined else None
    return Number(Fraction(value), None, False, other), index


def _fits(group: int, small: int) -> bool:
    return (group % 10 == 0 and group % 100 >= 20 and 0 < small < 10) or (group % 100 == 0 and small > 0)


def _is_small(word: str) -> bool:
    return word in _SMALL or word in _TENS


def _scaled(total: int, group: int, scale: int) -> tuple[int, int]:
    return (total, group * scale) if scale == 100 else (total + group * scale, 0)


def _multiplied(marked: Marked, found: tuple[Number, int] | None) -> tuple[Number, int] | None:
    if found is None:
        return None
    number, end = found
    units = COLLECTIVES.get(marked.word(end))
    if units is None or number.decimals:
        return Number(number.value, number.decimals), end
    rest = number.value - number.other if number.other is not None else None
    other = None if number.other is None or rest is None else number.other + rest * units
    value = number.value * units
    return Number(value, None, True, other), end + 1


def _one_collective(marked: Marked, index: int) -> tuple[Number, int] | None:
    half = Fraction(1)
    if marked.word(index) == "half":
        half, index = Fraction(1, 2), index + 1
    elif marked.word(index) in ("a", "an") and marked.word(index + 1) == "half":
        half, index = Fraction(1, 2), index + 2
    if marked.word(index) in ("a", "an", "one", "the", "per"):
        index += 1
    word = marked.word(index)
    if word == "score" and marked.word(index - 1) not in _ARTICLES:
        return None
    if word in COLLECTIVES:
        return Number(half * COLLECTIVES[word], None, True), index + 1
    if word in ("baker", "bakers") and marked.word(index + 1) == "dozen":
        return Number(Fraction(13), None, True), index + 2
    return None


def _vague(marked: Marked, index: int) -> tuple[Number, int] | None:
    if marked.word(index) in ("a", "some"):
        index += 1
    word = marked.word(index)
    if word not in _VAGUE:
        return None
    value = Fraction(_VAGUE[word])
    return Number(value, None, False, value), index + (2 if marked.word(index + 1) == "of" else 1)
