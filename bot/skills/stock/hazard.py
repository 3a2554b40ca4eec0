"""``hazard``: an item is flagged for something to look at: small parts, cords, magnets and the like."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.offers import Choice, Unclear
from bot.reading.strangers import named_as
from bot.reading.words import singular
from bot.skills.answering import Answer, Desk, NewFlag
from bot.skills.stock import kit_wording
from bot.skills.stock.cautioning import cautions_of, hazards_of
from bot.wording.things import plural
from core.cautions import Hazard
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Flagged:
    """An item and what it is flagged for."""

    item: str
    hazard: Hazard

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots: which item, what for."""
        del currency
        return {"item": self.item, "hazard": self.hazard.value}


def _flagged(heard: Heard) -> Sequence[Flagged | Unclear]:
    if heard.asked:
        return []
    words = [singular(word) for word in heard.said]
    hazards = [hazard for hazard in Hazard if _said(words, [singular(word) for word in hazard.value.split()])]
    items = [named_as(heard.marked, span) for span in named(heard.marked, heard.reach, NameSort.ITEM)]
    if items and not hazards and "flag" in heard.said:
        return [_what_for(items[0])]
    return [Flagged(item, hazard) for item in dict.fromkeys(items) for hazard in hazards]


def _what_for(item: str) -> Unclear:
    """The question what an item is to be flagged for."""
    things = plural(item)
    choices = tuple(Choice(hazard.value, f"flag {things} for {hazard.value}") for hazard in Hazard)
    return Unclear(kit_wording.flag_for_what(item), choices)


def _said(words: list[str], phrase: list[str]) -> bool:
    return any(words[at : at + len(phrase)] == phrase for at in range(len(words)))


_HAZARDS = "small|sharp|cord|cords|balloon|balloons|magnet|magnets|imitation|latex|liquid|liquids"

FORMS = (
    Form(
        "hazard",
        "flag it for something",
        _flagged,
        cues=(
            "flag|mark|caution|warning|careful * " + _HAZARDS,
            "has|have|contains|contain|with|are|is|count|counts * " + _HAZARDS,
            "has|have|contains|contain|with|are|is small|tiny|little " + _HAZARDS,
            "flag|mark",
            "small parts|part|balls|ball",
            "sharp points|point",
            "imitation food",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT, Need.COUNT)),
        never=(
            "who|whos|what|how|why|when|where|did|does|do",
            "fridge magnets|magnet",
            "kids|kid|i|we|he|she|they|you|children have|has|had",
            "my|your|his|her",
            "are|is * ok|okay|allowed|safe",
        ),
        strange=1,
    ),
)
TEACH = (("flag sharpeners for sharp points", "told as a caution with the kits they go in"),)


def answer(slots: Flagged, desk: Desk) -> Answer:
    """Flag the item, and tell the caution."""
    line = kit_wording.flag_line(slots.item, slots.hazard)
    if slots.hazard in hazards_of(slots.item, desk.group):
        return Answer(kit_wording.flagged_before(line))
    kits = [kit for kit in desk.group.kits if slots.item in kit.contents]
    ages = kits[0].ages if len(kits) == 1 else None
    flagged = kit_wording.flag_answer(line, [kit.name for kit in kits])
    cautions = cautions_of([slots.item], ages, desk.group, also=frozenset((slots.hazard,)))
    return Answer("\n".join([flagged, *cautions]), (NewFlag(slots.item, slots.hazard),), line)


KIND = Kind("hazard", FORMS, answer, TEACH)
