"""``moved``: units go from one member's house to another's, without money."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.form import Form, Need
from bot.reading.kind import Kind
from bot.reading.offers import Choice
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.judging import unknown_item
from bot.skills.stock import wording
from bot.skills.stock.moved_said import (
    GIVES,
    RELIEVED,
    TAKES,
    Moved,
    came_with,
    frame_of,
    from_to,
    given,
    now_at,
    now_has,
    relieved,
    taken,
    went_off,
)
from bot.skills.stock.people import ME
from bot.skills.stock.said import at_least_one
from bot.skills.supply import Supply
from core.stock import Move, Why

_PLANS = (
    "who|whos|what|whats|how|why|when|where|which",
    "anyone|anybody|somebody|someone",
    "did|does|do|can|could|will|would|should|if|please|pls someone|somebody|anyone|anybody|you|i|we|u",
    "ill|well|gonna|going|want|wants|need|needs|must|should|lets|let|to give|bring|hand|drop|take|pick|collect|send",
    "dont|didnt|not|never|wont|havent|hasnt",
    "in|behind|up|on my|his|her|the hair|head|nose|ear|ears|mouth|teeth",
    "can|could|would|will|may give|bring|hand|drop|take|pick|collect|send|you|i",
    "picked|left * on|off|out|alone|behind|over from",
    "a|the lift|ride|hug|call|ring|shout|look|break|kiss|talk|piece",
    "you|u|your|ur|youre|thou",
    "buy|purchase|shop|shopping",
    "we|i|it|us could|can|would|will|might|may|should",
)
_NOT = (*_PLANS, "^give|hand|pass|drop|bring|send|take|leave|move|shift|put|carry")

_COMING = "came|come|swung|popped|stopped|dropped|called|nipped|turned|showed|rocked|drove|visited|rolled"

FORMS = (
    Form(
        "moved",
        "given to a member",
        at_least_one(given),
        cues=(
            GIVES,
            "gave|handed|passed|given|brought|dropped|sent|left me|her|him",
            "gave|handed|passed|given|brought|dropped|drove|moved|sent|carried|left * over|along|round|off|back|to",
            "took|taken * over|round to",
            "left|dropped|brought|put * at mine",
            "took|taken|takes|put|let * to|round|over|up",
            "let me|us|him|her|them have|take|borrow|keep",
            "left|dropped|put * in|at|with|on",
            "hand|handed over",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NOT,
        strange=4,
        apart=True,
    ),
    Form(
        "moved",
        "taken from a member",
        at_least_one(taken),
        cues=(
            "took|collected|picked|fetched|got|grabbed * from|off|at",
            "collected|fetched",
            "picked up",
            "took|take|takes|borrowed|nabbed|pinched|swiped|scooped|retrieved|gathered|grabbed|nicked",
            "from|off",
        ),
        also=(frozenset(TAKES.split("|")),),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NOT,
        strange=4,
        apart=True,
    ),
    Form(
        "moved",
        "somebody has them now",
        at_least_one(now_has),
        cues=(
            "now has|have|got * from|that",
            "has|have * now|that * from|at|were|was",
            "has|got|holds|keeps my",
            "now has|have|holds|keeps|got",
            "has|have|holds|keeps|got * now",
            "has|have|took|taken custody|charge|possession of",
            "looking|looks after * my",
            "minding|storing|holding|keeping my",
        ),
        needs=frozenset((Need.ITEM, Need.MEMBER)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NOT,
        strange=3,
        apart=True,
    ),
    Form(
        "moved",
        "from one to another",
        at_least_one(from_to),
        cues=("from * to", "to", ">|→", "-|=|> >", "from me|mine|my"),
        needs=frozenset((Need.ITEM, Need.MEMBER)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(
            *_PLANS,
            "off|up|down|thanks|back to",
            "due|owed|next|new|belong|belongs|listen|talk|talked|speak|according to",
        ),
        strange=1,
        apart=True,
    ),
    Form(
        "moved",
        "with another now",
        at_least_one(now_at),
        cues=("is|are|now|live|lives|stay|stays|sit|sits|went|gone|moved * at|in|with|to|by",),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NOT,
        strange=2,
    ),
    Form(
        "moved",
        "came with them",
        at_least_one(came_with),
        cues=(
            f"{_COMING} * with|w|bringing|carrying",
            "went over|round|to|by * with|w",
            f"{_COMING} by|over|round|around|past|here * with|w|bringing",
        ),
        needs=frozenset((Need.ITEM, Need.COUNT)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NOT,
        strange=3,
    ),
    Form(
        "moved",
        "went off with them",
        at_least_one(went_off),
        cues=("drove|went|walked|made|ran|came|left|cycled|biked|disappeared * off|away with",),
        needs=frozenset((Need.ITEM, Need.MEMBER)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NOT,
        strange=3,
    ),
    Form(
        "moved",
        "relieved of them",
        at_least_one(relieved),
        cues=(f"{RELIEVED} * of",),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NOT,
        strange=5,
    ),
)
TEACH = (("gave Tobias 20 crayons", "from your house to his"),)


def answer(slots: Moved, desk: Desk) -> Answer | Ask:
    """Move the units from one to the other; ask where the books have too few at the giver's."""
    giver, taker = (desk.speaker if name == ME else name for name in (slots.giver, slots.taker))
    says = frame_of(giver, taker).says(f"{'all the' if slots.count is None else slots.count} {slots.item}")
    if ask := unknown_item(slots.item, says, desk):
        return ask
    there = max(0, Supply(desk).held.get(slots.item, {}).get(giver, 0))
    count = there if slots.count is None else slots.count
    if not count:
        return Answer(wording.none_to_move(slots.item, giver))
    if there < count and not desk.sure:
        question = wording.too_few(slots.item, count, giver, there)
        return Ask(question, (Choice(wording.RECORD_ANYWAY, says, sure=True),))
    found = [Move(slots.item, giver, count - there, Why.COUNTED, desk.today)] if there < count else []
    moves = (
        *found,
        *(Move(slots.item, who, units, Why.MOVED, desk.today) for who, units in ((giver, -count), (taker, count))),
    )
    line = wording.handed_over(slots.item, count, giver, taker)
    return Answer(wording.moved_answer(line, slots.item, _held_then(desk, slots.item, moves)), moves, line)


def _held_then(desk: Desk, item: str, moves: Sequence[Move]) -> dict[str, int]:
    """What each member holds of an item after some moves."""
    held = dict(Supply(desk).held.get(item, {}))
    for moved in moves:
        held[moved.member] = held.get(moved.member, 0) + moved.units
    return {name: units for name, units in held.items() if units}


KIND = Kind("moved", FORMS, answer, TEACH)
