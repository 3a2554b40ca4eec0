"""``have``: someone reports units already in stock, given to the group, or counted again."""

from __future__ import annotations

from bot.reading.form import Form, Need
from bot.reading.kind import Kind
from bot.reading.offers import Choice
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.household import KIN
from bot.skills.judging import unknown_item
from bot.skills.stock import wording
from bot.skills.stock.have_said import Have, How, counted, given, had, kept, lying
from bot.skills.stock.said import above_nothing
from bot.skills.supply import Supply
from core.stock import Move, Why

_LESS = (
    "melted|broke|broken|snapped|ruined|cracked|crushed|lost|lose|minus|less|deduct|subtract|useless|spoiled|spoilt|stolen"
    "|scrap|binned|smashed|soaked|leaked|mouldy|moldy|damaged|torn|ripped|dried|wrecked",
    "write|wrote|written off",
    "bone dry",
    "sat on",
    "whoever|any1|any",
)
"""What says that units are gone rather than there."""
_NO_REPORT = (
    "who|whos|what|whats|how|where|wheres|why|when|which",
    "counted again",
    "donated|donation",
    "do|does|did|has|have|is|are|can|could|should|would|will anyone|anybody|we|you|i|they|there|someone|u",
    "if|need|needs|want|wants|wish|wants|must|should|could|would|gonna|until|used",
    "going|goes|go to",
    "have|has|had to",
    "will|ll|shall|might|may|must have|has|get|hold|keep",
    "dropped|gave|handed|passed|brought|swapped|traded|lent|returned|transferred",
    "in|behind|up my|his|her|the hair|nose|ear|ears|mouth|teeth|hand|hands|head",
    "last|previous|past year|season * had|were",
    "dont|doesnt|didnt|not|never|wont have|has|got|keep|know|need|want|think",
    "split|spilled|spilt|exploded|everywhere|melted|lost|broke|broken|snapped|ruined|cracked|crushed|wet|soaked"
    "|useless|missing|stolen|stole|gone|chewed|damaged|mouldy|moldy|dried",
    "is|am|are|im|s buying|bringing|getting|picking",
    "has|have gone",
    "my|his|her|the|their kid|kids|son|daughter|niece|nephew|cat|dog|boss|teacher",
    "each|every|per",
    "left the|on",
    "won|win|heard|children|kids",
    "in my|his|her|our|their day|days|youth|time|childhood|name|dreams|dream",
    "between|among us|them|four|three|two",
    "reserve|record",
    "nobody|noone",
    "mold|mould|mildew|mice|rats|moths|ants|damp|rain got",
    "^is|does|did",
    "are|is hers|theirs|mine",
    "daughters|sons|sisters|brothers|childs|kids room|bed|desk|bag|closet|car",
    f"{KIN} has|have|got|keeps|holds",
    "buy|purchase|purchasing|ordering|order|undertake",
    *_LESS,
)
_PLACES = (
    "closet|cupboard|garage|basement|attic|loft|shed|trunk|car|van|truck|drawer|shelf|shelves|bin|office|hall|hallway|kitchen"
    "|bedroom|cellar|porch|pantry|spare|back|room|cottage|desk|bed|sofa|couch|house|home|place|flat|box|fridge|wardrobe"
)

_LYING = (
    "sitting|sat|sits|sit|standing|stood|stand|stands|stacked|piled|stored|stashed|kept|lying|lie|lies|waiting|hiding|hidden"
    "|tucked|stowed|parked|living|live|lives|remain|remains|remaining|resting|lurking|staying|stay|packed|gathering|boxed"
)
_NOWHERE = (
    "in|on|at|under|inside the|a|an|this|that|each|every|my|our|his|her|their"
    " pack|packet|packets|bag|bags|kit|kits|pouch|pouches|set|list|book|books|app|chat|sheet|budget|sale|offer|shop"
    "|store|aisle|basket|cart|trolley|buggy|poster|pocket|wall|wash|laundry|washer|dryer|dishwasher|catalog|catalogue|website|price|news|paper|world|life|opinion|experience|dream|dreams|head|photo|picture|ad|flyer"
    "|past|future|morning|evening|afternoon|end|moment|game|class|race|film|movie|song|book|story|plan|meantime|spring|summer",
)

_NO_GIFT = (
    "buy * get",
    "gave|given us a|an|the hug|hand|lift|ride|look",
    "a few minutes",
    "up for",
    "feel free",
    "if|unless|hope|wish|until|when",
    "can|could|will|would|did|has|have you|u|they|he|she|somebody|someone|anybody|anyone",
    "who|did|should|must|need|needs|please|pls|borrow|borrowed|lend",
    *_LESS,
    "to sharpen|fix|grade|mark|return|share|borrow",
    "give|hand|send|bring * back",
)

