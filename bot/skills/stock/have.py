"""``have``: someone reports units already in stock, given to the group, or counted again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from bot.reading.form import Form, Heard, Need
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.offers import Choice, Frame, Unclear
from bot.reading.packs import Loose
from bot.reading.words import Sort
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.judging import unknown_item
from bot.skills.stock import wording
from bot.skills.stock.said import ME, Counted, Who, counted_in, people_in
from bot.skills.supply import Supply
from core.counts import Quantity
from core.money import Currency
from core.stock import Move, Why


class How(StrEnum):
    """How units came to be known of, where they were not simply there."""

    COUNTED = "counted"
    GIVEN = "given"
    MORE = "more"


@dataclass(frozen=True, slots=True)
class Have:
    """So many units of an item at somebody's house; no holder is the speaker."""

    item: str
    count: int
    holder: str | None = None
    place: str | None = None
    how: How | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``have``."""
        del currency
        slots = {"item": self.item, "count": self.count, "holder": self.holder, "place": self.place, "how": self.how}
        return {name: value for name, value in slots.items() if value is not None}

    def says(self, how: How) -> str:
        """The same report as a message that says how it is meant."""
        return _frame(self.holder, self.place, how).says(f"{self.count} {self.item}")


def _frame(holder: str | None, place: str | None, how: How | None) -> Frame:
    whose = f" at {holder}'s" if holder else ""
    lies = f" in {'their' if holder else 'my'} {place}" if place else ""
    if how is How.COUNTED:
        return Frame("counted again: ", whose + lies)
    if how is How.GIVEN:
        return Frame("donated to us: ", whose + lies)
    more = " more, also" if how is How.MORE else ""
    return Frame(f"{holder} has " if holder else "I have ", more + lies)


def _had(heard: Heard) -> Sequence[Have | Unclear]:
    """What lies where; nothing where it is asked, or where a shop is named: that is a purchase."""
    if "?" in heard.marked.text_at(heard.reach[1]) or named(heard.marked, heard.reach, NameSort.STORE):
        return []
    return _reports(heard, How.MORE if set(heard.said) & _MORE else None)


def _counted(heard: Heard) -> Sequence[Have | Unclear]:
    return [] if "?" in heard.marked.text_at(heard.reach[1]) else _reports(heard, How.COUNTED)


def _given(heard: Heard) -> Sequence[Have | Unclear]:
    """Gifts from outside; what a member gives only changes hands."""
    if "?" in heard.marked.text_at(heard.reach[1]) or _handed_over(heard):
        return []
    givers = [who for who in people_in(heard) if not who.owns and (who.name != ME or _is_subject(heard, who))]
    if givers and givers[0].at < min((one.start for one in counted_in(heard, unknown=True)), default=0):
        return []
    return _reports(heard, How.GIVEN)


def _handed_over(heard: Heard) -> bool:
    """ "Dropped off 40 pencils at Amara's": the speaker has given them to a member."""
    opening = {heard.marked.text_at(index) for index in range(heard.reach[0], heard.reach[0] + 2)}
    return bool(opening & _HANDED) and any(who.name != ME for who in people_in(heard))


_HANDED = frozenset("dropped dropping gave handed brought sent drove left".split())


def _is_subject(heard: Heard, who: Who) -> bool:
    return heard.marked.text_at(who.at) in ("i", "ive", "ill")


def _reports(heard: Heard, how: How | None) -> list[Have | Unclear]:
    found: list[Have | Unclear] = []
    unknown = how is How.GIVEN or (how is not How.COUNTED and _says_have(heard))
    things = _with_loose_ends(heard, counted_in(heard, unknown) or _of_before(heard))
    for place, thing in enumerate(things):
        if thing.count is None:
            continue
        until = things[place + 1].start if place + 1 < len(things) else heard.reach[1]
        holder, lies = _holder(heard, thing, until), _place(heard, thing.end, until)
        unsure = thing.unsure(_frame(holder, lies, how))
        found.append(unsure or Have(thing.item, thing.units or 0, holder, lies, how))
    return found


def _says_have(heard: Heard) -> bool:
    """Whether "have" stands right before a count, so that even an unknown thing is one in stock."""
    return any(
        heard.marked.text_at(span.start - 1) in _HAVE
        for sort in (Loose, Quantity)
        for span in heard.marked.each(sort, *heard.reach)
    )


_HAVE = frozenset("have got ive weve has hold holds".split())


def _of_before(heard: Heard) -> list[Counted]:
    """A lone count of the only thing said before: "nan made us socks! 8 pairs, for free"."""
    before = counted_in(Heard(heard.marked, (0, heard.reach[0]), (), heard.speaker))
    counts = heard.marked.each(Loose, *heard.reach)
    if len({thing.item for thing in before}) != 1 or len(counts) != 1 or before[-1].count:
        return []
    return [Counted(before[-1].item, counts[0].value, counts[0].start, counts[0].end)]


def _with_loose_ends(heard: Heard, things: list[Counted]) -> list[Counted]:
    """A count without a thing, before a house, counts the thing before: "14 combs here, 9 at Amara's"."""
    found = list(things)
    for count in heard.marked.each(Loose, *heard.reach):
        before = [thing for thing in things if thing.end <= count.start]
        used = any(thing.count is count.value for thing in things)
        if before and not used and heard.marked.text_at(count.end) in ("at", "with"):
            found.append(Counted(before[-1].item, count.value, count.start, count.end))
    return sorted(found, key=lambda thing: thing.start)


def _holder(heard: Heard, thing: Counted, until: int) -> str | None:
    """Who holds a thing: whoever is named behind it, up to the next one, else whoever the sentence is about."""
    people = people_in(heard)
    behind = [who for who in people if thing.end <= who.at < until and heard.marked.text_at(who.at - 1) in _AT]
    before = [who for who in people if who.at < thing.start and not (who.owns and who.name == ME)]
    who = behind[0] if behind else before[0] if before else None
    return who.name if who and who.name != ME else None


def _place(heard: Heard, start: int, until: int) -> str | None:
    """Where a thing lies: the words behind "in", "under" or "at", as written, without whose it is."""
    marked = heard.marked
    leads = [index for index in range(start, until) if marked.text_at(index) in _LEADS]
    if not leads or "by" in (marked.text_at(index) for index in range(start, leads[0])):
        return None
    owners = {who.at for who in people_in(heard) if who.owns}
    first = leads[0] + 1
    while marked.text_at(first) in _NO_PLACE | _LEADS or first in owners:
        first += 1
    last = first
    while last < until and marked.tokens[last].sort is Sort.WORD and marked.text_at(last) not in _PLACE_ENDS:
        last += 1
    names = named(marked, (first, max(last, first + 1)), NameSort.MEMBER)
    if last == first or names or last - first > _LONGEST_PLACE or marked.text_at(first) in _AT_HOME:
        return None
    return marked.said(first, last).lower()


_LONGEST_PLACE = 4
_AT_HOME = frozenset("home place house flat apartment".split())
"""Words that say no more than whose house it is."""
_AT = frozenset("at with to by in under behind on".split())
_LEADS = frozenset("in under on at behind inside".split())
_NO_PLACE = frozenset("my the our his her their a mine it all stock me case now hand here fact".split())
_PLACE_ENDS = frozenset("and but for so if that which they we i is are from still already again now too also".split())
_MORE = frozenset("more another additional extra also".split())

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
)
_PLACES = (
    "closet|cupboard|garage|basement|attic|loft|shed|trunk|car|van|truck|drawer|shelf|shelves|bin|office|hall|hallway|kitchen"
    "|bedroom|cellar|porch|pantry|spare|back|room|cottage|desk|bed|sofa|couch|house|home|place|flat|box|fridge|wardrobe"
)

FORMS = (
    Form(
        "have",
        "given in kind",
        _given,
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
        never=(
            "buy * get",
            "gave|given us a|an|the hug|hand|lift|ride|look",
            "a few minutes",
            "up for",
            "feel free",
            "if|unless|hope|wish|until|when",
            "can|could|will|would|did|has|have you|u|they|he|she|somebody|someone|anybody|anyone",
        ),
        strange=7,
        apart=True,
    ),
    Form(
        "have",
        "counted again",
        _counted,
        cues=(
            "count|counted|counting|recount|recounted|tally|tallied",
            "counted|count again|twice|up|them|em",
            "re counted|count",
            "right|correct|true figure|number|count|total",
        ),
        needs=frozenset((Need.COUNT, Need.ITEM)),
        lacks=frozenset((Need.AMOUNT,)),
        never=(
            "count|counting on|sheep|down|me|you|yourself|him|her",
            "off our|the count",
            "who|how|what|can|could|should|please|lets|will|someone|somebody|to|must count|recount",
            "thread|word|head|carb|step count",
            "lost count",
            "counting calories|carbs|steps|blessings",
        ),
        strange=4,
        lists=True,
        apart=True,
    ),
    Form(
        "have",
        "already there",
        _had,
        cues=(
            "i|we|ive|weve|im have|got|hold|holding|keep|keeping|store|storing|found",
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
            "at mine|home|my|his|hers",
            "here",
            "in stock",
            "at|with *",
            "another|plus",
            "left over|in",
        ),
        needs=frozenset((Need.COUNT, Need.ITEM)),
        lacks=frozenset((Need.AMOUNT,)),
        never=_NO_REPORT,
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
