"""Rules of sale windows as rows, and back."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from sqlalchemy import Row

from core.day_rules import DayRule, rule_of, written
from core.windows import Markdown, WindowRule


def window_row(rule: WindowRule) -> dict[str, object]:
    """The columns of a rule."""
    return {
        "name": rule.name,
        "starts": written(rule.starts),
        "days": rule.days,
        "ends": written(rule.ends) if rule.ends else None,
        "markdowns": " ".join(f"{one.after}:{one.off}" for one in rule.markdowns),
        "look_for": "\n".join(rule.look_for),
        "called": "\n".join(rule.called),
        "switched_on": rule.on,
    }


def window_of(row: Row[*tuple[Any, ...]]) -> WindowRule:
    """The rule of a row."""
    steps = (step.split(":") for step in row.markdowns.split())
    return WindowRule(
        row.name,
        _rule(row.starts),
        row.days,
        _rule(row.ends) if row.ends else None,
        tuple(Markdown(int(after), Fraction(off)) for after, off in steps),
        tuple(row.look_for.splitlines()),
        tuple(row.called.splitlines()),
        row.switched_on,
    )


def _rule(words: str) -> DayRule:
    found = rule_of(words)
    if found is None:
        raise ValueError(f"no rule of a day: {words!r}")
    return found
