"""Words that the group has no name for: unknown items and shops, and what nothing explains."""

from __future__ import annotations

from collections.abc import Iterable

from bot.reading.each import Each
from bot.reading.names import Named
from bot.reading.packs import Loose, Multi
from bot.reading.spans import Found, Marked, Reach
from bot.reading.words import Sort, lexicon, singular
from core.counts import Quantity

_STORE_LEADS = frozenset("at @ in from over".split())
_MOST_NAME_WORDS = 3
_TOYS = frozenset("toy toys model doll dolls mini".split())
_JOINING = frozenset(("&", "and"))
_HOUSE = frozenset("sons daughters brothers bros sisters co company partners family".split())
"""What stands behind the "and" of a shop's name and is nothing one buys."""


def strange_words(marked: Marked, reach: Reach) -> list[int]:
    """The free words of a range that neither a span nor the small words of speech explain."""
    known = lexicon()["filler"] | lexicon()["adjectives"]
    return [index for index in range(*reach) if marked.is_sort(index, Sort.WORD) and marked.word(index) not in known]


def unknown_item(marked: Marked, reach: Reach) -> Reach | None:
    """The run of words that must be the item where the group has no name for it: the one beside the count."""
    runs = _runs(marked, reach)
    if len(runs) > 1:
        first, last = unknown_store(marked, reach) or (0, 0)
        runs = [run for run in runs if not (first <= run[0] < last or _follows_store_lead(marked, run))]
    elif runs and _follows_store_lead(marked, runs[0]):
        return None
    if not runs:
        return None
    counts = [(span.start, span.end) for sort in (Quantity, Multi, Loose, Each) for span in marked.each(sort, *reach)]
    return min(runs, key=lambda run: min((_distance(run, count) for count in counts), default=0))


def _distance(run: Reach, count: Reach) -> tuple[int, int]:
    return (run[0] - count[1], 0) if run[0] >= count[1] else (count[0] - run[1], 1)


def _runs(marked: Marked, reach: Reach) -> list[Reach]:
    """Unbroken runs of strange words, adjectives before them left out."""
    strange = set(strange_words(marked, reach))
    runs: list[Reach] = []
    for index in sorted(strange):
        if runs and runs[-1][1] == index and index - runs[-1][0] < _MOST_NAME_WORDS:
            runs[-1] = (runs[-1][0], index + 1)
        else:
            runs.append((index, index + 1))
    return runs


def _follows_store_lead(marked: Marked, run: Reach) -> bool:
    before = marked.word(run[0] - 1)
    return before in _STORE_LEADS or (before in ("the", "a") and marked.word(run[0] - 2) in _STORE_LEADS)


def counted_strangers(marked: Marked, reach: Reach, counts: Iterable[Reach]) -> list[Reach]:
    """The unknown things right behind counts."""
    found = []
    for start, end in counts:
        run = unknown_item(marked, (start, reach[1]))
        if run and 0 <= run[0] - end <= 1 and not is_talk(marked, run):
            found.append(run)
    return found


def is_talk(marked: Marked, item: Reach | None) -> bool:
    """True where an unknown item is a thing that people talk about and nobody packs."""
    return item is not None and any(is_talk_at(marked, index) for index in range(*item))


def is_talk_at(marked: Marked, index: int) -> bool:
    """Whether a word belongs to talk between people; a toy car does not."""
    return marked.text_at(index) in lexicon()["talk"] and marked.text_at(index - 1) not in _TOYS


def unknown_store(marked: Marked, reach: Reach) -> Reach | None:
    """The words after "at", where they are no shop of the group."""
    runs = _runs(marked, reach)
    heading = _heading(marked, runs[0], reach) if len(runs) > 1 else None
    if heading:
        return heading
    named = (run for run in runs if _follows_store_lead(marked, run) and not is_talk(marked, run))
    return next((_whole_name(marked, run, reach) for run in named), None)


def _heading(marked: Marked, run: Reach, reach: Reach) -> Reach | None:
    """The words before a colon, in front of all else."""
    end = run[1]
    if marked.word(end) in _JOINING:
        end = _joined_to(marked, end + 1, reach) or end
    return (run[0], end) if run[0] == reach[0] and marked.word(end) == ":" else None


def _whole_name(marked: Marked, run: Reach, reach: Reach) -> Reach:
    """The run with the small words inside a name, and what "and" joins to it: "mercado da rosa", "tom & sons"."""
    end = run[1]
    while end < reach[1]:
        if marked.word(end) in _JOINING and (joined := _joined_to(marked, end + 1, reach)):
            end = joined
        elif marked.is_sort(end, Sort.WORD) and marked.word(end) not in lexicon()["after_name"]:
            end += 1
        else:
            break
    return run[0], end


def _joined_to(marked: Marked, start: int, reach: Reach) -> int | None:
    """Where the rest of a shop's name behind "and" ends; None where a list may go on with another thing instead."""
    if marked.word(start) in _HOUSE:
        return start + 1
    run = next((run for run in _runs(marked, (start, reach[1])) if run[0] == start), None)
    ends = run is not None and (run[1] == reach[1] or marked.text_at(run[1]) in (",", ":"))
    return run[1] if run and ends and not is_talk(marked, run) else None


def item_words(marked: Marked, reach: Reach) -> str:
    """An unknown item as written, in lower case and in the singular."""
    words = marked.said(*reach).lower().split()
    return " ".join([*words[:-1], singular(words[-1])])


def named_as(marked: Marked, span: Found[Named]) -> str:
    """The item's name; with certain nouns behind its singular it is another thing: a pencil case."""
    last = marked.text_at(span.end - 1)
    if last == singular(last) and marked.word(span.end) in lexicon()["compounds"]:
        return item_words(marked, (span.start, span.end + 1))
    return span.value.name
