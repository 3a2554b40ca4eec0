"""A correction: the few words that change one thing of what was said before, "make it 24", "0.57 not 0.47"."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from datetime import datetime
from fractions import Fraction
from typing import Any

from bot.reading.amounts import Amount, Role
from bot.reading.clock_times import clock_at, clock_beside
from bot.reading.dates import day_at
from bot.reading.marking import Listener, mark
from bot.reading.names import Named, NameSort, named
from bot.reading.packs import Loose, Multi
from bot.reading.spans import Found, Marked
from bot.reading.strangers import unknown_store
from bot.reading.words import Sort, clean
from core.counts import Quantity


@dataclass(frozen=True, slots=True)
class Told:
    """What an entry, or a correction of one, tells; the price is in major units."""

    item: str | None = None
    kit: str | None = None
    count: int | None = None
    price: Fraction | None = None
    store: str | None = None
    member: str | None = None

    def parts(self) -> dict[str, Any]:
        """What is told, by name."""
        told = {name: getattr(self, name) for name in self.__slots__}
        return {name: value for name, value in told.items() if value is not None}


@dataclass(frozen=True, slots=True)
class Correction:
    """What is wanted, and what it is not: "24 not 12"."""

    wanted: Told
    refused: Told = Told()
    is_plain: bool = False
    """Whether no other talk sounds like it: it says what was wrong, or "sorry" and "it was", or names the item."""


def sounds_corrected(text: str) -> bool:
    """Whether a text that replies to nothing can be a plain correction, by a quick look."""
    return _PLAINLY.search(unsighed(text)) is not None


def unsighed(text: str) -> str:
    """A text without the sighs before it: "ugh sorry, 0.57" and "oh it was 3"."""
    return _SIGHS.sub("", text, count=1)


def correction(text: str, at: datetime, listener: Listener) -> Correction | None:
    """The correction that a short text is; None for one that asks, or holds any word that no correction needs."""
    text = unsighed(text)
    opener = _OPENER.match(text)
    marked = mark(clean(text[opener.end() :] if opener else text), at, listener)
    if "?" in text or len(marked.tokens) > _MOST_TOKENS:
        return None
    told = _told(marked)
    if told is None or not _changes(marked, told, opened=opener is not None):
        return None
    wanted = told.wanted.parts().keys()
    said = {token.text for token in marked.tokens}
    was = bool(said & _WAS) and not said & _PEOPLE
    is_named = opener is not None and (was or wanted >= {"item", "price"})
    return replace(told, is_plain=bool(told.refused.parts()) or is_named)


def is_a_value(text: str, at: datetime, listener: Listener, *, with_members: bool) -> bool:
    """Whether a text is nothing but figures, names, days and times, members only where they are to count."""
    marked = mark(clean(text), at, listener)
    bare, ends = marked.bare(), {span.start: span.end for span in marked.spans}
    index, told = 0, False
    while index < len(marked.tokens):
        end = ends.get(index) or _moment_end(bare, index)
        if end is None and marked.text_at(index) not in _SMALL | _BOUNDS:
            return False
        told |= end is not None
        index = end or index + 1
    return told and (with_members or not named(marked, (0, len(marked.tokens)), NameSort.MEMBER))


def _moment_end(marked: Marked, index: int) -> int | None:
    """Where a time or a day ends that begins at a token."""
    clock, day = clock_beside(marked, index), day_at(marked, index, ahead=True)
    ends = [clock.end] if clock else []
    return max([*ends, day[1]] if day else ends, default=None)


def _changes(marked: Marked, told: Correction, *, opened: bool) -> bool:
    """Whether the words change what was said, and are no report of their own."""
    said = {token.text for token in marked.tokens}
    wanted, refuses = told.wanted.parts().keys(), bool(told.refused.parts())
    if "member" in wanted:  # "paid Ines" is a payment, "sorry Ines" is spoken to her
        done = any(marked.text_at(span.end) in _DOING for span in named(marked, (0, _MOST_TOKENS), NameSort.MEMBER))
        return len(wanted) == 1 and (done or (not said & _DOING and (refuses or bool(said & _WAS))))
    if wanted == {"store"} and "at" in said:
        return True
    if wanted == {"kit", "count"}:  # "make it 90 wash bags" is what is promised
        return refuses
    return bool(wanted) and (opened or refuses or bool(said & (_CHANGING | _WAS)))


_OPENER = re.compile(
    r"\s*(?:(?:no|nope)(?:\s*[,.!:;-]+\s*|\s+(?=[\d$.]|(?:it|its|it's|that|thats|that's|they)\b))"
    r"|(?:sorry|oops)(?:\s*[,.!:;-]+\s*|\s+))",
    re.IGNORECASE,
)
"""A "no" before a number is else part of it: "no 24"."""
_SIGHS = re.compile(r"^\W*(?:(?:ugh|oh|ah|argh|agh|hmm?|wait|damn|darn|gah|omg|eek)\b[\s,.!-]*)+", re.IGNORECASE)
_PLAINLY = re.compile(r"^\s*(?:no|nope|sorry|oops|actually)\b|\b(?:not|instead|rather)\b", re.IGNORECASE)
_PEOPLE = frozenset("i im we you u he she they".split())
""" "Sorry, I was at larkmoor" is where somebody was."""
_MOST_TOKENS = 12
_WAS = frozenset("was were its meant".split())
_CHANGING = frozenset(
    "make change should shouldve meant mean actually sorry oops whoops correct correction typo".split()
)
"""Words that change what was said."""
_DOING = frozenset("paid bought got packed has did".split())
"""What a member must be said to do."""
_SMALL = frozenset(
    "it its that thats this them they those the a an to of for at be been have i we u you please pls just only not but"
    " instead rather than total in all".split()
)
_BOUNDS = frozenset("most more least max limit by next , - . days day before".split())
_MARKS = frozenset(", . ! ; : - ..".split())


def _told(marked: Marked) -> Correction | None:
    """What a text tells, span by span; None where it holds anything else."""
    wanted: dict[str, Any] = {}
    refused: dict[str, Any] = {}
    spans = {span.start: span for span in marked.spans}
    index = 0
    new_store = unknown_store(marked, (0, len(marked.tokens)))
    if new_store is not None:
        if clock_at(marked.bare(), new_store[0]) is not None:
            return None
        wanted["store"] = " ".join(marked.text_at(at) for at in range(*new_store))
    while index < len(marked.tokens):
        if new_store is not None and index == new_store[0]:
            index = new_store[1]
            continue
        span = spans.get(index)
        if span is None and not _passes(marked, index):
            return None
        if span is not None:
            part = _part(marked, span)
            into = refused if _is_refused(marked, index) else wanted
            if part is None or part[0] in into:
                return None
            into[part[0]] = part[1]
        index = span.end if span else index + 1
    return Correction(Told(**wanted), Told(**refused))


def _passes(marked: Marked, index: int) -> bool:
    """Whether a word says nothing by itself."""
    word = marked.text_at(index)
    if marked.is_sort(index, Sort.WORD):
        return word in _SMALL | _CHANGING | _WAS | _DOING
    return word in _MARKS


def _is_refused(marked: Marked, index: int) -> bool:
    """Whether it is said that a value is not meant: "not at larkmoor", "instead of 12"."""
    while marked.text_at(index - 1) in ("at", "the", "a"):
        index -= 1
    before = (marked.text_at(index - 2), marked.text_at(index - 1))
    return before[1] == "not" or before in (("instead", "of"), ("rather", "than"))


def _part(marked: Marked, span: Found[object]) -> tuple[str, object] | None:
    """What one span tells, by name; None for one that is not sure or changes nothing."""
    match span.value:
        case Named(rivals=()) as named:
            return named.sort.value, named.name
        case Loose(other=None, firm=True, units=units) | Multi(packs=units) if units:
            return "count", units
        case Quantity(packs=packs, pack_size=int(size)):
            return "count", packs * size
        case Amount(foreign="", role=role, value=value):
            first = marked.text_at(span.start)
            plain = role is Role.PRICE or (role is Role.WAS and (first in _WAS or not first.isalpha()))
            return ("price", value) if plain else None
        case _:
            return None
