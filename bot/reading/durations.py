"""Lengths of time in hours and minutes: 20 minutes, an hour and a half, 2 and a half hours, 1h30, 1 hour 20 min."""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction

from bot.reading.numbers import number_at
from bot.reading.spans import Marked

_HOUR = 60
_UNITS = dict.fromkeys("minute minutes min mins m".split(), 1) | dict.fromkeys("hour hours hr hrs h".split(), _HOUR)
_SHARES = {"half": Fraction(1, 2), "quarter": Fraction(1, 4)}
_ARTICLES = frozenset(("a", "an"))


def hours_at(marked: Marked, index: int) -> tuple[timedelta, int] | None:
    """The hours and minutes said at a token, and the index after them: "an hour and a half" is 1:30."""
    first = _part(marked, index)
    if first is None:
        return None
    minutes, unit, end = first
    if unit == _HOUR:
        share, after = _and_a_share(marked, end)
        joint = end + (marked.text_at(end) in ("and", ","))
        more = _part(marked, joint) or _bare_minutes(marked, end)
        if share:
            minutes, end = minutes + share * _HOUR, after
        elif more and more[1] < _HOUR:
            minutes, end = minutes + more[0], more[2]
    return timedelta(minutes=float(minutes)), end


def _part(marked: Marked, index: int) -> tuple[Fraction, int, int] | None:
    """Minutes said in one unit, the unit in minutes, and where they end."""
    count, at = _count(marked, index)
    unit = _UNITS.get(marked.text_at(at))
    letter = len(marked.text_at(at)) == 1
    if count is None or unit is None or (letter and not marked.glued(at)):
        return None
    return count * unit, unit, at + 1


def _count(marked: Marked, index: int) -> tuple[Fraction | None, int]:
    """How many, and where that ends: "half an", "a", "a couple of", "2 and a half"."""
    article = marked.text_at(index) in _ARTICLES
    word = marked.text_at(index + article)
    if word in _SHARES:
        at = index + article + 1
        at += marked.text_at(at) == "of"
        return _SHARES[word], at + (marked.text_at(at) in _ARTICLES)
    if word == "couple":
        at = index + article + 1
        return Fraction(2), at + (marked.text_at(at) == "of")
    if article:
        return Fraction(1), index + 1
    number = number_at(marked, index)
    if number is None or number[0].other is not None:
        return None, index
    share, end = _and_a_share(marked, number[1])
    return number[0].value + share, end


def _and_a_share(marked: Marked, index: int) -> tuple[Fraction, int]:
    """ "and a half", and where it ends; nought where it is not said."""
    share = _SHARES.get(marked.text_at(index + 2))
    joined = marked.text_at(index) == "and" and marked.text_at(index + 1) == "a"
    return (share, index + 3) if joined and share else (Fraction(0), index)


def _bare_minutes(marked: Marked, index: int) -> tuple[Fraction, int, int] | None:
    """The 30 of "1h30"."""
    text = marked.text_at(index)
    glued = marked.glued(index) and text.isdigit() and len(text) == 2
    return (Fraction(text), 1, index + 1) if glued else None
