"""``ask_history``: someone asks how an item's price has moved."""

from __future__ import annotations

from collections.abc import Sequence

from bot.reading.form import Form, Heard, Need, words
from bot.reading.kind import Kind
from bot.reading.offers import Unclear
from bot.reading.words import Sort
from bot.skills.answering import Answer, Desk
from bot.skills.prices import wording
from bot.skills.prices.about_item import AboutItem, about_item_before
from bot.storage.prices import monthly_lows, recent
from core.prices import RECENT_LOW_MONTHS, since

_MOST_MONTHS = 12
_MOST_NEWEST = 3
_MOVES = (
    "changed|change|moved|move|moves|risen|rising|rise|fallen|falling|fall|dropped|drop|jumped|jump|climbed|climbing|gone|went"
    "|been|trending|doing|creeping|come|came|crept"
)
_PAID = "cost|pay|paid|give|given|paying|go|charge|charged|charging|fetch|been|do|done"
_MONTHS = "january|february|march|april|may|june|july|august|september|october|november|december"
_BEFORE = "last|before|b4|year|then|back|far|ago|lately|since|spring|summer|autumn|fall|winter|" + _MONTHS
_THEN = words(
    "history changed change moved risen rising rise falling fallen fall dropped ever since trend before compared"
    " gone jump jumped climbed back then past year years month months january february march april may june july"
    " august september october november december spring summer autumn fall winter always earlier lately recently"
    " used use seen over down up time last"
)
_COST = words(
    "price prices cost costs costing cheaper dearer pricier paid pay going selling sold under below over much fetch"
    " fetched worth high low run running expensive cheap went"
)
_about_item = about_item_before(frozenset(_MOVES.split("|")) | _THEN | words("whats hows show"))


def _of_what(heard: Heard) -> Sequence[AboutItem | Unclear]:
    """The question which item is meant, where the whole message names none."""
    rest = [token for token in heard.marked.tokens[heard.reach[1] :] if token.sort is not Sort.STOP]
    return [Unclear("Which item is that? Try: price history for crayons")] if heard.reach[0] == 0 and not rest else []


FORMS = (
    Form(
        "ask_history",
        "how has it moved?",
        _about_item,
        cues=(
            "how|hows|has|have|did|is|are * price|prices|cost * " + _MOVES,
            "price|prices history",
            "how|hows|has|have * moved|changed",
            "history of|for|on",
            "past|old|previous|earlier|last price|prices",
            "price|prices|cost * " + _MOVES + "|over|before|since",
            "have|has|did|are|is|were * gone|going|went|go|got|crept|creeping|come up|down|dearer|cheaper|pricier",
            "gone|going|went|go|creeping|come|came up|down",
            "what|how much did|do * cost|pay * last|before|year|then|back",
            "been going for",
            "were|was we|i paying|giving|spending",
            "used to cost|pay",
            "show|see|list|plot|graph|chart * prices|price|history",
            "record of * price|prices",
            "over time",
            "got|gotten|become|becoming|getting|grown pricier|dearer|cheaper|costlier",
            "got|gotten|become|becoming|getting more|less expensive|costly",
            "goin|going|comin|coming|went up|down or",
            "up or down",
            "trended|trending",
            "done since|over|lately",
            "drop|rise|fall|increase|decrease in price|cost",
            "become|became|getting|got dearer|cheaper|pricier|costlier",
            "prices|price jan|january|feb|march|spring|last|then",
            "lowest * ever",
            "highest",
            "always this|that expensive|cheap|dear|high|low",
            "last|previous|earlier|old price|prices|cost",
            "what|much was|were * " + _BEFORE,
            "what|how|much did|have|has|had * " + _PAID + " * " + _BEFORE,
            "getting|got|become|becoming pricey|dear|expensive|cheap",
            "price|prices|paid * so far",
            "price|prices|cost change|changes|changed|jump|jumps",
            "change|changes|difference in * price|prices|cost",
            "happened|happening to|with * price|prices|cost",
            "cheaper|dearer|pricier|costlier|expensive than * were|was|before|last|used|" + _MONTHS,
            "get|got|getting any|much|a|lot * cheaper|dearer|pricier",
            "now and|vs|versus|against then|before|last",
        ),
        needs=frozenset((Need.THING,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=("we|you ever fix|set|agree|agreed", "best|lowest|cheapest * so far", "left|remaining|leftover|stock"),
        strange=2,
    ),
    Form(
        "ask_history",
        "how a known item does",
        _about_item,
        cues=(
            "what|much did we|you|i pay|give",
            "trend|trends|trending",
            "how have|has * been",
            "then and now",
            "on the way|rise up|down|?",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT, Need.COUNT)),
        strange=0,
    ),
    Form(
        "ask_history",
        "of what?",
        _of_what,
        cues=("what|much did|have|had we|i pay|paid|give * last|before|back",),
        lacks=frozenset((Need.AMOUNT, Need.COUNT, Need.ITEM, Need.MEMBER)),
        strange=0,
    ),
    Form(
        "ask_history",
        "a question about prices over time",
        _about_item,
        cues=(
            "what|whats|how|did|do|does|have|has|were|was|is|are|when|whens|show|see|pull|price|prices|can|want|know|tell|give",
        ),
        also=(_THEN, _COST),
        needs=frozenset((Need.ITEM,)),
        never=(
            "we|you ever fix|set|agree|agreed",
            "any good",
            "worth it",
            "good|decent|fair price|deal",
            "price point|pt|points",
            "where|wheres are|r|is",
        ),
        lacks=frozenset((Need.COUNT,)),
        strange=2,
    ),
)
TEACH = (("how has the price of soap moved?", "month by month"),)


def answer(slots: AboutItem, desk: Desk) -> Answer:
    """List the lowest price of each of the last months."""
    item = desk.group.item(slots.item)
    if item is None:
        return Answer(wording.nothing_known(slots.item))
    lows = monthly_lows(desk.books, slots.item, since(desk.today, RECENT_LOW_MONTHS))
    newest = recent(desk.books, slots.item, _MOST_NEWEST)
    return Answer(wording.history_answer(item, lows[-_MOST_MONTHS:], newest, (desk.settings, desk.today)))


KIND = Kind("ask_history", FORMS, answer, TEACH)
