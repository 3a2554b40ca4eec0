"""``ask_best``: someone asks where an item is cheapest."""

from __future__ import annotations

from datetime import date

from bot.reading.form import Form, Need, words
from bot.reading.kind import Kind
from bot.skills.answering import Answer, Desk
from bot.skills.prices import wording
from bot.skills.prices.about_item import AboutItem, about_item
from bot.storage.prices import latest_by_store
from core.prices import since

_LATELY = 3
"""Months within which a price counts as one of now."""
_MOST_SHOPS = 6
_LEAST = words(
    "cheapest cheap cheaper least lowest beats beat undercutting undercuts saves save best bargain less expensive"
    " cheaply"
)

FORMS = (
    Form(
        "ask_best",
        "where is it cheapest?",
        about_item,
        cues=(
            "cheapest|lowest|best place|shop|store|spot|price|source",
            "where|wheres should|can|do|could|shall|would|to i|we|you|get|buy * buy|get|find|go|for|stock",
            "where i|we can|should|could buy|get|find",
            "best deal|store|shop|place on|for|to",
            "cheapest",
            "least expensive",
            "best we|weve|you|youve * seen|found|had|got",
            "record|time low|lowest",
            "lowest|best * price|prices",
            "lowest|best|cheapest so far",
            "lowest on|for|?",
            "which|what shop|store do|should|can|shall|could i|we",
            "where * cheap|cheapest|cheaper",
            "least|cheapest|lowest we|weve|anyone|anybody * paid|got|seen|found|had",
            "is it cheaper|better|cheapest to|at|in",
            "or * for|on * less|cheaper|cheapest|whichever",
            "which|what|whose shop|store|place|one * for|on",
            "which of our|the shops|stores",
            "easiest|kindest|gentlest on|to * budget|purse|pocket|wallet",
            "spend|pay as little",
            "cost|costs less at|in",
            "is|are * or * cheaper|best|cheapest",
        ),
        needs=frozenset((Need.THING,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=("ever", "wait|waiting"),
        strange=2,
    ),
    Form(
        "ask_best",
        "a question about the cheapest shop",
        about_item,
        cues=("where|wheres|who|whos|which|what|whats|point|if|any|anywhere|anyone|best|tell|show|name",),
        also=(_LEAST,),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(
            "than they|it|now",
            "ever",
            "wait|waiting",
            "did * any",
            "used|use to",
            "last year|month",
            "whats a|the good|best",
        ),
        strange=2,
    ),
)
TEACH = (("where are crayons cheapest?", "shop by shop"),)


def answer(slots: AboutItem, desk: Desk) -> Answer:
    """Name the shops where the item was cheapest lately; older prices where there are no others."""
    item = desk.group.item(slots.item)
    if item is None:
        return Answer(wording.nothing_known(slots.item))
    found = latest_by_store(desk.books, slots.item, since(desk.today, _LATELY))
    found = found or latest_by_store(desk.books, slots.item, date.min)
    running = [sighting for sighting in found if sighting.holds_on(desk.today)]
    return Answer(wording.best_answer(item, (running or found)[:_MOST_SHOPS], desk.settings, desk.today))


KIND = Kind("ask_best", FORMS, answer, TEACH)
