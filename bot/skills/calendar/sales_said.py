"""The yearly sales that a message speaks of, and which of the group's rules are meant by their words."""

from __future__ import annotations

from collections.abc import Iterable

from bot.reading.form import Heard
from bot.reading.occasions import Occasion, occasion_at
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
