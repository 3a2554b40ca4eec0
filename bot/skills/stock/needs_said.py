"""What a question about needs says: slots, forms, no books."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from bot.reading.evidence import one_item
from bot.reading.form import Form, Heard, Need, words
from bot.reading.names import NameSort, named
from bot.reading.offers import Unclear
from bot.reading.spans import Marked, Reach
from bot.reading.strangers import named_as, strange_words, unknown_store
from bot.skills.stock.said import from_start, kits_in, which_kit
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
    if not items and _REFERRING & set(heard.said) and (meant := one_item(marked)):
        return [Needed(meant)]
    store = _store(heard)
    kits = kits_in(heard) or ([] if items or store else kits_in(from_start(heard)))
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


_REFERRING = frozenset("it them they those any more many".split())
"""Words that mean the only item of the whole message: "bought 10 combs 1.20. do we need more of them?"."""


def _of_another_thing(marked: Marked, reach: Reach) -> bool:
    """Whether something else is short, or it is for something else: "short of time", "need for the potluck"."""
    strange = {index for index in strange_words(marked, reach) if marked.text_at(index) not in _OUR_ERRAND}
    behind = (index + 1 for index in range(*reach) if _lacks(marked, index) or marked.text_at(index) == "for")
    strange = {index for index in strange if marked.text_at(index) not in ("anything", "something")}
    return any(at in strange or (marked.text_at(at) in _SMALL and at + 1 in strange) for at in behind)


def _lacks(marked: Marked, index: int) -> bool:
    two = (marked.text_at(index - 1), marked.text_at(index))
    return two in _SHORT_OF or two[1] == "need"


_SHORT_OF = frozenset((("short", "of"), ("short", "on"), ("low", "on"), ("low", "of")))
_SMALL = frozenset("a an any more some the our my".split())
_OUR_ERRAND = frozenset("collection drive season packing delivery handout giveaway christmas easter".split())


def _of_shops(heard: Heard) -> Sequence[Needed]:
    return [] if named(heard.marked, heard.reach, NameSort.ITEM) else [Needed(by=By.SHOP)]


def _by_kit(heard: Heard) -> Sequence[Needed]:
    return [Needed(by=By.KIT)] if _each_kit(heard) else []


def _each_kit(heard: Heard) -> bool:
    words = " ".join(heard.said)
    return any(phrase in words for phrase in _BY_KIT)


_BY_KIT = (
    "kit by kit",
    "kit for kit",
    "each kit",
    "every kit",
    "per kit",
    "by kit",
    "all kits",
    "kits one at a time",
    "each of the kits",
    "for each box",
    "for each bag",
    "for each pouch",
)


def _in_shop(heard: Heard) -> Sequence[Needed | Unclear]:
    """What to take along: where a shop is named, or an item that somebody stands before."""
    if _store(heard) is None or named(heard.marked, heard.reach, NameSort.ITEM):
        return []
    return _needed(heard)


def _of_item(heard: Heard) -> Sequence[Needed | Unclear]:
    """Whether there is enough of an item; of a kit, how many are still to do. That there is plenty asks nothing."""
    if not heard.asked and _tells_of_plenty(heard.said):
        return []
    if named(heard.marked, heard.reach, NameSort.ITEM):
        return _needed(heard)
    before = {span.value.name for span in named(heard.marked, (0, heard.reach[0]), NameSort.ITEM)}
    return [Needed(before.pop())] if len(before) == 1 else []


def _tells_of_plenty(said: Sequence[str]) -> bool:
    """Whether the order is that of a statement: "we have plenty", not "have we plenty"."""
    subject = next((index for index, word in enumerate(said) if word in _SUBJECTS), None)
    return bool(_PLENTY & set(said)) and subject is not None and not _VERBS & set(said[:subject])


_SUBJECTS = frozenset("we weve i ive there theres theyre thats its".split())
_PLENTY = frozenset("plenty enough sufficient".split())
_VERBS = frozenset("have has do does is are did will if whether know".split())


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
    words = heard.marked.said(*unknown).lower() if unknown else None
    return None if words in _NO_SHOPS else words


_NO_SHOPS = frozenset(("present", "moment", "minute", "hand"))
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
    "left to do|say|see|watch|eat|read|tell|pay",
    "need to know|talk|go|leave|be|see",
    "missing person|you|out|home|him|her|school",
    "cost|costs|price|pay|owe|spend|spent",
)

_ASKED = (
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
            "still|else want|need|needs|needed|missing|short|lacking|lack|lacks|to",
            "do|are|is we|i * still|short",
            "do we|i need|want|lack",
            "^need any|more|some|anything",
            "short|low on|of",
            "have|havent|not we|i|not * got yet",
            "list to buy|get",
            "do|does * need anything|something|more|else",
            "what|whats am|are|is i|we shopping for",
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
            "what * finish|complete|fill|makes",
            "are|is * complete|full",
            "what|anything else",
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
            "split|sort|sorted|order * by|into shop|store|shops|stores",
            "by|into shop|store|shops|stores",
            "per shop|store",
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
            "kit by|for kit",
            "kits one at a time",
            "for each box|bag|pouch|sock",
            "each|every|per|all kit|kits * still|lack|lacks|need|needs|missing|short",
            "what * each|every kit",
        ),
        lacks=frozenset((Need.AMOUNT, Need.ITEM)),
        never=("cost|costs|price|hold|holds",),
        strange=2,
    ),
)
_AT_A_SHOP = Form(
    "needs",
    "in a shop, what to take",
    _in_shop,
    cues=(
        "what|whats|wot else|do|should|to|am|is|are|can|shall|must * take|get|grab|pick|want|after|need|buy|bring|go",
        "what|whats|wot am|are i|we getting|buying|taking",
        "meant|supposed to * get|getting|buy|buying|pick|picking|look|looking|grab|take",
        "be looking for|out|after",
        "anything|what to * look|watch for|out",
        "what|whats|wot else",
        "what are|is|r we|you|u after|short|missing|wanting",
        "whats|what|anything on the|our|my|that list",
        "anything|owt|something|things|stuff * want|need|needed|after|missing|list",
        "anything|owt|something i|we|you|to * get|grab|buy|bring|pick|take",
        "did i|we forget|miss",
        "tell me|us what",
        "the|our|my list ?|please|pls|quick|again",
    ),
    lacks=frozenset((Need.COUNT,)),
    never=(
        *_NEVER[:3],
        "did|was|were * good|fun|open",
        "what|whats on sale|offer",
        "whats|what|is good|wrong|happening|up",
    ),
    strange=4,
)
_ENOUGH = Form(
    "needs",
    "is there enough of it",
    _of_item,
    cues=(
        "are|is|were|we|r done|sorted|good|set|finished|fixed|covered|ok|okay|fine|complete|through for|with|on|re",
        "have|has|do|got|is|are|there|we * enough|sufficient|plenty",
        "enough",
        "^done|sorted|set|finished with|for|on",
        "how many|much more|to|are|left|till|til|until * go|buy|get|needed|wanting|wanted|done|missing|short",
        "how many|much * to go|buy|get|find",
        "how many|much * till|til|until|wanting|missing|short",
        "how many|much more",
        "how far|short|close off|are|is * we|from|with|on",
        "more * needed|wanted|required|?",
        "all|everything we|i need",
        "how many|much left|still to * buy|get|find",
        "how many|much are|is yet|still wanting|wanted|needed",
        "do|have we|i have|got|all|everything * need|needed",
        "are we good",
        "grab|get|buy|need more",
        "or are|is we good|done|sorted",
        "must i|we take|buy|get",
        "keep knitting|buying|collecting|looking",
        "good|ok|okay|safe|time to stop",
    ),
    needs=frozenset((Need.ITEM,)),
    lacks=frozenset((Need.AMOUNT, Need.COUNT)),
    never=(
        *_NEVER[:2],
        "enough of|already|said",
        "dont|never grab|get|buy more",
        "good enough",
        "price|deal|cheap|cost|costs|pay",
        "have|has|had i|she|he|they * enough",
        "fed|sick|tired|bored",
        "my|his|her|their kid|kids|class|son|daughter",
    ),
    strange=3,
)
_GOAL_IN_REACH = Form(
    "needs",
    "will the kits be done",
    _of_finishing,
    cues=(
        "can|could|will|shall|do|may we|i * fill|reach|make|hit|meet|finish|complete|manage",
        "what|whats|which * crying out for",
        "what|whats * remains|remain|remaining|stopping|blocking|lacking|wanting|still",
        "how far|close * off|from|are",
        "enough for|to * fill|make|finish|pack",
    ),
    lacks=frozenset((Need.AMOUNT, Need.ITEM)),
    never=(
        "packed|finished|made it",
        "cost|costs|price|pay",
        "meet at|up|on",
        "tonight|tomorrow|saturday|sunday|friday",
    ),
    strange=3,
)
_HOW_FAR = Form(
    "needs",
    "how many are packed",
    _of_finishing,
    cues=("how many|far|much", "how are|is"),
    also=(words("packed done finished ready completed filled along coming"),),
    lacks=frozenset((Need.AMOUNT, Need.ITEM)),
    never=("last|other year|season", "cost|costs|price|pay"),
    strange=2,
)
FORMS = (*_ASKED, _AT_A_SHOP, _ENOUGH, _GOAL_IN_REACH, _HOW_FAR)
