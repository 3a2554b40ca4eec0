"""``removed``: units leave the stock without being packed: lost, broken, used for something else."""

from __future__ import annotations

from bot.reading.form import Form, Need
from bot.reading.kind import Kind
from bot.reading.offers import Choice
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.judging import unknown_item
from bot.skills.stock import wording
from bot.skills.stock.removed_said import GONE, OUTSIDE, STRIKE, Removed, broken, fewer, given, off_books
from bot.skills.stock.said import at_least_one
from bot.skills.supply import Supply
from core.stock import Move, Why

_BOOKED = (
    "count|counts|stock|books|book|list|total|totals|tally|record|records|inventory|numbers|number|sheet|figures|log"
)
_PLACES = "bin|trash|garbage|rubbish|skip|dump|fire|sea|river|lake|drain|mud|puddle"
_NOT_SO = (
    "used|use to",
    "lets|maybe|perhaps|shall|tomorrow|should|if|unless|might|may",
    "who|how|what|did|do|does|has|have|if anyone|anybody|someone|somebody|we|you|i|many|the|that|took",
    "who|could|would|will anyone|anybody|someone|somebody|we|i|many|the|that|took",
    "^did|does|if|who|how|what|when|why",
    "^do you|we|i|they|the|any|anyone",
    "dont|didnt|not|never|havent|wasnt|werent|arent|isnt"
    " * lost|broke|used|throw|broken|remove|bin|scrap|toss|subtract|ruined",
    "have|need|needs|want|wants|going|got|ought|we|i to|can|could|would|will"
    " throw|toss|chuck|bin|use|give|donate|lend|lose|break|scrap|dump|ditch|take",
    "will|ill|well|gonna|must * throw|toss|chuck|bin|use|give|donate|lend|lose|break|scrap|dump|ditch|take",
    "movie|film|museum|artist",
    "no more|less|fewer than",
    "at least|most",
    "last time",
    "found them|it|the|those|these|again",
    "found|turned|came|show|showed * again",
    "each|every kit|kits|pouch|bag|box|sock|of|child|kid|week|month|year|day|term",
    "per",
    "remember|dreamt|dreamed|homework|hw",
    "years|summers|winters|months|year|ages|decades ago|back",
)
_NOT_OURS = (
    "could|would|can|will you|somebody|someone|anyone|we|i|they",
    "throw * in each|every|a|with",
    "lost my|his|her|our|count|track|it",
    "my|his|her own|work|good|old|favourite|favorite",
    "they lost|broke|used|ate|threw",
    "no|not missing",
    "still missing",
    "what|whats|anything|something * missing",
    "missing for|in",
    "each|every",
    "washing|sewing machine",
    "in my day|village|school",
    "find my|his|her|their|your|a|any|anyone",
    "gone|went|go|goes|going|got|been|through through|thru the|my|every",
)
_PACK = "a|an|that|the|one|this box|pack|packet|jar|carton|bag|case|tub|tin"

