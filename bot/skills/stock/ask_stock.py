"""``ask_stock``: someone asks what is in stock, or who holds it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.evidence import spoken_to_member
from bot.reading.form import Form, Heard, Need, words
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.spans import Marked
from bot.reading.strangers import named_as
from bot.skills.answering import Answer, Desk
from bot.skills.stock import wording
from bot.skills.stock.people import ME, Who, people_in
from bot.skills.stock.said import kits_in
from bot.skills.supply import Supply
from bot.storage.stock import holdings
from core.money import Currency
from core.stock import Held


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
    if kits_in(heard) or _is_between_two(heard):
        return []
    marked = heard.marked
    spans = [span for span in named(marked, heard.reach, NameSort.ITEM) if not _is_one(marked, span.start)]
    holder = _holder(heard)
    return [Stocked(item, holder) for item in dict.fromkeys(named_as(marked, span) for span in spans)]


def _is_one(marked: Marked, start: int) -> bool:
    """Whether a single thing is asked for, as people do who need one: "anyone got a pen?"."""
    return marked.text_at(start - 1) in ("a", "an")


def _is_between_two(heard: Heard) -> bool:
    """Whether a member is asked: "Ines, how many combs have you got?"."""
    return spoken_to_member(heard.marked, heard.reach) and bool({"you", "u", "your"} & set(heard.said))


def _everything(heard: Heard) -> Sequence[Stocked]:
    """A question without an item: about one member, or about all there is."""
    if named(heard.marked, heard.reach, NameSort.STORE) or kits_in(heard) or _is_between_two(heard):
        return []
    return [Stocked(None, _holder(heard))]


def _holder(heard: Heard) -> str | None:
    people = people_in(heard)
    others = [who for who in people if who.name != ME]
    if others:
        return others[0].name
    return ME if any(who.name == ME and _holds(heard.marked, who) for who in people) else None


def _holds(marked: Marked, who: Who) -> bool:
    """Whether the speaker is asked about as a holder: "what do I have", "what's at mine"; not in "tell me"."""
    word, beside = marked.text_at(who.at), {marked.text_at(who.at - 1), marked.text_at(who.at + 1)}
    return who.owns or word == "ive" or (word in ("i", "me") and bool(beside & _HOLDING))


_HOLDING = frozenset("have got hold holding do still keep store with at am did".split())
_OF_PRICES = ("how much * for|cost|costs|pay|paid|is|are", "how much was|were")
_OTHERS = (
    "who|whos * best|cheapest|lowest|paid|owes|handwriting|keys|key",
    "need|needs|want|wants|short|missing|buy|should|price|cheapest|cost|costs|spend|spent",
    "enough|sufficient|wanting|done|sorted|yet",
    "how many more",
    "least|lowest|going|selling|sells|less|cents|dollars|allow|teacher|rate|expensive|deal",
    "give me|us",
    "to give",
    "owe|owes|owed",
    "who|whos * bringing|coming|going|buying|getting|taking|wants|want|needs",
    "each|every|per",
    "in|into a|the|each kit|pouch|bag|box|sock",
    "many kids|people|children|boys|girls|families|times",
    "many|much * broke|lost|snapped|cost",
    "on|up their|his|her|your|my",
    "i|you lent|gave|borrowed|bought|need",
    "any idea|clue|luck|news",
    "have|has|got on",
    "what|whats did|was|were|happened",
    "photo|photos|picture|pictures|pic|pics of",
    "where|wheres are|r you|u|ya",
    "target|limit|ceiling|max|cap",
    "at most",
    "in stock at",
)

_NEVER = (*_OTHERS, *_OF_PRICES)
_ASKED = (
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
            "where|wheres are|r|is|the|our|all",
            "whats|what|show|list|count|number * left|stock",
            "got any",
            "stock of|on",
            "how * stocked|supplied",
            "^anyone|anybody|someone got|have|has",
            "anyone|anybody|someone|somebody|everyone holding|keeping|storing|minding|hoarding",
            "any 1 got|have|has|holding|keeping",
            "where|wheres did|do|have|has * end|go|gone|got|live|kept|stored",
            "how|hows is|our|the * pile|stock|stash|supply|store|heap|box|looking",
            "number|total|tally|amount|quantity|count of",
            "total|number * between|for|across|to|in",
            "^total|number|count",
            "are|is there * at|in|with",
            "who|whose|which house|place|home|closet|car|garage",
            "who * minding|looking|keeping",
            "whos minding|looking|keeping after",
            "left|remaining ?",
            "in stock",
            "count|total|stock ?",
            "on|in hand",
            "how are we for|on|off|doing",
            "which|who of us|you has|have|holds",
            "^got * ?",
            "holding|holdings|supply|stash|pile of",
            "stock check|count|level|levels",
            "do|have|has i|we * at|got|any",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NEVER,
        strange=1,
    ),
    Form(
        "ask_stock",
        "whether a member has it",
        _stocked,
        cues=(
            "does|has|did * have|got|hold|any|enough|take",
            "any|more * at|with",
            "is|are * at|with",
            "how much|many * at|with",
        ),
        needs=frozenset((Need.ITEM, Need.MEMBER)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_OTHERS,
        strange=1,
    ),
    Form(
        "ask_stock",
        "everything in stock, or all that one holds",
        _everything,
        cues=(
            "whats|what is|s|at|over|in|do|have|has|does|all|am|are * at|with|have|got|storing|holding|keeping",
            "whats|what is|s|at|over|in|do|have|has|does|all|am|are * stock|here",
            "whats|what * at|with",
            "what|whats|wots * storing|holding|keeping|stored|stock|hoarding|minding",
            "what|whats * sitting on",
            "rundown|overview|statement|summary|picture|list of * who|stock|what",
            "who has|holds|keeps|got what",
            "who|whos got what",
            "everything|all at|in|with",
            "everything|all we have|hold|own|got",
            "what stuff|things do|have|has",
            "what|whats stored|kept",
            "everything|all thats|that * at|in|with",
            "left|remaining|over after|from * packing|packed|pack|session",
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
            "remind|remember",
            "stock market|photo|exchange|cube|pot|up",
            "why|when|where",
            "what|whats * the|wrong|up|happening|time|on|plan|news|for|next|new|going",
            "are you|u|they|we|i",
            "planned|planning|say|think|mean|done|doing|eat|cook",
            "have|has to",
            "chicken|beef|vegetable|soup|laughing",
        ),
        strange=1,
    ),
)
_OF_A_MEMBER = Form(
    "ask_stock",
    "all that a member holds",
    _everything,
    cues=("^whats|what|wots|wot", "stock|stuff|things|everything|boxes of|at|with|by"),
    also=(words("got gots have has holds holding keep keeps keeping kept store stores storing stored stock at with"),),
    needs=frozenset((Need.MEMBER,)),
    lacks=frozenset((Need.AMOUNT, Need.ITEM, Need.COUNT)),
    never=(
        *_NEVER,
        "did|does|do * say|mean|think|want|do",
        "time|day|number|wrong|up|happening|planned|news",
        "going on",
    ),
    strange=1,
)
FORMS = (*_ASKED, _OF_A_MEMBER)

TEACH = (("who has the crayons?", "who holds how many, and where"), ("what's at Tobias's?", "all that he holds"))


def answer(slots: Stocked, desk: Desk) -> Answer:
    """Tell who holds what."""
    holder = desk.speaker if slots.holder == ME else slots.holder
    stock = holdings(desk.books)
    if slots.item is not None:
        return Answer(_of_item(slots.item, holder, stock.get(slots.item, []), desk))
    if holder is None:
        return Answer(wording.all_stock(stock))
    own = [(item, one) for item, held in stock.items() for one in held if one.member == holder]
    return Answer(wording.held_by(holder, own))


def _of_item(item: str, holder: str | None, held: Sequence[Held], desk: Desk) -> str:
    if holder is not None:
        own = [one for one in held if one.member == holder]
        return wording.of_one(item, holder, own, held)
    return wording.who_holds(item, held, Supply(desk).needs.short.get(item, 0))


KIND = Kind("ask_stock", FORMS, answer, TEACH)
