"""``cancel_split``: the case is not bought after all; it leaves no trace in the balances."""

from __future__ import annotations

from datetime import timedelta

from bot.reading.form import Form, Need
from bot.reading.kind import Kind
from bot.skills.answering import Answer, Ask, CallingOff, Desk
from bot.skills.shares import wording
from bot.skills.shares.ending import Ending, ending, meant, not_theirs
from bot.storage.entries import entry, undo
from bot.storage.shares import closed_since, last_split

_LATELY = timedelta(days=30)
"""How long after its closing a case can still turn out not to have been bought."""
_CASE = "case|split|order|offer|deal|purchase"

FORMS = (
    Form(
        "cancel_split",
        "didn't buy it",
        ending,
        cues=(
            "didnt|didn't|never|havent|couldnt|wont|not * buy|bought|get|got|buying|purchase|purchased",
            "call|called|calling the|that|it * off",
            "call|calling off the|that|it|this * case|split|order|deal|one",
            "cancel|scrap|void|forget|drop|bin|scratch the|that|this|about * " + _CASE,
            _CASE + " is|was|did|s off|not|cancelled|void",
            _CASE + " cancelled|canceled",
            "case of * cancelled|canceled",
            "not enough takers",
            "deals off",
            "dont|wont buy the|that|this|it * case|split|order|anymore|after",
            "please|pls cancel",
            "not having|getting|taking|doing|ordering that|this|the|it",
            "bailed|backed|pulled|chickened on|out",
            "not ordered|bought|purchased|taken|buy|order",
            "were|was|is|are sold|finished",
            "case|split|offer|deal|lot|it|they|all is|are|was|were gone",
            "sold out",
            "not proceed|happening|going|placing",
        ),
        lacks=frozenset((Need.AMOUNT,)),
        never=(
            "i|but dont|didnt buy it|that for|,",
            "tell|warn|ask|advise|remind everyone|everybody|people|them|all|anyone|the|folks",
            "buy|buying|get|getting|order|ordering * again",
            "get|got * joke|hint|point|reference|line",
            "did|should|shall|can|who|when|why|has * cancel|cancelled|scrap",
            "dont|not|never cancel|scrap|void|call",
            "remind|remember|note|notes",
            "boat|house|landlord|ticket|holiday|picnic",
            "sounds fishy",
            "but i dont",
            "dress|party|fine|chips|lunch|dinner|wedding|trip|meeting|play|game|appointment|bank|council",
            "who|why|if|how|explain|tickets",
            "what|whats|which * havent|not|never",
            "deals off if",
            "my|last entry|one|message|price",
            "error|mistake|misread|mistyped|typo",
            "havent|didnt|not|never * thing|anything|nothing",
            "not|never going in|there|out|back|anywhere|near",
        ),
        strange=3,
        whole=True,
    ),
)
TEACH = (("didn’t buy the soap", "the case comes to nothing"),)


def answer(slots: Ending, desk: Desk) -> Answer | Ask | None:
    """Call off the open split, else take back the one closed last; silence where there is neither and no item."""
    found = meant(slots, desk, "call off the {} case")
    if isinstance(found, Ask):
        return found
    if found is not None:
        summary = f"calling off {wording.offer_summary(found.case, desk.settings)}"
        text = wording.called_off(found.case, desk.settings)
        return not_theirs(found, desk) or Answer(text, (CallingOff(found.number),), summary, split=found.number)
    closed = [one for one in closed_since(desk.books, desk.at - _LATELY) if slots.item in (None, one[0].case.item)]
    if not closed:
        return _take_back(slots.item, desk) if slots.item else None
    last, closing = closed[-1]
    if refusal := not_theirs(last, desk):
        return refusal
    undo(desk.books, closing, desk.speaker, desk.at)
    summary = f"calling off {wording.offer_summary(last.case, desk.settings)}"
    text = wording.called_off(last.case, desk.settings)
    return Answer(text, (CallingOff(last.number),), summary, split=last.number)


def _take_back(item: str, desk: Desk) -> Answer:
    """The offer to take back the newest split of an item that was shared at once."""
    number = last_split(desk.books, item)
    held = entry(desk.books, number) if number is not None else None
    if held is None:
        return Answer(wording.NOTHING_TO_CALL_OFF)
    return Answer(wording.take_back_this(held.summary), offer_take_back=held.number)


KIND = Kind("cancel_split", FORMS, answer, TEACH)