FORMS = (
    Form(
        "removed",
        "off the books",
        at_least_one(off_books),
        cues=(
            "^" + STRIKE,
            "deduct|deducted|subtract|subtracted|minus|less",
            "cross|crossed|strike|struck|knock|knocked|scratch|scratched|write|wrote|written * off|out",
            "off|from|out our|the|my|this " + _BOOKED,
            "off|from|out of our|the|my|this " + _BOOKED,
            "take|took|taken|taking * off * stock|count|total",
            "take|took|taken|taking * out",
            "take|knock|write|cross|strike|scratch|put them|those|these|em|it|both|that out|off|away",
            "to be struck|written|taken|crossed out|off",
            "lose|drop|cut|knock|take|strike|wipe * off|from|out the|our|my|this " + _BOOKED,
            "down|short|light by",
            "were|im|are|is|now|weve|us down",
            "so|thats|we|were|are|is|be|came|up|turned * less",
            "^take|knock off",
            ": take|knock|minus off",
            "^write off",
            "^remove|removing|removed",
            "please|kindly|pls|plz|can|could|you " + STRIKE + "|cross|knock|take|write",
            "off|from|out stock|inventory",
            "^down",
            "^reduce|lower",
            "reduce|lower|cut * by",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(*_NOT_SO, "down to", "short of|for", "less|fewer than", "much|more|or|no less", "reduce * to"),
        strange=8,
        apart=True,
    ),
    Form(
        "removed",
        "fewer than there should be",
        at_least_one(fewer),
        cues=(
            _PACK + " of * had|held|contained|came|turned|was|is|were|only",
            "so|thats|we|were|are|is|be|came|up|turned * short|less|fewer|down|light",
            "short|less|fewer",
            "down after|since|now|because|thanks|this",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(*_NOT_SO, "down to", "short of|for", "less|fewer than", "much|more|or|no less"),
        strange=8,
        apart=True,
    ),
    Form(
        "removed",
        "gone",
        at_least_one(broken),
        cues=(
            GONE,
            "threw|throw|throwing|thrown * out|away",
            "chuck|binning|toss|ditch|dump",
            "used * for|up|on|at",
            "had to bin|chuck|toss|dump|ditch|scrap|throw",
            "gone :",
            "down the drain|toilet|sink|gutter|well|loo|plughole",
            "used",
            "went|gone|go|got|gotten|been thru|through",
            "went|gone|go|going overboard|missing|walkabout|walkies|astray|mouldy|moldy|hard|solid|dry|off|bad",
            "made|make|ran|run|walked|went|gone|got off|away with",
            "dried|drying|bone|all out|up|dry|dried|bad|broken",
            "fell|come|came|fallen apart|off|overboard",
            "over the fence|side|wall|edge|rail",
            "in|into the " + _PLACES,
            "got wet|soaked|crushed|damaged|squashed|ruined|chewed|rained|run|trodden|stepped|sat",
            "was|were crushed|damaged|squashed|ruined|chewed|stolen|taken",
            "ruined by",
            "had the|their * come|fall|break|snap off|apart|out",
            "not|arent|theyre|no * ours|usable|good any|anymore|now",
            "no good|use",
            "are|is|were|was|those|they|so out",
            "out it|they|she|he goes|go|went",
            "wheels|lids|teeth|caps|handles|blades|bristles * off|missing|broken|gone",
            "with|have|has|had no wheels|lids|teeth|caps|handles|bristles|leads|ink|laces",
            "did|do|does|would|could not make|survive|close|work|write|open|cut|bounce|shut|last",
            "didnt|dont|doesnt|wouldnt|wont|couldnt make|survive|close|work|write|open|cut|bounce|shut|last",
            "cant|cannot|couldnt * find|locate|trace",
            "is|are|was|were|got|get|has|have|been|being " + GONE,
            "of the|our|those|these * " + GONE,
            "thieves|thief|burglars|someone|somebody|mice|rats|moths * took|taken|ate|had|nicked|swiped|stole",
            "blew|blown|washed|floated|flew away|off|into|overboard",
            "spilled|spilt|tipped|poured|knocked * on|over|into",
            "^damage|breakage|breakages|loss|losses|wastage|casualties|theft",
            "damage|breakage|breakages|loss|losses|wastage|casualties :",
            "i|we throw|bin|chuck|toss|dump",
            "wont|not|never be|get|give|come returning|returned|return|back|them|it",
            "can|could not find|locate|trace",
            "not|never|wont|wouldnt|arent|isnt|werent|didnt|havent"
            " getting|get|got|coming|come|came|be|see|seeing|seen * back|again|home",
            "never came|come|returned|returning",
            "passed|past|beyond their|its|the * date|dates|best|expiry",
            "out of date",
            "gone for good",
            "are|is|were|was|have|has|all|now|theyre|its gone",
            "sat|stepped|trod|stood on",
            "ran|drove over",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(*_NOT_SO, *_NOT_OURS, "from the kit|kits"),
        strange=6,
        apart=True,
    ),
    Form(
        "removed",
        "given to others",
        at_least_one(given),
        cues=(
            "gave|given|donated|handed|lent|sent|passed|shipped|dropped|brought|took|taken|went",
            "gave|given|donated|handed|lent|sent|passed|shipped|went * to",
            "to the|a|our|some|another",
            "to|for|at a|the|our|their|his|her * " + OUTSIDE,
            "gave|given|handed|passed|sent|went|gone * away|out",
            "from ours",
        ),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(*_NOT_SO, *_NOT_OURS),
        strange=6,
        apart=True,
    ),
    Form(
        "removed",
        "let others keep",
        at_least_one(broken),
        cues=("let|letting * keep|have|take", "let|letting the|our|a|some * keep|have|take"),
        needs=frozenset((Need.ITEM,)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(*_NOT_SO, "let me|us|you", "to let"),
        strange=5,
        apart=True,
    ),
)
TEACH = (("used 12 pencils for the craft table", "out of stock"),)


def answer(slots: Removed, desk: Desk) -> Answer | Ask:
    """Take the units out of the holder's stock; ask where the books have too few there."""
    holder = slots.holder or desk.speaker
    if ask := unknown_item(slots.item, slots.says(slots.holder), desk):
        return ask
    supply = Supply(desk)
    held = supply.held.get(slots.item, {})
    there = max(0, held.get(holder, 0))
    if there < slots.count and not desk.sure:
        return _too_few(slots, holder, held)
    found = max(0, slots.count - there)
    records = [Move(slots.item, holder, -slots.count, Why.REMOVED, desk.today)]
    if found:
        records.insert(0, Move(slots.item, holder, found, Why.COUNTED, desk.today))
    text = wording.went_out(records[-1], supply.stock.get(slots.item, 0) + found - slots.count)
    return Answer(text, tuple(records), wording.out_summary(slots.item, slots.count, holder))


def _too_few(slots: Removed, holder: str, held: dict[str, int]) -> Ask:
    """The question whose they were, or whether the books had missed them."""
    others = [name for name, units in held.items() if name != holder and units >= slots.count]
    choices = [Choice(wording.take_from(name), slots.says(name)) for name in others]
    choices.append(Choice(wording.RECORD_ANYWAY, slots.says(holder), sure=True))
    there = max(0, held.get(holder, 0))
    return Ask(wording.too_few(slots.item, slots.count, holder, there, bool(others)), tuple(choices))


KIND = Kind("removed", FORMS, answer, TEACH)
