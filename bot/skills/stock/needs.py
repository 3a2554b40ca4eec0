"""``needs``: someone asks what is still to buy: for the kits, of an item, in a shop, or what to buy where."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.offers import Unclear
from bot.reading.spans import Marked, Reach
from bot.reading.strangers import named_as, strange_words, unknown_store
from bot.skills.answering import Answer, Desk
from bot.skills.stock import needs_wording, plan_wording
from bot.skills.stock.kit_wording import NO_KITS, no_such_kit
from bot.skills.stock.said import kits_in, which_kit
from bot.skills.stock.shopping import at_shop, of_item, short_items
from bot.skills.supply import Supply
from core.buying_plan import buying_plan
from core.money import Currency


class By(StrEnum):
    """How the needs are to be told, where not item by item."""

    KIT = "kit"
    SHOP = "shop"


@dataclass(frozen=True, slots=True)
class Needed:
    """What is asked about; nothing for all needs."""

    item: str | None = None
    kit: str | None = None
    store: str | None = None
    by: By | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``needs``."""
        del currency
        slots = {"item": self.item, "kit": self.kit, "store": self.store, "by": self.by}
        return {name: value for name, value in slots.items() if value is not None}


def _needed(heard: Heard) -> Sequence[Needed | Unclear]:
    marked = heard.marked
    items = list(dict.fromkeys(named_as(marked, span) for span in named(marked, heard.reach, NameSort.ITEM)))
    store = _store(heard)
    kits = kits_in(heard) or ([] if items or store else kits_in(_from_start(heard)))
    if kits and _each_kit(heard):
        return [Needed(by=By.KIT)]
    if kits and kits[0].rivals and not items:
        return [which_kit(kits[0].rivals, lambda kit: f"what do we still need for the {kit}?")]
    kit = kits[0].name if kits and not kits[0].rivals else None
    if not (items or kit or store) and _of_another_thing(marked, heard.reach):
        return []
    if not items:
        return [Needed(None, kit, store)]
    return [Needed(item, kit, store) for item in items]


def _of_another_thing(marked: Marked, reach: Reach) -> bool:
    """Whether something else is short: "we're short of time", "do we need chairs"."""
    strange = set(strange_words(marked, reach))
    behind = (index + 1 for index in range(*reach) if _lacks(marked, index))
    strange = {index for index in strange if marked.text_at(index) not in ("anything", "something")}
    return any(at in strange or (marked.text_at(at) in _SMALL and at + 1 in strange) for at in behind)


def _lacks(marked: Marked, index: int) -> bool:
    two = (marked.text_at(index - 1), marked.text_at(index))
    return two in _SHORT_OF or two[1] == "need"


_SHORT_OF = frozenset((("short", "of"), ("short", "on")))
_SMALL = frozenset("a an any more some the".split())


def _from_start(heard: Heard) -> Heard:
    """The message up to the end of the stretch."""
    return Heard(heard.marked, (0, heard.reach[1]), (), heard.speaker, heard.members, heard.kits)


def _of_shops(heard: Heard) -> Sequence[Needed]:
    return [] if named(heard.marked, heard.reach, NameSort.ITEM) else [Needed(by=By.SHOP)]


def _by_kit(heard: Heard) -> Sequence[Needed]:
    return [Needed(by=By.KIT)] if _each_kit(heard) else []


def _each_kit(heard: Heard) -> bool:
    words = " ".join(heard.said)
    return any(phrase in words for phrase in ("kit by kit", "each kit", "every kit", "per kit", "by kit", "all kits"))


def _of_finishing(heard: Heard) -> Sequence[Needed | Unclear]:
    """How many kits can be finished: needs a kit."""
    return _needed(heard) if kits_in(heard) else []


def _store(heard: Heard) -> str | None:
    """The shop named in the stretch, or in the sentence right before it: "I'm at Larkmoor. What do we need?"."""
    for start in (heard.reach[0], 0):
        stores = named(heard.marked, (start, heard.reach[1]), NameSort.STORE)
        if stores:
            return stores[-1].value.name
    unknown = unknown_store(heard.marked, heard.reach)
    if not unknown and "at" in [heard.marked.text_at(index) for index in range(_OPENING)]:
        unknown = unknown_store(heard.marked, (0, heard.reach[0]))
    return heard.marked.said(*unknown).lower() if unknown else None


_OPENING = 3
"""Words in which somebody says where they are: "I'm at Brightway, what do we need"."""

_NEVER = (
    "who|whos|when|why * need|needs|want",
    "need|needs|want|wants a|an|some hand|help|ride|lift|nap|coffee|drink|break|hug|holiday|sleep|beer",
    "i|you|u|he|she|they need|want you|a",
    "you|u|he|she|they need|want to",
    "do|does you|u|he|she|they need|want",
    "need me|us|him|her|you",
    "from|off|onto the|our|my shopping|kitchen|list|car|oven",
    "put|add|write * on|onto|to",
    "am i missing",
    "goal|goals in|of",
    "in|from|of this|that",
    "the|my fridge|kitchen|recipe|picture|puzzle|soup|cake",
    "from my|your|his|her|their",
    "what do|does you|u|he|she|they|your|his|her",
    "need to know|talk|go|leave|be|see",
    "missing person|you|out|home|him|her|school",
    "cost|costs|price|pay|owe|spend|spent",
)

