"""The terms of an open case: the least that makes it worth buying, and when it closes."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time

from bot.reading.clock_times import clock_said
from bot.reading.cues import cue
from bot.reading.dates import Until, day_at
from bot.reading.form import Heard
from bot.reading.numbers import number_at
from bot.reading.spans import Marked
from bot.reading.words import Sort
from bot.skills.shares.cases import is_box
from core.counts import Quantity

_LEAST = (
    "only|just if|when",
    "only|not worth|worthwhile",
    "minimum|min|least|under|below",
    "at least",
    "unless",
    "provided",
    "bother under|below|for",
)
_PERHAPS = ("if|once we|you|i get|reach|sell|have|hit|make", "need|needs|want", "if")
"""Openings that need a word of _TAKEN behind the number."""
_TAKEN = frozenset(
    "taken wanted go sold spoken asked taker takers claimed minimum min gone accounted subscribed".split()
)
_ALL = ("if all are", "if all is", "if all of", "if everything", "if it all", "if they all", "unless all")
_WITHIN = 7
_CLOSING = frozenset("by before until till til closing closes close ends lmk thru through".split())
_EVENING = 20
_NIGHTS = frozenset(("tonight", "night", "evening"))


@dataclass(frozen=True, slots=True)
class Terms:
    """The terms, and the tokens that say them."""

    least: int | None = None
    closes_at: datetime | None = None
    all_of_it: bool = False
    tokens: frozenset[int] = frozenset()


def terms_in(heard: Heard) -> Terms:
    """The terms named in a stretch; closing times are in the group's time zone."""
    words = " ".join(heard.said)
    all_of_it = any(phrase in words for phrase in _ALL)
    least = _least(heard)
    closing = _closing(heard)
    tokens = frozenset(range(*least[1])) if least else frozenset()
    tokens |= frozenset(range(*closing[1])) if closing else frozenset()
    return Terms(least[0] if least else None, closing[0] if closing else None, all_of_it, tokens)


def _least(heard: Heard) -> tuple[int, tuple[int, int]] | None:
    for index in range(*heard.reach):
        for surely, words in [(True, words) for words in _LEAST] + [(False, words) for words in _PERHAPS]:
            found = _least_behind(heard, index, words)
            if found and (surely or _says_taken(heard.marked, found[1])):
                return found[0] * _box_size(heard, found[1]), (index, found[1])
    return None


def _least_behind(heard: Heard, index: int, words: str) -> tuple[int, int] | None:
    """The number behind a phrase that opens at a token, in the same sentence, and where it ends."""
    marked, phrase = heard.marked, cue(words)
    end = phrase.end_in(marked, index) if marked.text_at(index) in (phrase.parts[0] or ()) else None
    for at in range(end or 0, min((end or 0) + _WITHIN, heard.reach[1]) if end else 0):
        if marked.tokens[at].sort is Sort.STOP:
            break
        if found := _number(marked, at):
            return found
    return None


def _box_size(heard: Heard, end: int) -> int:
    """The units that a number ending there counts by: those of a box, where it counts boxes of the case."""
    if not is_box(heard.marked.text_at(end)):
        return 1
    return next((span.value.pack_size for span in heard.marked.each(Quantity, *heard.reach) if span.value.pack_size), 1)


def _says_taken(marked: Marked, end: int) -> bool:
    return any(marked.text_at(at) in _TAKEN for at in range(end, end + 3))


def _number(marked: Marked, index: int) -> tuple[int, int] | None:
    """A count, whether or not a span has taken it already."""
    bare = marked.bare()
    found = number_at(bare, index)
    if found is None or found[0].whole is None or found[0].decimals or not found[0].whole > 1:
        return None
    return found[0].whole, found[1]


def _closing(heard: Heard) -> tuple[datetime, tuple[int, int]] | None:
    marked = heard.marked
    bare = marked.bare()
    for index in range(*heard.reach):
        if bare.text_at(index) not in _CLOSING:
            continue
        at = index + 1
        while bare.text_at(at) in ("on", "at", "the", "by", "this"):
            at += 1
        clock = clock_said(bare, at)
        day_from = clock.end if clock else at
        while clock and bare.text_at(day_from) in ("on", "the", ","):
            day_from += 1
        day = day_at(bare, day_from, ahead=True)
        if day and not clock:
            start = day[1] + (bare.text_at(day[1]) in ("at", ",", "by"))
            clock = clock_said(bare, start)
        if not (clock or day):
            continue
        end = max(day[1] if day else 0, clock.end if clock else 0)
        said = day[0] if day else _today(marked)
        night = any(bare.text_at(one) in _NIGHTS for one in range(index, end + 1))
        hour = clock.at if clock else time(_EVENING) if night else time(23, 59)
        return datetime.combine(said, hour, heard.marked.settings.zone), (index, end)
    until = marked.each(Until, *heard.reach)
    if until:
        moment = datetime.combine(until[0].value.day, time(23, 59), marked.settings.zone)
        return moment, (until[0].start, until[0].end)
    return None


def _today(marked: Marked) -> date:
    return marked.today
