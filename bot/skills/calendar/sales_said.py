"""The yearly sales that a message speaks of, and which of the group's rules are meant by their words."""

from __future__ import annotations

from collections.abc import Iterable

from bot.reading.form import Heard
from bot.reading.occasions import SALE_NOUNS, Occasion, occasion_at
from bot.reading.spans import Marked
from bot.reading.words import Sort, is_english, lexicon
from core.day_rules import feast_called
from core.windows import WindowRule


def occasions_in(heard: Heard) -> list[tuple[int, int, Occasion]]:
    """Every feast or sale named in a stretch: where it begins and ends, and what it is."""
    bare = heard.marked.bare()
    found = []
    index = heard.reach[0]
    while index < heard.reach[1]:
        here = occasion_at(bare, index, heard.sales)
        if here and here[1] <= heard.reach[1]:
            found.append((index, here[1], here[0]))
            index = here[1]
        else:
            index += 1
    return found


def stranger_in(heard: Heard) -> tuple[int, int, Occasion] | None:
    """A sale that the group does not know, by the words right before a word for a sale: "the jumble sale"."""
    bare = heard.marked.bare()
    for end in range(*heard.reach):
        if bare.text_at(end) not in SALE_NOUNS:
            continue
        start = end
        while start > heard.reach[0] and _is_of_a_name(bare, start - 1):
            start -= 1
        opens = start == heard.reach[0] and is_english(bare.text_at(start))
        if start < end and (opens or bare.text_at(start - 1) in _BEFORE_A_NAME):
            return start, end + 1, Occasion(bare.said(start, end).lower(), None, (), sale=True)
    return None


def _is_of_a_name(bare: Marked, index: int) -> bool:
    word = bare.text_at(index)
    plain = word in _NO_NAME or (word in lexicon()["filler"] and word not in _SEASONS)
    return bare.tokens[index].sort is Sort.WORD and not plain


_BEFORE_A_NAME = frozenset("the our this that a whens when's when whn is does do are on off back of".split())
_SEASONS = frozenset("spring summer autumn fall winter".split())
_NO_NAME = SALE_NOUNS | frozenset(
    "upcoming soonest nearest biggest yearly annual seasonal usual following list show starting running".split()
)


def rules_called(event: str, rules: Iterable[WindowRule]) -> list[WindowRule]:
    """The rules that are called so, by their name, by the words people have for them, or by their feast."""
    plain = _plain(event)
    feast = feast_called(event)
    found = []
    for rule in rules:
        names = {_plain(rule.name), *map(_plain, rule.called)}
        of_feast = feast is not None and (
            rule.starts.base == feast or any(feast_called(one) == feast for one in rule.called)
        )
        if plain in names or of_feast or f" {plain} " in f" {_plain(rule.name)} ":
            found.append(rule)
    return found


def _plain(words: str) -> str:
    return "".join(
        letter if letter.isalnum() else " " for letter in words.casefold().replace("'", "").replace("’", "")
    ).strip()