FORMS = (
    Form(
        "needs",
        "what do we still need",
        _needed,
        cues=(
            "what|whats|wat|wot|which|anything|something * need|needed|needs|missing|short|lacking|lack",
            "what|whats|which * outstanding * for",
            "what|whats|wat|wot|which|anything|something * left|still|else * buy|get|need|buying",
            "what|whats left|still to|for|missing",
            "what|whats|wat|wot|which * buy|get|pick|grab|buying * here|there|at|in|from|still",
            "what must|should|do|can we|i * buy|buying|get|pick",
            "else do|have we|i * get|buy",
            "what|items|things remains|remain|remaining * buy|get|bought|got|needed",
            "remaining items|things|needs|?",
            "to be bought|purchased",
            "how many|much * missing|short|lacking",
            "are we done|finished buying|shopping",
            "what|whats * our goal|goals",
            "^need|needed * ?",
            "what|anything * to buy|get|pick",
            "still|else need|needs|needed|missing|short|lacking|lack|lacks|to",
            "do|are|is we|i * still|short",
            "do we|i need|want|lack",
            "short on|of",
            "need|needs for|list",
            "shopping list",
            "our needs|gaps",
            "shortfall|shortfalls",
            "whats|what * holding|keeping|hold|holds|stopping * up|back|us",
            "why cant|can|arent * finish|complete|pack|pack",
            "what are|is|re we|they|it missing|lacking|short|needing",
            "list|tell|show * missing|need|needed|short|lacking|lacks",
            "something|anything to buy|get|pick|bring",
        ),
        lacks=frozenset((Need.AMOUNT, Need.COUNT)),
        never=_NEVER,
        strange=1,
    ),
    Form(
        "needs",
        "how many can we finish",
        _of_finishing,
        cues=(
            "how many * finish|complete|make|pack|do|fill|build|put",
            "can|could we|i finish|complete|pack",
            "cant|cannot we|i finish|complete|pack",
            "how many * left|more|to go|still",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=("did|have|has|were we|you|i", "packed|finished|done"),
        strange=2,
    ),
    Form(
        "needs",
        "what to buy where",
        _of_shops,
        cues=(
            "what|which|whats * buy|get|buying|shop|goes * where|which",
            "what|which must|should|do|can|shall we|i * buy|get * where",
            "where do|does|should|shall|can|could we|i buy|get|go * what|everything|all|it|rest|them|things",
            "where|which to buy|get",
            "buy|get * at|in|from which shop|store|shops|stores",
            "buy|get * where",
            "plan * shopping|shop|buying|purchases|run|trip|tour|route",
            "shopping|buying plan|tour|run|route|trip",
            "split|spread * across|over|between * shops|stores",
            "cheapest way to|of",
            "shop by shop",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM, Need.COUNT)),
        never=("when|who|whos", "did|was|were you|we|i", "going|go on a", "birthday|wedding|school shoes|trip to"),
        strange=1,
    ),
    Form(
        "needs",
        "kit by kit",
        _by_kit,
        cues=(
            "kit by kit",
            "each|every|per|all kit|kits * still|lack|lacks|need|needs|missing|short",
            "what * each|every kit",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=("cost|costs|price|hold|holds",),
        strange=2,
    ),
)
TEACH = (
    ("I'm at Larkmoor, what do we need?", "what to pick up here, and the most to pay"),
    ("what do we still need?", "also: for the wash bags, or: what should we buy where?"),
)


def answer(slots: Needed, desk: Desk) -> Answer:
    """Tell what is short, as asked: in a shop, of an item, of a kit, kit by kit, or what to buy where."""
    supply = Supply(desk)
    if not supply.kits:
        return Answer(NO_KITS)
    if slots.by is By.SHOP:
        return Answer(_plan(supply, desk))
    if slots.item is not None:
        return Answer(needs_wording.item_answer(of_item(slots.item, supply), desk.settings, desk.today))
    if slots.store is not None:
        return Answer(needs_wording.shop_answer(slots.store, at_shop(slots.store, supply), desk.settings, desk.today))
    if slots.kit is not None and slots.kit not in {kit.name for kit in supply.kits}:
        return Answer(no_such_kit(slots.kit, desk.group.kits))
    if slots.kit is None and slots.by is None:
        return Answer(needs_wording.needs_answer(supply.needs, short_items(supply), desk.settings, desk.today))
    kits = [need for need in supply.needs.kits if slots.kit in (None, need.kit.name)]
    return Answer("\n".join(needs_wording.kit_needs(need, desk.settings, desk.today) for need in kits))


def _plan(supply: Supply, desk: Desk) -> str:
    """What to buy where, besides what others are about to buy."""
    others = [one for one in supply.reserved if one.member != desk.speaker]
    open_needs = {
        item: short - sum(one.units for one in others if one.item == item) for item, short in supply.needs.short.items()
    }
    plan = buying_plan({item: units for item, units in open_needs.items() if units > 0}, supply.offers(), desk.today)
    most = {item.name: item.price_point.most for item in desk.group.items}
    return plan_wording.plan_answer(plan, others, plan_wording.Said(most, desk.settings, desk.today))


KIND = Kind("needs", FORMS, answer, TEACH)
