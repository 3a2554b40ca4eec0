"""``ask_kit``: someone asks what a kit holds, or what one costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.offers import Unclear
from bot.skills.answering import Answer, Desk
from bot.skills.stock import kit_wording
from bot.skills.stock.cautioning import cautions_of
from bot.skills.stock.costing import priced
from bot.skills.stock.said import kits_in, which_kit
from bot.skills.supply import Supply
from core.money import Currency


@dataclass(frozen=True, slots=True)
class AskKit:
    """The kit asked about."""

    kit: str

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slot of ``ask_kit``."""
        del currency
        return {"kit": self.kit}


def _kit(heard: Heard) -> Sequence[AskKit | Unclear]:
    kits = kits_in(heard)
    if not kits:
        return []
    if kits[0].rivals:
        return [which_kit(kits[0].rivals, lambda kit: f"what does one {kit} hold?")]
    return [AskKit(kit.name) for kit in kits]


_NEVER = (
    "spent|spend|spending|budget|used",
    "many",
    "need|needs|short|missing|lack|lacks|lacking|left|buy",
    "who|whos|when|where|why",
    "allowed|ok|okay|safe",
)

FORMS = (
    Form(
        "ask_kit",
        "what is in it, what does it cost",
        _kit,
        cues=(
            "what|whats|wat in|inside|goes|go|does|do|is|are|all|belongs|should",
            "what|whats * in|inside|into|hold|holds|contain|contains|get|gets|cost|come|make",
            "contents|list|recipe of|for|pls|please|?",
            "contents",
            "how much|does * cost|costs|is|are|come|set|run|pay",
            "how much * one|a|each|per|single",
            "cost|price|total of|for|per|each",
            "what * cost|costs|pay|paying|per",
            "paying per|for|each",
            "how much * pay|paid|cost * for one|a|each|per",
            "show|tell|list|describe|remind * kit|contents|pouch|bag|box|sock|what",
            "what|how * make up|together",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=_NEVER,
        strange=2,
    ),
)
TEACH = (("what does one school pouch cost?", "its contents, with the price of each line"),)


def answer(slots: AskKit, desk: Desk) -> Answer:
    """Tell what a kit holds, what one costs by three sorts of price, and its cautions."""
    supply = Supply(desk)
    kit = next((one for one in supply.kits if one.name == slots.kit), None)
    if kit is None:
        return Answer(kit_wording.no_such_kit(slots.kit, desk.group.kits))
    if not kit.contents:
        return Answer(kit_wording.nothing_in(kit.name))
    told = kit_wording.PricedKit(kit, priced(kit, supply), supply.packed.get(kit.name, 0))
    text = kit_wording.kit_answer(told, desk.settings, desk.today)
    return Answer("\n".join([text, *cautions_of(kit.contents, kit.ages, desk.group)]))


KIND = Kind("ask_kit", FORMS, answer, TEACH)