FORMS = (
    Form(
        "have",
        "given in kind",
        above_nothing(given),
        cues=(
            "donated|donates|donation|donating",
            "as a gift|present|donation",
            "a gift|present for|from",
            "gave|given|handed|sent|brought|made|giving us",
            "gave|handed|sent|given me",
            "for free|nothing",
            "free of charge",
            "no charge",
            "wouldnt|didnt * take|want|accept a|any|one cent|penny|money|dime|thing",
            "dropped|drop off",
            "in kind",
        ),
        needs=frozenset((Need.COUNT,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NO_GIFT,
        strange=7,
        apart=True,
    ),
    Form(
        "have",
        "come as a gift",
        above_nothing(given),
        cues=(
            "given|handed|presented|sent|gifted|left * by",
            "given|handed|presented|sent|gifted|left * to us|me",
            "was|were|been|got|being|is|are given|handed|gifted|presented|sent|offered",
            "received|accepted|inherited from|by",
            "^received|inherited",
            "received|gifted|presented|contributed|bequeathed|bestowed|granted",
            "handed|turned|passed|gave|signed over",
            "left|dropped|put|gave|made|has|have|had|sent * for us",
            "has|have|had left|given|brought|handed|made|sent|put * for|to us|me|the",
            "left|dropped|dumped|put|set|placed * on|at|outside|by|in|with|inside my|our|me|us",
            "left|dropped|dumped|put|set|placed * on|at|outside|by the door|doorstep|step|porch|gate|door",
            "somebody|someone|stranger|lady|man|woman|neighbor|neighbour left|dropped|brought|sent|handed * ",
            "with|their|the compliments|compliment",
            "courtesy|compliments|thanks|gift|present of|to|from",
            "a|the|kind|generous gift|present|donation",
            "knitted|sewed|sewn|crocheted|made|baked|found|printed us",
            "pressed|put|placed|left * in|into my|our hands|arms|lap",
            "i|we|ive|weve got|were|was|been given|gifted|handed|sent|presented",
            "we|you|us can|could|may|might|should|to have|keep * them|em|it|those|these",
            "keep|have them|em|it|those|these",
            "theyre|its|all ours",
            "no name|note|card",
            "with|w a note|card|letter",
            "a * note|card|letter saying",
            "didnt|wouldnt|doesnt|dont * want|ask|take|charge * anything|nothing|cent|penny|money|back",
            "wants|want|wanted nothing",
            "for us to use|have|keep|pack",
            "do with them|it|em|those",
            "let|lets us have|keep",
        ),
        needs=frozenset((Need.COUNT, Need.ITEM)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NO_GIFT,
        strange=7,
        apart=True,
    ),
    Form(
        "have",
        "counted again",
        above_nothing(counted),
        cues=(
            "count|counted|counting|recount|recounted|tally|tallied",
            "counted|count again|twice|up|them|em",
            "re counted|count",
            "right|correct|true|real|actual|exact|proper|final|updated|revised|new figure|number|count|total|tally",
            "count|counted|recount|recounted|tally|stocktake|inventory|check * is|was|its|to|out|says|gives|made|at",
            "recounted|recount|counted|counting|count * i|we|its|it|is|are|there|theres|theyre|get|got|have|find|of",
            "its|it|thats|theres actually|really",
            "counted|recounted by|with hand|myself|me|us",
            "just recounted|counted|checked|recount",
            "after|on|upon|by the|a|my|our|another|todays|second count|recount|tally|stocktake|inventory",
            "after|on|upon|by|from|when counting|recounting|checking",
            "has|have|had|been|was|were|are|is counted|recounted",
            "come|comes|came|add|adds|added|work|works|worked|tot|tots|total|totals out|up * at|to",
            "come|comes|came|add|adds|amount|amounts to",
            "checked|counted|count twice|again|myself",
            "i|we make|made it|them|that",
            "by my count|reckoning|tally",
            "isnt|is|are|was|arent|its|not not * but",
            "stocktake|stocktaking|inventory",
        ),
        needs=frozenset((Need.COUNT, Need.ITEM)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(
            "count|counting on|to|from|sheep|down|me|you|yourself|him|her",
            "off our|the count",
            "who|how|what|can|could|should|please|lets|will|someone|somebody|to|must count|recount",
            "thread|word|head|carb|step count",
            "lost count",
            "counting calories|carbs|steps|blessings",
            *_LESS,
        ),
        strange=4,
        lists=True,
        apart=True,
    ),
    Form(
        "have",
        "already there",
        above_nothing(had),
        cues=(
            "i|we|ive|weve|im have|own|got|hold|holding|keep|keeping|store|storing|found",
            "ive|weve",
            "i|we still|also|now have|got|hold",
            "has|have|got|holds|holding|keeps|keeping|stores|storing",
            "still|also|now has|have|got|holds",
            "there are|is|were|re|s",
            "theres|therere|there",
            "at|over|back my|his|her|our|the " + _PLACES,
            "in|under|on|inside|behind|at my|the|our|his|her|their|a * " + _PLACES,
            "in|under|behind * " + _PLACES,
            "back|trunk|boot of my|the|his|her car|van|truck",
            "^my|our stock|stash|pile",
            "^my|our " + _PLACES + " :|-|=|has|holds",
            "at mine|home|my|his|hers",
            "here",
            "in stock",
            "at|with *",
            "another|plus",
            "left over|in",
            "leftover",
            "only|just * left|remaining|here",
            "remaining",
            "down to",
            "^holding|keeping|storing|sitting|hanging|stashing",
            "sitting|holding|hanging|hold on to|onto",
            "sitting * on",
            "has|have|keep|keeps|hold|holds * with|about him|her|them|me|us",
            "on|to|in|at hand",
            "turned|turn|turns|popped|showed|come|came|fell up|out|across|to * behind|in|under|at|on|light",
            "turned|popped|showed|cropped up",
            "came|come to light",
            "came|come|stumbled across|upon|on",
            "unearthed|discovered|located|rediscovered|uncovered",
            "dug|fished|pulled out|up|from",
            "holding|keeping|storing|minding|hold|holds|keeps|stores|minds * for us|me|the",
            "is|are|am holding|keeping|storing|minding * for us|me|the",
            "by|with me|us is|are|i|we|there|lie|lies",
            "is|are|still|now with|by me|us",
            "i|we|they do have",
            "in|under my|our possession|care|custody|keeping",
            _LYING + " * in|under|on|at|behind|inside|beside|beneath|underneath|above|by|near|next|with|here",
            "are|is|were|was|got|have|just|still " + _LYING,
        ),
        needs=frozenset((Need.COUNT, Need.ITEM)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NO_REPORT,
        strange=2,
    ),
    Form(
        "have",
        "kept by somebody",
        above_nothing(kept),
        cues=("has|have|got|hold|holds|holding|keep|keeps|keeping|store|stores|storing",),
        needs=frozenset((Need.COUNT, Need.ITEM)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NO_REPORT,
        strange=6,
    ),
    Form(
        "have",
        "lies somewhere",
        above_nothing(lying),
        cues=(
            "in|under|on|inside|behind|beneath|underneath|above|beside my|our|his|her|their|the|a|an",
            "up|down|out in|under|on|at|behind the|a",
        ),
        needs=frozenset((Need.COUNT, Need.ITEM)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(*_NO_REPORT, *_NOWHERE),
        strange=2,
    ),
    Form(
        "have",
        "that is what is there",
        above_nothing(had),
        cues=(
            "thats|thatll|that|this|heres * what|all i|we|ive|weve|is|in|at|under|on|there|theres",
            "thats|that|this whats|what * in|at|under|on|left|here",
        ),
        needs=frozenset((Need.COUNT, Need.ITEM)),
        lacks=frozenset((Need.AMOUNT,)),
        never=("need|needs|want|wants|buy|bought|should|could|would|will|if|per|each|every|cost|costs", *_NOWHERE),
        strange=2,
    ),
)
TEACH = (
    ("I have 40 notebooks in my hall closet", "in stock, at your house"),
    ("I count 38 pencils", "puts the books right"),
    ("the school donated 30 washcloths", "in stock, at no cost"),
)


def answer(slots: Have, desk: Desk) -> Answer | Ask:
    """Put the units into the holder's stock; a new count corrects it; ask where both are sensible."""
    holder = slots.holder or desk.speaker
    if ask := unknown_item(slots.item, slots.says(slots.how or How.MORE), desk):
        return ask
    supply = Supply(desk)
    held = supply.held.get(slots.item, {}).get(holder, 0)
    total = supply.stock.get(slots.item, 0)
    if slots.how is How.COUNTED or not slots.count:
        return _recount(slots, desk, held, total)
    if slots.how is None and held > 0:
        return _same_or_more(slots, holder, held)
    why = Why.GIVEN if slots.how is How.GIVEN else Why.HAD
    moved = Move(slots.item, holder, slots.count, why, desk.today, slots.place)
    text = wording.came_in(moved, total + slots.count)
    return Answer(text, (moved,), wording.in_summary(moved))


def _recount(slots: Have, desk: Desk, held: int, total: int) -> Answer:
    holder, difference = slots.holder or desk.speaker, slots.count - held
    text = wording.counted_again(slots.item, slots.count, holder, held, total + difference)
    if not difference:
        return Answer(text)
    moved = Move(slots.item, holder, difference, Why.COUNTED, desk.today, slots.place)
    return Answer(text, (moved,), wording.count_summary(slots.item, slots.count, holder))


def _same_or_more(slots: Have, holder: str, held: int) -> Ask:
    choices = (
        Choice(wording.all_of_them(slots.count), slots.says(How.COUNTED)),
        Choice(wording.more_of_them(slots.count, held), slots.says(How.MORE)),
    )
    return Ask(wording.same_or_more(slots.item, slots.count, holder, held), choices)


KIND = Kind("have", FORMS, answer, TEACH)
