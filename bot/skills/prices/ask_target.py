"""``ask_target``: someone asks what the group pays for an item."""

from __future__ import annotations

from bot.reading.form import Form, Need, words
from bot.reading.kind import Kind
from bot.skills.answering import Answer, Desk
from bot.skills.judging import price_point
from bot.skills.prices import wording
from bot.skills.prices.about_item import AboutItem, about_item

_STRONG = words("ceiling cap limit max maximum target figure budget point")
_WEAK = words("pay paying number settle settled agree agreed spend give fix fixed allow hold cost")
_OURS = words("we us our ours is price most too high")
_OTHERS = (
    "^change|set|make|drop|raise|lower|update|adjust|move|bump|put",
    "last|before|since|history|year",
    "ever been|under|cheaper",
)

FORMS = (
    Form(
        "ask_target",
        "what do we pay?",
        about_item,
        cues=(
            "what|whats|how|much * do|should|would|can|shall we|i|one|us pay|spend|give",
            "how much we pay",
            "price point|pt|points",
            "target|targets|max|limit|ceiling|cap price|for|on|of",
            "most|max|highest we|to|wed|well|id|i pay|go|spend|would",
            "the most that|we|wed|id * pay",
            "our|agreed figure|number|ceiling|cap|price|target|max|limit",
            "how high can|could|do|should",
            "how much is too|ok|okay|fair",
            "good|fair|right|decent|cheap price|enough for|on|of",
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
            "supposed|meant to run|cost",
            "price limit|ceiling|cap",
            "have|got|set a price point|pt",
            "how much|many do|should|can * allow|pay",
            "should i|we be paying",
            "price we hold|keep|stick",
        ),
        needs=frozenset((Need.THING,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_OTHERS,
        strange=2,
    ),
    Form(
        "ask_target",
        "a question about our number",
        about_item,
        cues=("what|whats|wat|wats|how|remind|do|did|which|tell|say|anyone|state|name",),
        also=(_STRONG,),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_OTHERS,
        strange=2,
    ),
    Form(
        "ask_target",
        "a question about what we pay",
        about_item,
        cues=("what|whats|wat|how|remind|do|did|which|tell|state",),
        also=(_WEAK, _OURS),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(*_OTHERS, "cheapest|cheaper|cheap|lowest|less"),
        strange=1,
    ),
)
TEACH = (("what do we pay for toothbrushes?", "the price point"),)


def answer(slots: AboutItem, desk: Desk) -> Answer:
    """Name the price point."""
    if desk.group.item(slots.item) is None:
        return Answer(wording.nothing_known(slots.item))
    return Answer(wording.target_answer(slots.item, price_point(desk, slots.item), desk.settings))


KIND = Kind("ask_target", FORMS, answer, TEACH)
