"""``check``: someone asks whether a price is good; nothing is recorded."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.offers import Frame, Unclear
from bot.reading.wondering import wondered
from bot.reading.words import lexicon
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.judging import unknown_item, verdict_on
from bot.skills.prices import wording
from bot.skills.prices.judging import facts, said_again, sighting_of
from bot.skills.prices.offered import MONEY_TALK, OFFER, Offered, offered
from bot.skills.supply import Supply
from bot.wording.judged import told_of
from bot.wording.waiting import advice_line
from core.prices import Sighting, implausible
from core.wait_or_buy import Advice

_FRAME = Frame("is ", " a good price?")


def _check(heard: Heard) -> Sequence[Offered | Unclear]:
    return offered(heard, _FRAME)


_JUDGED = "|".join(sorted(lexicon()["opinion"]))
_USUAL = "we|usual|usually|normal|last|before"
_OPINIONS = "wdyt|opinion|opinions|thoughts|verdict|advice|input|feedback|objection|objections"
_DEAR = "dear|much|expensive|pricey|high|steep|overpriced"

FORMS = (
    Form(
        "check",
        "is it good?",
        _check,
        cues=(
            "^is|are|r|would|does",
            "any good|gd|use|better|cheaper|lower",
            "that|thats|it|this|its " + _JUDGED + " right|yeah|yes|no|is|or",
            "a rip|ripoff off|or",
            "too " + _DEAR,
            _JUDGED + " or",
            "or " + _JUDGED,
            "yes|y no|n",
            "tell me * is|are",
            "if|whether * will|would do",
            "price|deal|buy or",
            _OPINIONS,
            "your|ur|clerks take|view|feeling|call|gut",
            "take|view|feelings on|about",
            "put it|them|these|those|em back|down",
            "talk me",
            "can|could you|u|someone|somebody|anyone|anybody check|judge|rate",
            "what|whatcha do|would|should|you|u you|u|we|i|think|reckon think|reckon|say|make|do|of|on|about",
            "what you|u think|reckon|say",
            "what|whats|would|does everyone|everybody|yall|clerk|anyone|anybody think|reckon|say",
            "whats|what better|cheaper|best",
            "what|whats say|says|the|your|ur the|call|word|you",
            "over|under|more|less|above|below|dearer|cheaper|higher|lower what|than " + _USUAL,
            "^you|u think|reckon",
            "how " + _JUDGED + " is|are|would|does",
            "ever|anyone|anybody seen|had|got|found it|them|any lower|cheaper|better|less",
            "make of",
            "any point|use|sense in|getting|buying",
            "over|under|within our",
            "low|cheap|good enough",
            "which * better|cheaper|wins|win|best|wiser|sounder|less",
            "^which * ok|good",
            "which do|one|should|would",
            "who|which wins",
            "rate this|that|these",
            "^check|judge|checking",
            "just checking",
            "quick|one q|question|check",
            "ok|okay|fine|alright to buy|get|pay|take|grab",
            "ok|okay|fine|alright|happy if|for i|we|me|us",
            "about to buy|pay|get|grab|take",
        ),
        found=wondered,
        needs=OFFER,
        offers=True,
        never=(
            "how mad|crazy|wild|nuts is",
            "in my|our opinion",
            "^is|are|r in|on|at|by|near|next",
            "borrow|lend|loan",
            "did you|u|anyone|everyone|anybody know",
            "did|do|does you|u|anyone|everyone * see|hear",
            "know who|where|how|when|anyone|anybody|someone",
        ),
        strange=3,
        spreads=True,
    ),
    Form(
        "check",
        "a verdict word and a question mark",
        _check,
        cues=(_JUDGED + "|sensible * ?", "our money|budget|figures|price|limit|range ?"),
        needs=OFFER,
        offers=True,
        never=("did|do|does you|u|anyone|everyone * know|see|hear", "who|whos|why"),
        strange=3,
        spreads=True,
    ),
    Form(
        "check",
        "a question mark alone",
        _check,
        needs=OFFER,
        offers=True,
        never=(*MONEY_TALK, "did|do|does you|u|anyone|anybody|everyone", "who|whos|why|whats|where|wheres|when"),
        asked=True,
        spreads=True,
    ),
)
TEACH = (("is 1.25 for 10 pens a good price?", "judged, not kept"),)


def answer(slots: Offered, desk: Desk) -> Answer | Ask:
    """Say whether the price is good; keep nothing."""
    sighting = sighting_of(slots.offer, desk)
    says = _FRAME.says(said_again(slots.offer, desk.settings.currency))
    if ask := unknown_item(sighting.item, says, desk):
        return ask
    verdict = verdict_on(sighting, desk)
    advice = _now_or_later(sighting, desk)
    tell = told_of(verdict, desk.settings, advice.expected.unit_price if advice and advice.expected else None)
    lines = [wording.verdict_line(verdict, tell, desk.settings), *facts(verdict, tell, desk)]
    if sighting.count == 1 and implausible(sighting, verdict.price_point, verdict.history):
        lines.append(wording.for_a_pack(sighting, desk.settings))
    if advice:
        lines.append(advice_line(sighting.item, advice, tell, desk.settings, desk.today))
    return Answer("\n".join(lines))


def _now_or_later(sighting: Sighting, desk: Desk) -> Advice | None:
    """Whether to wait for a sale, where the item is short for the kits and a sale comes before they are due."""
    advice = Supply(desk).advice(sighting.item, sighting.unit_price)
    return advice if advice and advice.expected else None


KIND = Kind("check", FORMS, answer, TEACH)
