"""What a message says of units that lie somewhere, are given, or are counted again: slots, no books."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.offers import Frame, Unclear
from bot.reading.packs import Loose
from bot.reading.words import Sort
from bot.skills.stock.people import ME, Who, changes_hands, people_in
from bot.skills.stock.said import Counted, counted_in, kits_in, said_before, with_lone_count
from core.counts import Quantity
from core.money import Currency


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
        return frame_of(self.holder, self.place, how).says(f"{self.count} {self.item}")


def frame_of(holder: str | None, place: str | None, how: How | None) -> Frame:
    whose = f" at {holder}'s" if holder else ""
    lies = f" in {'their' if holder else 'my'} {place}" if place else ""
    if how is How.COUNTED:
        return Frame("counted again: ", whose + lies)
    if how is How.GIVEN:
        return Frame("donated to us: ", whose + lies)
    more = " more, also" if how is How.MORE else ""
    return Frame(f"{holder} has " if holder else "I have ", more + lies)


def had(heard: Heard) -> Sequence[Have | Unclear]:
    """What lies where; nothing where it is asked, or where a shop is named: that is a purchase."""
    if heard.asked or named(heard.marked, heard.reach, NameSort.STORE):
        return []
    if set(heard.said) & _COUNTING or changes_hands(heard) or _goes_into_kit(heard):
        return []
    if _corrected(heard):
        return _reports(heard, How.COUNTED)
    return _reports(heard, How.MORE if set(heard.said) & _MORE else None)


def _corrected(heard: Heard) -> bool:
    """ "There are 47 pens, not 50": the number that the books have is put right."""
    counts = heard.marked.each(Loose, *heard.reach)
    return len(counts) > 1 and any(heard.marked.text_at(count.start - 1) == "not" for count in counts)


_COUNTING = frozenset("counted recounted counting recounting recount".split())


def _goes_into_kit(heard: Heard) -> bool:
    """ "2 combs in the wash bag": what a kit holds is no stock."""
    before = {heard.marked.text_at(kit.start - ago) for kit in kits_in(heard) for ago in (1, 2)}
    return bool(before & {"in", "into", "inside", "per", "each"})


def lying(heard: Heard) -> Sequence[Have | Unclear]:
    """What lies at a place that nothing but "in the ..." tells of; nothing where a kit is spoken of."""
    return [] if kits_in(heard) else had(heard)


def kept(heard: Heard) -> Sequence[Have | Unclear]:
    """What somebody has, said outright at the start: "Tobias keeps 26 combs in his hall", whatever follows."""
    marked, things = heard.marked, counted_in(heard)
    verb = next((index for index in range(*heard.reach) if marked.text_at(index) in _KEEPS), heard.reach[1])
    people = [who for who in people_in(heard) if who.at <= verb]
    plain = things and things[0].count and verb < things[0].start and verb - heard.reach[0] <= _OPENING
    told = plain and people and verb - people[-1].end < _OPENING and _counts_right_behind(heard, verb)
    return had(heard) if told else []


def _counts_right_behind(heard: Heard, verb: int) -> bool:
    """Whether a count stands behind a verb, with hardly a word between."""
    starts = {span.start for sort in (Loose, Quantity) for span in heard.marked.each(sort, *heard.reach)}
    return bool(starts & set(range(verb + 1, verb + 4)))


_OPENING = 4
_KEEPS = frozenset("have has got hold holds holding keep keeps keeping store stores storing".split())


def counted(heard: Heard) -> Sequence[Have | Unclear]:
    """What a count came to; nothing where it is asked."""
    return [] if heard.asked else _reports(heard, How.COUNTED)


def given(heard: Heard) -> Sequence[Have | Unclear]:
    """Gifts from outside; what a member gives only changes hands."""
    if heard.asked or _handed_over(heard) or _from_member(heard) or not_real(heard):
        return []
    known = [who for who in people_in(heard) if not who.owns and (who.name != ME or _is_subject(heard, who))]
    givers = [who for who in known if not _receives(heard, who)]
    if givers and givers[0].at < min((one.start for one in counted_in(heard, unknown=True)), default=0):
        return []
    return _reports(heard, How.GIVEN)


def _receives(heard: Heard, who: Who) -> bool:
    """Whether somebody is given things: "Tobias was given 12 combs"."""
    words = [heard.marked.text_at(index) for index in range(who.at, who.end + 3)]
    return bool(_RECEIVING & set(words)) or (words[0] == "ive" and "given" in words)


_RECEIVING = frozenset("was were been got received accepted inherited".split())


def not_real(heard: Heard) -> bool:
    """Whether the whole message is of a dream, a story or a sum at school."""
    return any(token.text in _UNREAL for token in heard.marked.tokens)


_UNREAL = frozenset("dreamt dreamed dream nightmare imagine riddle homework hw maths exam pretend movie novel".split())


def _handed_over(heard: Heard) -> bool:
    """ "Dropped off 40 pencils at Amara's": the speaker has given them to a member."""
    opening = {heard.marked.text_at(index) for index in range(heard.reach[0], heard.reach[0] + 2)}
    return bool(opening & _HANDED) and any(who.name != ME for who in people_in(heard))


_HANDED = frozenset("dropped dropping gave handed brought sent drove left".split())


def _from_member(heard: Heard) -> bool:
    return any(who.name != ME and heard.marked.text_at(who.at - 1) in ("from", "off") for who in people_in(heard))


def _is_subject(heard: Heard, who: Who) -> bool:
    return heard.marked.text_at(who.at) in ("i", "ive", "ill")


def _reports(heard: Heard, how: How | None) -> list[Have | Unclear]:
    found: list[Have | Unclear] = []
    unknown = how is How.GIVEN or (how is not How.COUNTED and _says_have(heard))
    things = _with_loose_ends(heard, with_lone_count(heard, counted_in(heard, unknown)) or _of_before(heard))
    if how is not How.GIVEN and not_real(heard):
        return []
    for thing, (holder, lies) in zip(things, _wheres(heard, things, how), strict=True):
        if thing.count is None:
            continue
        unsure = thing.unsure(frame_of(holder, lies, how))
        found.append(unsure or Have(thing.item, thing.units or 0, holder, lies, how))
    return found


def _wheres(heard: Heard, things: Sequence[Counted], how: How | None) -> list[tuple[str | None, str | None]]:
    """Who holds each thing and where it lies; what stands at the end of a list goes for all of it."""
    untils = [*(thing.start for thing in things), heard.reach[1]][1:]
    found = [
        (_holder(heard, thing, until, how), _place(heard, thing.end, until, how))
        for thing, until in zip(things, untils, strict=True)
    ]
    for number in reversed(range(len(found) - 1)):
        if _goes_on(heard, things[number], things[number + 1]):
            found[number] = found[number + 1]
    head = things[0].start - 1 if things else 0
    headed = next((index for index in range(heard.reach[0], head + 1) if heard.marked.text_at(index) == ":"), None)
    first = _place(heard, heard.reach[0], headed, how) if headed else None
    return [(holder, place or first) for holder, place in found]


def _goes_on(heard: Heard, thing: Counted, other: Counted) -> bool:
    """Whether two things are of one list: nothing but joints stands between them."""
    between = (heard.marked.text_at(index) for index in range(thing.end, other.start) if _is_free(heard, index))
    return thing.item != other.item and _JOINTS.issuperset(between)


def _is_free(heard: Heard, index: int) -> bool:
    return heard.marked.is_sort(index, Sort.WORD)


_JOINTS = frozenset("and n plus also of about some the around roughly maybe then with".split())


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
    before = counted_in(said_before(heard))
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


def _holder(heard: Heard, thing: Counted, until: int, how: How | None) -> str | None:
    """Who holds a thing: whoever is named behind it, up to the next one, else whoever the sentence is about."""
    people = people_in(heard)
    behind = [who for who in people if thing.end <= who.at < until and heard.marked.text_at(who.at - 1) in _AT]
    before = [who for who in people if who.at < thing.start and not (who.owns and who.name == ME)]
    if how is How.GIVEN:
        before = [who for who in before if _receives(heard, who)]
    having = [who for who in before if heard.marked.text_at(who.end) in _KEEPS]
    who = next(iter([*behind[:1], *having[-1:], *before[:1]]), None)
    return who.name if who and who.name != ME else None


def _place(heard: Heard, start: int, until: int, how: How | None) -> str | None:
    """Where a thing lies: the words behind "in", "under" or "at", as written, without whose it is.

    A gift lies in "my hall"; "in the hall" is where it was given.
    """
    marked = heard.marked
    leads = [index for index in range(start, until) if marked.text_at(index) in _LEADS]
    if not leads or "by" in (marked.text_at(index) for index in range(start, leads[0])):
        return None
    owners = {who.at for who in people_in(heard) if who.owns}
    first = leads[0] + 1
    if how is How.GIVEN and marked.text_at(first) not in _OURS and first not in owners:
        return None
    while marked.text_at(first) in _NO_PLACE | _LEADS or first in owners:
        first += 1
    last = first
    while last < until and marked.tokens[last].sort is Sort.WORD and marked.text_at(last) not in _PLACE_ENDS:
        last += 1
    names = named(marked, (first, max(last, first + 1)), NameSort.MEMBER)
    if last == first or names or last - first > _LONGEST_PLACE or marked.text_at(first) in _AT_HOME:
        return None
    return marked.said(first, last).lower()


_OURS = frozenset(("my", "our", "his", "her"))
_LONGEST_PLACE = 4
_AT_HOME = frozenset("hers home place house flat apartment counting recounting recount".split())
"""Words that say no more than whose house it is, or how it was counted."""
_AT = frozenset("at with to by in under behind on".split())
_LEADS = frozenset("in under on at behind inside beneath beside above underneath".split())
_NO_PLACE = frozenset("my the our his her their a mine it all stock me case now hand here fact".split())
_PLACE_ENDS = frozenset(
    "and but for so if that which they we i is are from still already again now too also this today tonight yesterday"
    " last as since waiting ready unopened where when because theyre its thank thanks with".split()
)
_MORE = frozenset("more another additional extra also".split())
