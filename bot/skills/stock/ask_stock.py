"""``ask_stock``: someone asks what is in stock, or who holds it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.strangers import named_as
from bot.skills.answering import Answer, Desk
from bot.skills.stock import wording
from bot.skills.stock.said import ME, kits_in, people_in
from bot.skills.supply import Supply
from bot.storage.stock import holdings
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Stocked:
    """The item, the holder ("me" is the speaker), or both that are asked about; neither for everything."""

    item: str | None = None
    holder: str | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``ask_stock``."""
        del currency
        return {name: value for name, value in (("item", self.item), ("holder", self.holder)) if value}


def _stocked(heard: Heard) -> Sequence[Stocked]:
    if kits_in(heard):
        return []
    marked = heard.marked
    items = list(dict.fromkeys(named_as(marked, span) for span in named(marked, heard.reach, NameSort.ITEM)))
    holder = _holder(heard)
    return [Stocked(item, holder) for item in items]


def _everything(heard: Heard) -> Sequence[Stocked]:
    """A question without an item: about one member, or about all there is."""
    if named(heard.marked, heard.reach, NameSort.STORE) or kits_in(heard):
        return []
    return [Stocked(None, _holder(heard))]


def _holder(heard: Heard) -> str | None:
    people = people_in(heard)
    others = [who for who in people if who.name != ME]
    if others:
        return others[0].name
    return ME if set(heard.said) & _OWN else None


_OWN = frozenset("i my mine ive me".split())
_NEVER = (
    "who|whos * best|cheapest|lowest|paid|owes|handwriting|keys|key",
    "how much * for|cost|costs|pay|paid|is|are",
    "need|needs|want|wants|short|missing|buy|should|price|cheapest|cost|costs|spend|spent",
    "least|lowest|going|selling|sells|less|cents|dollars|allow|teacher|rate|expensive|deal",
    "give me|us",
    "to give",
    "owe|owes|owed",
    "who|whos * bringing|coming|going|buying|getting|taking|wants|want|needs",
    "each|every|per",
    "in|into a|the|each kit|pouch|bag|box|sock",
)

FORMS = (
    Form(
        "ask_stock",
        "who has it, how many",
        _stocked,
        cues=(
            "who|whos|whose has|got|have|keeping|holding|storing|sitting|the|still|is",
            "who * has|got|have|holds|holding|keeping|storing|sitting",
            "how many|much",
            "how many|much * have|got|left|there|stock|has|at|you|we|is|are",
            "do|have|has|did we|i|anyone|anybody|you * got|have|any|left|still",
            "has|have|does anyone|anybody|someone * got|have|any",
            "any * left|anywhere|around|stock|still|somewhere",
            "are|is there any|still|more",
            "where|wheres are|is|the|our|all",
            "whats|what|show|list|count|number * left|stock",
            "got any",
            "stock of|on",
            "how * stocked|supplied",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NEVER,
        strange=1,
    ),
    Form(
        "ask_stock",
        "everything in stock, or all that one holds",
        _everything,
        cues=(
            "whats|what is|s|at|over|in|do|have|has|does|all|am|are * at|with|have|got|storing|holding|keeping|stock|here",
            "whats|what * at|with",
            "what|whats * storing|holding|keeping|stored|stock",
            "stock list|please|pls|check|report|now|levels|overview|?",
            "show|list|tell|give * stock|storing|holding|have|has|inventory",
            "in stock",
            "inventory",
            "everything|all * storing|holding|keeping|has|stock",
            "what have|do i|we|you * got|have|here",
            "^stock",
            "our stock",
            "what|whats * in my|the|his|her|our closet|garage|cupboard|basement|stash|pile",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM, Need.COUNT)),
        never=(
            *_NEVER,
            "in stock at|market|photos",
            "stock market|photo|exchange|cube|pot|up",
            "why|when|where",
            "what|whats * the|wrong|up|happening|time|on|plan|news|for|next|new|going",
            "are you|u|they|we|i",
            "chicken|beef|vegetable|soup|laughing",
        ),
        strange=1,
    ),
)
TEACH = (("who has the crayons?", "who holds how many, and where"), ("what's at Tobias's?", "all that he holds"))


def answer(slots: Stocked, desk: Desk) -> Answer:
    """Tell who holds what."""
    holder = desk.speaker if slots.holder == ME else slots.holder
    stock = holdings(desk.books)
    if slots.item is not None:
        return Answer(_of_item(slots.item, holder, desk))
    if holder is None:
        return Answer(wording.all_stock(stock))
    own = [(item, one) for item, held in stock.items() for one in held if one.member == holder]
    return Answer(wording.held_by(holder, own))


def _of_item(item: str, holder: str | None, desk: Desk) -> str:
    held = holdings(desk.books).get(item, [])
    if holder is not None:
        own = [one for one in held if one.member == holder]
        return wording.of_one(item, holder, own, held)
    return wording.who_holds(item, held, Supply(desk).needs.short.get(item, 0))


KIND = Kind("ask_stock", FORMS, answer, TEACH)
