"""``ask_target``: someone asks what the group pays for an item."""

from __future__ import annotations

from bot.reading.form import Form, Need, words
from bot.reading.kind import Kind
from bot.skills.answering import Answer, Desk
from bot.skills.prices import wording
from bot.skills.prices.about_item import AboutItem, about_item
from bot.skills.prices.judging import price_point

FORMS = (
    Form(
        "ask_target",
        "what do we pay?",
        about_item,
        cues=(
            "what|whats|wat|wats|wut|how|remind * pay|paying for",
            "what|whats|how|much * do|should|would|can|shall we|i|one|us pay|spend|give",
            "how much|much do|should|can we * pay|spend",
            "how much we pay",
            "what|whats|wats * price point|pt|points|target|limit|max|ceiling",
            "what|whats|wats|which|how * our|the|is target|price|max|limit|ceiling|most * for|on|is",
            "price point|pt|points for|on|of",
            "price point|pt",
            "target|targets|max|limit price|for|on|of",
            "most|max|highest we|to|wed|well|id|i pay|go|spend|would",
            "max we",
            "our price|target|max|limit for|on",
            "the most that|we|wed|id * pay",
            "our figure|number|ceiling|cap|top",
            "how high can|could|do|should",
            "how much is too|ok|okay|fair",
            "good|fair|right|decent price for|on|of",
            "what should|would|do|does * cost us",
            "what price * looking|aiming|after|want",
            "price|prices we|that agreed|settled|set|fixed|picked|decided",
            "price wise",
            "we have|got * price point",
            "we ever fix|set|agree",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=("^change|set|make|drop|raise|lower|update|adjust|move|bump",),
        strange=3,
    ),
    Form(
        "ask_target",
        "a question about our number",
        about_item,
        cues=("what|whats|wat|how|remind|do|did|which|tell|say|anyone",),
        also=(
            words(
                "pay paying ceiling cap limit max maximum target figure number budget settle settled agree agreed spend give fix fixed point"
            ),
            words("we us our ours is number target price ceiling"),
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=("^change|set|make|drop|raise|lower|update|adjust|move|bump", "last|before|ever|since|history"),
        strange=2,
    ),
)
TEACH = (("what do we pay for toothbrushes?", "the price point"),)


def answer(slots: AboutItem, desk: Desk) -> Answer:
    """Name the price point."""
    return Answer(wording.target_answer(slots.item, price_point(desk, slots.item), desk.settings))


KIND = Kind("ask_target", FORMS, answer, TEACH)
