"""``ask_kit``: someone asks what a kit holds, or what one costs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.offers import Unclear
from bot.reading.spans import Marked
from bot.reading.strangers import strange_words
from bot.skills.answering import Answer, Desk
from bot.skills.costing import priced
from bot.skills.stock import kit_wording
from bot.skills.stock.cautioning import cautions_of
from bot.skills.stock.said import KitSaid, kits_in, which_kit
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
    if not kits or _is_another(heard.marked, kits[0]):
        return []
    if kits[0].rivals:
        return [which_kit(kits[0].rivals, lambda kit: f"what does one {kit} hold?")]
    return [AskKit(kit.name) for kit in kits]


def _is_another(marked: Marked, kit: KitSaid) -> bool:
    """Whether the word before the last word of a kit's name makes it another thing: "the recycling bag"."""
    before = (max(0, kit.start - 1), kit.start)
    short = kit.end - kit.start == 1 and " " in kit.name
    return short and bool(strange_words(marked, before)) and marked.text_at(before[0]) not in _OF_KITS


_OF_KITS = frozenset("finished single whole made goes in inside of per each contents what whats".split())


_NEVER = (
    "spent|spend|spending|budget|used",
    "many",
    "need|needs|short|missing|lack|lacks|lacking|left|buy",
    "who|whos|when|where|why",
    "allowed|ok|okay|safe",
    "your|his|her|their|my bag|bags|box|boxes|pouch|pouches|kit|sock|socks",
    "did you|u|he|she|they",
    "cost more|less|too|him|her|me",
    "bag|bags|box|boxes|pouch|sock you|u|he|she|they|i|in",
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
            "contents|recipe|ingredients",
            "breakdown of|for",
            "how much|does * cost|costs|is|are|come|set|run|pay",
            "how much * one|a|each|per|single",
            "cost|price|total of|for|per|each|?",
            "would|will one|a|each|the|our * cost",
            "supposed|meant|got|need to have|hold|contain * in",
            "made|makes|make up of|a|one|each|the",
            "what exactly|all is|goes|are",
            "what * cost|costs|costing|pay|paying|per",
            "paying per|for|each",
            "running us|each",
            "outlay|expense|expenditure for|on|per",
            "what * goes|go|went|gone into|in",
            "how much * makes|make|made|full",
            "how much * pay|paid|cost * for one|a|each|per",
            "show|tell|list|describe|remind * kit|contents|pouch|bag|box|sock|what",
            "what|how * make up|together",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=_NEVER,
        strange=2,
    ),
    Form(
        "ask_kit",
        "how many of an item go in",
        _kit,
        cues=(
            "how many|much * go|goes|belong|belongs|in|per|inside|each",
            "how many|much * does|do|should a|one|each|the|every|our",
            "is|are there * in|inside",
            "does|do * have|hold|contain|include|get",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(*_NEVER[2:], "need|needs|short|missing|left|buy|packed|stock|spent|spend", "we|i|you have|got|hold"),
        strange=0,
    ),
)
TEACH = (("what does one school pouch cost?", "its contents, with the price of each line"),)


def answer(slots: AskKit, desk: Desk) -> Answer:
    """Tell what a kit holds, what one costs by three sorts of price, and its cautions."""
    supply = Supply(desk)
    kit = supply.kit(slots.kit)
    if kit is None:
        return Answer(kit_wording.no_such_kit(slots.kit, desk.group.kits))
    if not kit.contents:
        return Answer(kit_wording.nothing_in(kit.name))
    text = kit_wording.kit_answer(priced(kit, supply), desk.settings, desk.today)
    return Answer("\n".join([text, *cautions_of(kit.contents, kit.ages, desk.group)]))


KIND = Kind("ask_kit", FORMS, answer, TEACH)
