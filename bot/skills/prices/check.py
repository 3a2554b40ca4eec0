"""``check``: someone asks whether a price is good; nothing is recorded."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.offers import Frame, Unclear
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.prices import wording
from bot.skills.prices.judging import facts, said_again, sighting_of, unknown_item, verdict_on
from bot.skills.prices.offered import MONEY_TALK, Offered, offered


def _check(heard: Heard) -> Sequence[Offered | Unclear]:
    return offered(heard, Frame("is ", " a good price?"))


_GOOD = "good|gd|decent|ok|okay|fair|reasonable|cheap|great|fine|alright|right|better|normal"
_DEAR = "dear|much|expensive|pricey|high|steep|overpriced"

FORMS = (
    Form(
        "check",
        "is it good?",
        _check,
        cues=(
            "any good|gd|use|cop",
            "worth it|getting|buying|having|the|a|while|grabbing",
            "^is|are|r|would|does",
            "is|are|r|was|is|iz it|that|this|these|those|they * " + _GOOD,
            "is|are|r|was it|that|this|these|those|they too|a|any|worth|expensive|cheap",
            "is|are|r * " + _GOOD,
            "is|are|r * a|an|any|too|considered " + _GOOD + "|" + _DEAR + "|steal|deal|bargain|rip",
            "is|are expensive|cheap|good|worth",
            "a rip|ripoff off|or",
            "too " + _DEAR,
            "good|gd|decent|fair|ok|okay or no|nah|not|bad|too",
            "deal or|nah nah|no|not|what",
            "good|decent|fair price|deal|buy or",
            "yay|yes or nay|no",
            "should|shall|do i|we|you get|buy|grab|take|like|want",
            "can|could i|we do better",
            "do we like|want",
            "considered a|an",
            "would|should * be considered|good|ok|fair|reasonable|worth",
            "what|whatcha do|you you|u|we think|reckon",
            "thoughts on|about",
            "whether * a|an " + _GOOD,
            "whether",
            "how good|cheap|is",
            "is|r|are|would that|this|these|those",
            "what do|you * make of",
            "make of",
            "over|under our|the * or under|over",
            "beat|beats|meet|meets|within our|the * price|target|limit",
            "^does|do|did|would * beat|meet",
            "would we|you|i pay|buy|take",
            "low|cheap|good enough",
            "which * better|ok|cheaper|good",
            "wonder|wondering whether|if",
            "ought i|we",
            "being robbed|ripped|had",
            "^y n",
            "should i or",
            "verdict|sensible|thoughts|opinion|opinions|acceptable",
        ),
        needs=frozenset((Need.AMOUNT, Need.THING)),
        never=("how mad|crazy|wild|nuts is",),
        strange=3,
        spreads=True,
    ),
    Form(
        "check",
        "a price with a question mark",
        _check,
        cues=(
            "good|gd|great|fair|decent|ok|okay|reasonable price|deal|buy|value|bargain ?",
            "? good|decent|gd",
            "good|gd|ok|okay|worth|decent ?",
        ),
        needs=frozenset((Need.AMOUNT, Need.THING)),
        strange=3,
        spreads=True,
    ),
    Form(
        "check",
        "a question mark alone",
        _check,
        needs=frozenset((Need.AMOUNT, Need.THING)),
        never=(
            *MONEY_TALK,
            "did|do|does you|u|anyone|anybody|everyone",
            "who|whos|why|whats|where|wheres|when",
        ),
        asked=True,
    ),
)
TEACH = (("is 1.25 for 10 pens a good price?", "judged, not kept"),)


def answer(slots: Offered, desk: Desk) -> Answer | Ask:
    """Say whether the price is good; keep nothing."""
    sighting = sighting_of(slots.offer, desk)
    says = f"is {said_again(slots.offer, desk.settings.currency)} a good price?"
    if ask := unknown_item(sighting.item, says, desk):
        return ask
    verdict = verdict_on(sighting, desk)
    return Answer("\n".join([wording.verdict_line(verdict, desk.settings), *facts(verdict, desk)]))


KIND = Kind("check", FORMS, answer, TEACH)
