"""The slots of a kind that has none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Heard
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Bare:
    """No slots: the kind alone says it all."""

    def as_json(self, currency: Currency) -> dict[str, object]:
        """Nothing to show."""
        del currency
        return {}


def bare(heard: Heard) -> Sequence[Bare]:
    """One reading without slots."""
    del heard
    return [Bare()]
