"""Cautions in a line each: what to look at, what is published, what that leaves open; never a ruling."""

from __future__ import annotations

from collections.abc import Sequence

from bot.wording.things import capital, listed
from core.cautions import Hazard, Rule, Sure

DEFER = "The collecting charity's own list and your local rules decide."
_ORDER = list(Hazard)


def caution_lines(found: Sequence[tuple[str, Rule]]) -> list[str]:
    """A line for each hazard with all its items, from the items' names and the rule that matters for each."""
    items: dict[Rule, list[str]] = {}
    for name, rule in found:
        named = items.setdefault(rule, [])
        if name not in named:
            named.append(name)
    return [_line(rule, items[rule]) for rule in sorted(items, key=lambda rule: _ORDER.index(rule.hazard))]


def _line(rule: Rule, names: Sequence[str]) -> str:
    look = f"{capital(rule.hazard)}: look at the {listed(names)}."
    return f"{look} {capital(rule.says)} ({_cited(rule)}). Not covered: {rule.beyond}."


def _cited(rule: Rule) -> str:
    """The citation; where the source itself was not read, it says so."""
    return f"{rule.cite}; {rule.sure}" if rule.sure in (Sure.SECOND_HAND, Sure.MEMORY) else rule.cite
