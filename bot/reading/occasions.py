"""Feasts and yearly sales by the words people have for them: "easter", "the halloween markdowns", "back to school"."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from bot.reading.spans import Marked
from bot.reading.words import clean, tokens_of
from core.day_rules import PHRASES, DayRule, Feast, next_on
from core.windows import WindowRule, next_window

SALES = "clearance|clearances|clearence|markdown|markdowns|sale|sales|window|windows"
"""The words for a sale, as cues write them."""
_SALE_WORDS = frozenset((*SALES.split("|"), "stuff", "bits", "leftovers"))
Phrase = tuple[str, ...]
Sales = Mapping[Phrase, Sequence[WindowRule]]
_MOST_WORDS = 8
_FOR_SCHOOL = {"bck": "back", "bak": "back", "b2s": "back"}


@dataclass(frozen=True, slots=True)
class Occasion:
    """A feast, the yearly sales that are called by these words, or both; ``sale`` where a sale was named."""

    words: str
    feast: Feast | None
    rules: tuple[WindowRule, ...]
    sale: bool

    def next_day(self, today: date, country: str) -> date | None:
        """The day itself or, where a sale was named or it is no feast, the first day of the next sale to start."""
        if self.feast is not None and not (self.sale and self.rules):
            rule = DayRule(self.feast, 1 if self.sale else 0)
            return next_on(rule, country, today)
        starts = [start for rule in self.rules if (start := _next_start(rule, country, today))]
        return min(starts, default=None)

    def last_day(self, today: date, country: str) -> date | None:
        """The last day of the sale that is on or comes next; of a feast the day itself."""
        coming = (next_window(rule, country, today) for rule in self.rules)
        ends = [window.ends for window in coming if window]
        return min(ends, default=None) if ends and (self.sale or not self.feast) else self.next_day(today, country)


def _next_start(rule: WindowRule, country: str, today: date) -> date | None:
    found = next_window(rule, country, today)
    if found is not None and found.starts < today:
        found = found.earlier(-1, country)
    return found.starts if found else None


def sales_by_words(rules: Iterable[WindowRule]) -> dict[Phrase, list[WindowRule]]:
    """The yearly sales by the words people have for them, their names among them."""
    found: dict[Phrase, list[WindowRule]] = {}
    for rule in rules:
        for words in (rule.name, *rule.called):
            found.setdefault(tuple(token.text for token in tokens_of(clean(words))), []).append(rule)
    return found


def occasion_at(marked: Marked, index: int, sales: Sales) -> tuple[Occasion, int] | None:
    """The feast or sale named at a token, with the word for a sale behind it, and the index after both."""
    named = _longest(marked, index, sales)
    if named is None:
        return None
    words, end, feast, called = named
    sale, after = _sale_behind(marked, end)
    if sale:
        of_sort = tuple(rule for rule in called if sale[:4] in rule.name)
        return Occasion(words, feast, of_sort or called, True), after
    return Occasion(words, feast, called, feast is None), end


def _longest(marked: Marked, index: int, sales: Sales) -> tuple[str, int, Feast | None, tuple[WindowRule, ...]] | None:
    here = tuple(_FOR_SCHOOL.get(marked.text_at(at), marked.text_at(at)) for at in range(index, index + _MOST_WORDS))
    runs = (here[:length] for length in range(_MOST_WORDS, 0, -1))
    phrase = next((run for run in runs if run in sales or run in PHRASES), None)
    if phrase is None:
        return None
    end = index + len(phrase)
    last = end
    while last - 1 > index and marked.text_at(last - 1) in _SALE_WORDS:
        last -= 1
    written = all(marked.text_at(at) == word for at, word in enumerate(phrase, index))
    words = " ".join(phrase[: last - index])
    if written:
        words = marked.said(index, last).lower().replace("'", "").replace("’", "")
    return words, end, PHRASES.get(phrase), tuple(sales.get(phrase, ()))


def _sale_behind(marked: Marked, index: int) -> tuple[str, int]:
    """The word for a sale right behind a name, and where it ends; empty where there is none."""
    at = index + (marked.text_at(index) == "day")
    return (marked.text_at(at), at + 1) if marked.text_at(at) in _SALE_WORDS else ("", index)
