"""Who pays whom in a sentence: names, "me", and pronouns, with the small words before them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from bot.reading.amounts import Amount, Role
from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.numbers import number_at
from bot.reading.offers import Frame, Unclear, coins_or_notes
from bot.reading.packs import Loose
from bot.reading.pricing import minus_said
from bot.reading.spans import Found, Marked, Reach
from bot.reading.strangers import strange_words
from bot.reading.words import lexicon
from bot.skills.shares.parties import ME
from core.money import MAX_MAJOR_UNITS, TooLargeError, TooManyDecimalsError

_ME = frozenset("me myself i ive im ill".split())
_I = frozenset("i ive im ill".split())
_OTHERS = frozenset("he she him her they them".split())
_UNITS = frozenset("piece pieces pcs unit units outta for ta thx mine".split())
_SURELY_WHOLE = 100
"""A payment of fewer than so many, said without a point, is in whole money: nobody pays back five cents."""


@dataclass(frozen=True, slots=True)
class Person:
    """Somebody named at a token; ``before`` is the word right before."""

    name: str
    at: int
    before: str
    speaks: bool = False
    """True for an "I"."""


def people_in(heard: Heard) -> list[Person]:
    """Everybody named in a stretch, in order; the speaker is "me", a pronoun the other member named before."""
    marked = heard.marked
    found: list[Person] = []
    for span in named(marked, heard.reach, NameSort.MEMBER):
        name = ME if span.value.name == heard.speaker else span.value.name
        found.append(Person(name, span.start, marked.text_at(span.start - 1)))
    for index in range(*heard.reach):
        word = marked.text_at(index)
        if word in _ME:
            found.append(Person(ME, index, marked.text_at(index - 1), word in _I))
    found.sort(key=lambda person: person.at)
    for index in range(*heard.reach):
        others = [person.name for person in found if person.at < index and person.name != ME]
        if marked.text_at(index) in _OTHERS and others and not _possessive(marked, index):
            found.append(Person(others[-1], index, marked.text_at(index - 1)))
    return sorted(found, key=lambda person: person.at)


def side_by_side(marked: Marked, people: list[Person]) -> list[Person]:
    """Those who are said in one breath: "me and Ines", "Ines, Mei & Tobias".

    Nobody where they are not, or where one of them is said again: "me and Ines are even, I gave her 4.95".
    """
    found: list[Person] = []
    for before, after in pairwise(people):
        between = {marked.text_at(index) for index in range(before.at + 1, after.at)}
        if between and between <= _BESIDE and before.name != after.name:
            found = [*found, after] if found and found[-1] is before else [before, after]
    joined = found and any(marked.text_at(index) in _AND for index in range(found[0].at, found[-1].at))
    again = len(people) > len({person.name for person in people})
    return found if joined and not again else []


_AND = frozenset("and & n".split())
_BESIDE = _AND | {","}


def _possessive(marked: Marked, index: int) -> bool:
    """True for "her money", where "her" names nobody."""
    after = marked.text_at(index + 1)
    return marked.text_at(index) == "her" and (
        after in ("money", "share") or any(marked.each(Amount, index + 1, index + 2))
    )


def sum_in(heard: Heard, frame: Frame, beside: frozenset[str] = frozenset()) -> int | Unclear | None:
    """The only amount of a stretch, in minor units; a question where it would be a guess; None without one.

    ``beside`` are words of which a number without a point must stand right behind one, or behind a name.
    """
    marked = heard.marked
    spans = [span for span in marked.each(Amount, *heard.reach) if span.value.role is not Role.WITHIN]
    loose = marked.each(Loose, *heard.reach)
    if any(of_other_things(heard, span.end) for span in loose):
        return None
    if not spans:
        return None if any(of_items(heard, span.end) for span in loose) else _bare_sum(heard, frame, beside)
    bare = any(not of_items(heard, span.end) for span in loose)
    notes = any(_after_article(marked, index) for index in range(*heard.reach))
    if len(spans) > 1 or bare or notes or _is_time(marked, spans[0].start):
        return None
    return _whole_sum(marked, spans[0], frame, heard.reach)


def _whole_sum(marked: Marked, span: Found[Amount], frame: Frame, reach: Reach) -> int | Unclear:
    currency = marked.settings.currency
    example = f"Try: {frame.says('4.20')}"
    if span.value.foreign:
        money = span.value.foreign
        return Unclear(f"“{money}” is not the money of this group, which counts in {currency.code}. {example}")
    if span.value.value <= 0 or minus_said(marked, reach):
        return Unclear(f"A payment is more than nothing. {example}")
    try:
        return currency.minor(span.value.value)
    except TooManyDecimalsError:
        return Unclear(f"That has more decimals than {currency.code} has coins for. {example}")
    except TooLargeError:
        return Unclear(f"That is over a million. {example}")


def _is_time(marked: Marked, start: int) -> bool:
    """True for "at 4.30", which is a time of day."""
    return marked.text_at(start - 1) == "at" and marked.text_at(start)[:1].isdigit()


def _bare_sum(heard: Heard, frame: Frame, beside: frozenset[str]) -> int | Unclear | None:
    """A number without a point or a sign, if it is the only one: "paid Ines 5", "a ten"."""
    marked = heard.marked
    loose = [
        span.value.units
        for span in marked.each(Loose, *heard.reach)
        if span.value.firm and span.value.other is None and _stands_beside(heard, span.start, beside)
    ]
    if not loose:
        loose = [found for index in range(*heard.reach) if (found := _after_article(marked, index))]
    if len(loose) != 1 or _of_goods(heard):
        return None
    currency = marked.settings.currency
    if loose[0] == 0 or minus_said(marked, heard.reach):
        return Unclear(f"A payment is more than nothing. Try: {frame.says('4.20')}")
    if loose[0] > MAX_MAJOR_UNITS:
        return Unclear(f"That is over a million. Try: {frame.says('4.20')}")
    if loose[0] < _SURELY_WHOLE or not currency.digits:
        return currency.minor(Fraction(loose[0]))
    return coins_or_notes(loose[0], currency, frame)


def _of_goods(heard: Heard) -> bool:
    """True where a number may count goods handed over as well as money: "brought Mei 40", "gave Mei her 72"."""
    words = heard.said
    if {"ones", "units", "pieces", "pcs", "dozen", "dozens", "gross"} & set(words) or "of them" in " ".join(words):
        return True
    if _HANDED & set(words) and any(map(str.isdigit, words)) and not _MONEY_WORDS & set(words):
        return True
    return any(word.isdigit() and before in _OWN for before, word in pairwise(words))


_OWN = frozenset("his her my their".split())
_HANDED = frozenset("brought dropped handed delivered".split())
_MONEY_WORDS = frozenset("dollars dollar bucks quid cash money pounds euros note bill fiver tenner".split())


def _stands_beside(heard: Heard, start: int, words: frozenset[str]) -> bool:
    before = heard.marked.text_at(start - 1)
    names = named(heard.marked, heard.reach, NameSort.MEMBER)
    return not words or before in words or any(span.end == start for span in names)


def of_other_things(heard: Heard, end: int) -> bool:
    """True where a number that ends there counts what is neither an item nor money: "four teas"."""
    end = _past_small_words(heard, end)
    return end in strange_words(heard.marked, heard.reach) and heard.marked.text_at(end) not in _UNITS


def of_items(heard: Heard, end: int) -> bool:
    """True where a number that ends there counts an item of the group: "24 of the pens"."""
    end = _past_small_words(heard, end)
    return bool(named(heard.marked, (end, end + 2), NameSort.ITEM))


def _past_small_words(heard: Heard, end: int) -> int:
    while heard.marked.text_at(end) in _SMALL_WORDS | lexicon()["adjectives"]:
        end += 1
    return end


_SMALL_WORDS = frozenset("more extra of the those my his her their".split())
_NOTES = {"fiver": 5, "tenner": 10}


def _after_article(marked: Marked, index: int) -> int | None:
    """A note by its number or its name: "a ten", "a twenty", "a fiver"."""
    if marked.text_at(index) != "a":
        return None
    if note := _NOTES.get(marked.word(index + 1)):
        return note
    number = number_at(marked, index + 1)
    return number[0].whole if number and number[0].decimals is None and not number[0].collective else None
