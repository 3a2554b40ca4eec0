"""The cautions that matter for things in a kit: their hazards, by name or as flagged, against its ages."""

from __future__ import annotations

from collections.abc import Iterable

from bot.wording.cautions import DEFER, caution_lines
from core.cautions import Ages, Hazard, hazards_of_name, met
from core.group import Group


def hazards_of(item: str, group: Group) -> frozenset[Hazard]:
    """What an item is flagged for, and what its name says by itself."""
    known = group.item(item)
    return hazards_of_name(item) | (known.hazards if known else frozenset())


def cautions_of(
    items: Iterable[str], ages: Ages | None, group: Group, also: frozenset[Hazard] = frozenset()
) -> list[str]:
    """The cautions of some items in a kit for these ages, with the sentence that defers; none where none matters.

    ``also`` are hazards that the group does not know of yet.
    """
    found = [(item, rule) for item in items for rule in met(hazards_of(item, group) | also, ages)]
    lines = caution_lines(found)
    return [*lines, DEFER] if lines else []
