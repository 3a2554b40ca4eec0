"""``ask_target``: someone asks what the group pays for an item."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.form import Form, Heard, Need, words
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.skills.answering import Answer, Desk
from bot.skills.judging import price_point
from bot.skills.prices import wording
from bot.skills.prices.about_item import AboutItem, about_item, asks_number

_POINT = "pricepoint|ceiling|cap|limit|max|maximum|target"
_STRONG = words(_POINT.replace("|", " ") + " figure budget point")
_WEAK = words("pay paying number settle settled agree agreed spend spending give fix fixed allow hold cost")
_SPEND = "pay|paying|spend|spending|give|giving|go|be|cost"
_CHEAP = "cheap|good|ok|okay|expensive|dear|much|high|low|steep"
_OURS = words("we us our ours is price most too high")
_NORM = words("should supposed meant ok okay usually normally aiming aim rule agreed allowed cutoff cut")
_PRICED = words("price cheap be come pay paying expensive dear steep off low high")
_OTHERS = (
    "^change|set|make|drop|raise|lower|update|adjust|move|bump|put",
    "last|before|since|history|year",
    "ever been|under|cheaper",
    "does|do|would it|that|this|these|those|they",
    "did|has|have|was|were * cost|costs|charge|charged|paying",
)


def _bare(heard: Heard) -> Sequence[AboutItem]:
    """The items, where nothing stands beside them but the word for our number: "target pens and combs?"."""
    free = {heard.marked.word(index) for index in range(*heard.reach)}
    named_here = named(heard.marked, heard.reach, NameSort.ITEM)
    return about_item(heard) if named_here and free <= _STRONG | _BARE else []


def _if_so(heard: Heard) -> Sequence[AboutItem]:
    return about_item(heard) if asks_number(heard) else []


_BARE = words("our price for of on and & please pls clerk again") | {"", ","}

FORMS = (
    Form(
        "ask_target",
        "what do we pay?",
        about_item,
        cues=(
            "what|whats|how|much * do|should|would|can|shall|could|must|am|are we|i|one|us|you " + _SPEND,
            "what|whats|how * normal|usual|standard|typical|decent for|on|price|again",
            "how|what|much * supposed|meant|allowed|expected to " + _SPEND + "|run|buy",
            "should|ought i|we|one be paying|spending|giving",
            "what price|prices we|i|do|should|shall|can|could|would|are|is|must|to",
            "how much we pay",
            "price point|pt|points",
            "target|targets|max|limit|ceiling|cap price|for|on|of",
            "most|max|highest we|to|wed|well|id|i pay|go|spend|would",
            "the most that|we|wed|id * pay",
            "our|agreed figure|number|ceiling|cap|price|target|max|limit",
            "how high can|could|do|should",
            "how much is too|ok|okay|fair",
            "good|fair|right|decent|cheap price|enough for|on|of",
            "what|how * need|needs|have|has to be",
            "when|what * cheap|low|good enough",
            "cheap|low enough",
            "whats * " + _CHEAP + " for|on",
            "what|whats * counts|count|considered|classed|called|passes * " + _CHEAP,
            "what|whats is|makes|would|should * " + _CHEAP + " for|on|of|enough|?",
            "never|cant|cannot|dont remember|recall|know * " + _POINT + "|price|pay",
            "forget|forgot|forgotten|lost * " + _POINT + "|price|pay",
            "no idea|clue * " + _POINT + "|pay",
            "what should|would|do|does * cost us",
            "what price * looking|aiming|after|want",
            "price|prices we that|agreed|settled|set|fixed|picked|decided|hold",
            "price wise",
            "we ever fix|set|agree",
            "magic number",
            "the most|max for|on",
            "our|the top|standing|agreed|usual|unit price|limit",
            "agreed * price",
            "we good for",
            "price limit|ceiling|cap",
            "have|got|set a price point|pt",
            "how much|many do|should|can * allow|pay",
            "price we hold|keep|stick",
        ),
        needs=frozenset((Need.THING,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(*_OTHERS, "cheapest|lowest"),
        strange=2,
    ),
    Form(
        "ask_target",
        "a question about our number",
        about_item,
        cues=(
            "what|whats|wat|wats|how|remind|do|did|which|tell|say|anyone|state|name|forget|forgot|forgotten|know|idea|there"
            "|give|need|show|want",
        ),
        also=(_STRONG,),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_OTHERS,
        strange=2,
    ),
    Form(
        "ask_target",
        "what it should cost",
        about_item,
        cues=("what|whats|wat|how|which|remind|tell|is|are|know",),
        also=(_NORM, _PRICED),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT, Need.COUNT)),
        never=(*_OTHERS, "cheapest|cheaper|lowest|less", "is|are|would that|this|these|those"),
        strange=1,
    ),
    Form(
        "ask_target",
        "a question about what we pay",
        about_item,
        cues=("what|whats|wat|how|remind|do|did|which|tell|state",),
        also=(_WEAK, _OURS),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(
            *_OTHERS,
            "cheapest|cheaper|cheap|lowest|less",
            "is|are|would that|this|these|those",
            "number of",
            "how many",
        ),
        strange=1,
    ),
    Form(
        "ask_target",
        "whether our number is so",
        _if_so,
        cues=(
            _POINT,
            "we|did|do pay|say",
            "is|was|are the|our * " + _POINT,
            "what|whats|which * " + _POINT + "|pay",
        ),
        needs=frozenset((Need.ITEM, Need.AMOUNT)),
        lacks=frozenset((Need.COUNT,)),
        never=("over|under|within|above|below|beat|beats",),
    ),
    Form(
        "ask_target",
        "the item and our number, bare",
        _bare,
        cues=(_POINT,),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT, Need.COUNT)),
    ),
)
TEACH = (("what do we pay for toothbrushes?", "the price point"),)


def answer(slots: AboutItem, desk: Desk) -> Answer:
    """Name the price point."""
    if desk.group.item(slots.item) is None:
        return Answer(wording.nothing_known(slots.item))
    return Answer(wording.target_answer(slots.item, price_point(desk, slots.item), desk.settings))


KIND = Kind("ask_target", FORMS, answer, TEACH)
