"""Feasts and yearly sales by the words people have for them: "easter", "the halloween markdowns", "back to school"."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from bot.reading.numbers import number_at
from bot.reading.spans import Marked, Reach
from bot.reading.words import clean, lexicon, tokens_of
from core.day_rules import PHRASES, DayRule, Feast, next_on
from core.windows import WindowRule, next_window

SALES = "clearance|clearances|clearence|markdown|markdowns|sale|sales|window|windows"
"""The words for a sale, as cues write them."""
SALE_NOUNS = frozenset(SALES.split("|"))
_SALE_WORDS = SALE_NOUNS | {"stuff", "bits", "leftovers"}
_SALE = "sale"
"""Stands for any word for a sale behind a part of a sale's name."""
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


def next_sale(sales: Sales, today: date, country: str) -> date | None:
    """The first day of the next of all sales to start, of those that the group cares for."""
    rules = {rule.name: rule for called in sales.values() for rule in called if rule.on}
    return min((start for rule in rules.values() if (start := _next_start(rule, country, today))), default=None)


def sales_by_words(rules: Iterable[WindowRule]) -> dict[Phrase, list[WindowRule]]:
    """The yearly sales by the words people have for them, their names among them.

    A sale that no such words are known for is also called by any part of its name that no other shares: "fire hall
    sale" for the fire hall rummage sale, "spring fair" for the parish spring fair.
    """
    found: dict[Phrase, list[WindowRule]] = {}
    parts: dict[Phrase, list[WindowRule]] = {}
    for rule in rules:
        for words in (rule.name, *rule.called):
            found.setdefault(_phrase(words), []).append(rule)
        for part in () if rule.called else _parts(_phrase(rule.name)):
            parts.setdefault(part, []).append(rule)
    return {part: called for part, called in parts.items() if len(called) == 1} | found


def _phrase(words: str) -> Phrase:
    return tuple(token.text for token in tokens_of(clean(words)))


def _parts(name: Phrase) -> set[Phrase]:
    """Every run of a name's words with a word for a sale behind it, and its last words, where they say two or more."""
    core = name
    while core and core[-1] in SALE_NOUNS:
        core = core[:-1]
    size = len(core)
    runs = {core[start:end] for start in range(size) for end in range(start + 1, size + 1)}
    called = {(*run, _SALE) for run in runs if not all(word in lexicon()["filler"] for word in run)}
    ends = {name[start:] for start in range(1, len(name) - 1)} if core == name else set()
    return {part for part in called | ends if part[:-1] not in PHRASES and part not in PHRASES}


def occasion_at(marked: Marked, index: int, sales: Sales, *, in_part: bool = False) -> tuple[Occasion, int] | None:
    """The feast or sale named at a token, with the word for a sale behind it, and the index after both.

    ``in_part``: a part of a sale's name is enough, without a word for a sale behind it.
    """
    named = _longest(marked, index, sales, in_part)
    if named is None:
        return None
    words, end, feast, called = named
    sale, after = _sale_behind(marked, end)
    if sale:
        of_sort = tuple(rule for rule in called if sale[:4] in rule.name)
        return Occasion(words, feast, of_sort or called, True), after
    return Occasion(words, feast, called, feast is None), end


def _longest(
    marked: Marked, index: int, sales: Sales, in_part: bool
) -> tuple[str, int, Feast | None, tuple[WindowRule, ...]] | None:
    here = tuple(_FOR_SCHOOL.get(marked.text_at(at), marked.text_at(at)) for at in range(index, index + _MOST_WORDS))
    runs = (here[:length] for length in range(_MOST_WORDS, 0, -1))
    found = next(((run, key) for run in runs if (key := _key(run, sales, in_part)) is not None), None)
    if found is None:
        return None
    phrase, key = found
    end = index + len(phrase)
    last = end
    while last - 1 > index and marked.text_at(last - 1) in _SALE_WORDS:
        last -= 1
    written = all(marked.text_at(at) == word for at, word in enumerate(phrase, index))
    words = " ".join(phrase[: last - index])
    if written:
        words = marked.said(index, last).lower().replace("'", "").replace("’", "")
    return words, end, PHRASES.get(key), tuple(sales.get(key, ()))


def _key(run: Phrase, sales: Sales, in_part: bool) -> Phrase | None:
    """What a run of words stands under as the name of a feast or sale, or as a part of one."""
    if run in sales or run in PHRASES:
        return run
    part = (*run[:-1], _SALE) if run[-1] in _SALE_WORDS else (*run, _SALE) if in_part else run
    return part if part in sales else None


def _sale_behind(marked: Marked, index: int) -> tuple[str, int]:
    """The word for a sale right behind a name, and where it ends; empty where there is none."""
    at = index + (marked.text_at(index) == "day")
    return (marked.text_at(at), at + 1) if marked.text_at(at) in _SALE_WORDS else ("", index)


def sales_in_general(marked: Marked, reach: Reach) -> bool:
    """Whether a stretch speaks of sales in general: "before each sale", "ahead of sales", and no "the jumble sale"."""
    index = reach[0]
    while index < reach[1]:
        end = index
        while end < reach[1] and marked.text_at(end) in SALE_NOUNS:
            end += 1
        if end > index and _is_general(marked, index, end):
            return True
        index = max(end, index + 1)
    return False


def _is_general(marked: Marked, start: int, end: int) -> bool:
    before, behind = marked.text_at(start - 1), marked.text_at(end)
    before = "b4" if before == "4" and marked.text_at(start - 2) == "b" else before
    to_do = behind == "to" and number_at(marked, end + 1) is None
    named = before in _NAMING and not marked.text_at(end - 1).endswith("s")
    return not named and not to_do and behind != "at" and before in _GENERAL


_NAMING = frozenset(("the", "our"))
_GENERAL = _NAMING | frozenset(
    ["", *"each every any all a an of before b4 befor bfore ahead yearly for about from to in and with : ,".split()]
)
