"""What a message says of units that are gone: lost, broken, given to others, off the books; slots, no books."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from bot.reading.form import Heard
from bot.reading.names import Named, NameSort, named
from bot.reading.offers import Frame, Unclear
from bot.reading.packs import Loose
from bot.reading.sizes import Year
from bot.reading.spans import Found, Marked, Reach
from bot.reading.strangers import strange_words
from bot.skills.stock.people import ME, is_told_to_do, other_in, people_in
from bot.skills.stock.said import Counted, counted_in, from_start, kits_in, said_before
from core.counts import Quantity
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Removed:
    """So many units of an item that are gone; no holder is the speaker."""

    item: str
    count: int
    holder: str | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``removed``."""
        del currency
        slots: dict[str, object] = {"item": self.item, "count": self.count}
        return {**slots, "holder": self.holder} if self.holder else slots

    def says(self, holder: str | None) -> str:
        """The same as a message, from somebody's stock."""
        return _frame(holder).says(f"{self.count} {self.item}")


def _frame(holder: str | None) -> Frame:
    return Frame("removed ", f" from {holder}'s" if holder else "")


def off_books(heard: Heard) -> Sequence[Removed | Unclear]:
    """Somebody says that the books are to have fewer: "subtract nine toothbrushes", "that box was 3 short"."""
    if is_told_to_do(heard) or (_is_asked(heard) and not _requested(heard)) or _of_kit(heard):
        return []
    return fewer(heard) or _gone(heard, articles=True)


def fewer(heard: Heard) -> Sequence[Removed | Unclear]:
    """Somebody counts fewer than there should be: "a box of 24 crayons had 21, so that is 3 less"."""
    told = None if _is_asked(heard) else _short(heard)
    return [_one(told, _holder(heard))] if told else []


def broken(heard: Heard) -> Sequence[Removed | Unclear]:
    """Somebody says what has become of them: "3 combs snapped", "a fox made away with three of the ropes"."""
    if is_told_to_do(heard) or _is_asked(heard) or _at_home(heard) or _of_kit(heard) or _is_else(heard):
        return []
    return fewer(heard) or _gone(heard)


def given(heard: Heard) -> Sequence[Removed | Unclear]:
    """Somebody says that they went to others than the group: "gave 12 combs to the shelter"."""
    if is_told_to_do(heard) or _is_asked(heard) or _at_home(heard) or kits_in(heard) or not _to_others(heard):
        return []
    return _gone(heard)


def _gone(heard: Heard, articles: bool = False) -> Sequence[Removed | Unclear]:
    holder = _holder(heard)
    return [_one(_ranged(heard.marked, thing), holder) for thing in _things(heard, articles)]


def _things(heard: Heard, articles: bool) -> list[Counted]:
    """What is gone: counted, as one of a list ("ten combs and a toothbrush"), or what "them" points at."""
    named = [_sort_only(heard.marked, thing) for thing in counted_in(heard)]
    if told := _part_of(heard, named):
        return [told]
    if articles or any(thing.count for thing in named):
        named = [thing if thing.count else _single(heard, thing) for thing in named]
    things = [thing for thing in named if thing.count]
    points = set(heard.said) & _POINTING or heard.said[0] in _GONE_WORDS
    before = said_before(heard)
    if things or not points or other_in(before):
        return things
    told = _part_of(before, counted_in(before))
    return [told] if told else [thing for thing in counted_in(before) if thing.count][-1:]


def _ranged(marked: Marked, thing: Counted) -> Counted:
    """A thing whose count is the end of a range: "10 to 12 pencils"."""
    last = next((span for span in marked.each(Loose) if span.value is thing.count), None)
    if last is None or marked.text_at(last.start - 1) not in ("to", "-", "or", "and"):
        return thing
    first = next((span for span in marked.each(Loose) if span.end == last.start - 1), None)
    if first and marked.text_at(last.start - 1) == "and" and marked.text_at(first.start - 1) != "between":
        return thing
    return replace(thing, count=Loose(first.value.units, last.value.units)) if first else thing


def _sort_only(marked: Marked, thing: Counted) -> Counted:
    """A thing without its count, where a pack only tells which ones are meant: "not happy with the 24 pack crayons"."""
    packs = [span for span in marked.each(Quantity) if span.value is thing.count and span.value.packs == 1]
    sort = any(marked.text_at(span.start - 1) == "the" and span.end == thing.start for span in packs)
    return replace(thing, count=None) if sort else thing


def _single(heard: Heard, thing: Counted) -> Counted:
    """A thing behind "a" as one of it."""
    one = heard.marked.text_at(thing.start - 1) in ("a", "an")
    return Counted(thing.item, Loose(1), thing.start, thing.end) if one else thing


def _part_of(heard: Heard, named: Sequence[Counted]) -> Counted | None:
    """So many of the only thing named, here or before: "of the clippers, three would not close"."""
    things = named or counted_in(said_before(heard))
    of_things = [thing.count for thing in things if thing.count]
    counts = [
        count
        for count in heard.marked.each(Loose, *heard.reach)
        if not any(count.value is one for one in of_things) and _befell(heard.marked, count, bool(of_things))
    ]
    if len(counts) != 1 or len({thing.item for thing in things}) != 1 or kits_in(heard):
        return None
    return Counted(things[-1].item, counts[0].value, counts[0].start, counts[0].end)


def _befell(marked: Marked, count: Found[Loose], of_more: bool) -> bool:
    """Whether a count stands alone, and what befell so many stands behind it; ``of_more`` of a counted thing."""
    behind = [marked.text_at(index) for index in range(count.end, count.end + 3)]
    if of_more:
        return bool({*behind} & _GONE_WORDS) and not any(marked.each(Named, count.end, count.end + 3))
    near = {marked.text_at(count.end - 1), *behind[:2]}
    return bool(near & _HAPPENED) or not strange_words(marked, (count.end, count.end + 1))


def _short(heard: Heard) -> Counted | None:
    """How many are fewer than there should be: "a box of 24 crayons had 21, so that is 3 less"."""
    marked = heard.marked
    items = {thing.item: thing for thing in counted_in(from_start(heard))}
    counts = [span for span in marked.each(Loose, *heard.reach) if _is_short(marked, span, heard.reach)]
    if len(counts) != 1 or len(items) != 1:
        return None
    return Counted(next(iter(items)), counts[0].value, counts[0].start, counts[0].end)


def _is_short(marked: Marked, count: Found[Loose], reach: Reach) -> bool:
    """Whether "short", "fewer" or the like stands behind a count, or behind the thing it counts."""
    until = next((span.end for span in marked.each(Named, count.end, count.end + 2)), count.end)
    word = marked.text_at(until)
    others = len([*marked.each(Loose, *reach), *marked.each(Quantity, *reach)]) > 1
    compared = others or any(marked.text_at(index) in _COMPARED for index in range(*reach))
    if {word, marked.text_at(count.end)} & {"down", "fewer"} or (
        others and marked.text_at(count.start - 1) in ("minus", "less")
    ):
        return True
    return compared and (word in _SHORT or (word == "too" and marked.text_at(until + 1) == "few"))


def _one(thing: Counted, holder: str | None) -> Removed | Unclear:
    return thing.unsure(_frame(holder)) or Removed(thing.item, thing.units or 0, holder)


def _is_asked(heard: Heard) -> bool:
    return heard.asked or heard.said[0] in _ASKING


def _requested(heard: Heard) -> bool:
    """ "Can you take 6 pens off the count?" """
    return any(pair in pairwise(heard.said) for pair in _REQUESTS)


_ASKING = frozenset("is are was did does do has".split())
_REQUESTS = tuple((word, "you") for word in ("can", "could", "would", "will"))


def _of_kit(heard: Heard) -> bool:
    """Whether they leave the list of a kit, or a kit itself, and nothing says that they are spoilt."""
    return bool(kits_in(heard)) and bool({*heard.said} & _TAKING) and not {*heard.said} & _HAPPENED


def _is_else(heard: Heard) -> bool:
    """Whether it is of a shop ("cannot find 24 pencils at Larkmoor"), of what somebody has, or of packing."""
    said = heard.said
    if "find" in said and named(heard.marked, heard.reach, NameSort.STORE):
        return True
    if "with" in said and other_in(heard) and not set(said) & _GONE_WORDS:
        return True  # "Tobias walked off with 12 combs": he has them now
    has = [heard.reach[0] + index + 1 for index, word in enumerate(said) if word in _HAVING]
    if any(heard.marked.each(Loose, at, at + 1) or heard.marked.each(Quantity, at, at + 1) for at in has):
        return not set(said) & _THROWN
    return bool(kits_in(heard)) and bool(set(said) & _OF_KITS) and not set(said) & (_GONE_WORDS - _OF_KITS)


_OF_KITS = frozenset("used missing".split())
_HAVING = frozenset("have ive weve bought got counted received".split())
_THROWN = frozenset("threw throw throwing thrown binned binning bin chucked chucking chuck tossed tossing toss".split())


def _at_home(heard: Heard) -> bool:
    """Whether it is of somebody's own household, and not of what the group has, or of another year."""
    said = heard.said
    if any(heard.marked.each(Year, *heard.reach)):
        return True
    kin = any(_is_kin(said, index) for index in range(len(said)))
    ours = any(before in _OURS and word not in _KIN | _YOUNG for before, word in pairwise([*said, ""]))
    mine = any(heard.marked.text_at(thing.start - 1) == "my" for thing in counted_in(heard))
    return (kin and not ours) or mine


def _is_kin(said: Sequence[str], index: int) -> bool:
    """Whether a word is one of somebody's family; "for the kids" are others'."""
    before = said[index - 1] if index else ""
    young = said[index] in _YOUNG and before in _WHOSE
    served = before == "the" and index > 1 and said[index - 2] in ("for", "to", "with")
    return said[index].removesuffix("s") in _KIN or (young and not served)


def _to_others(heard: Heard) -> bool:
    """Whether a verb of giving is said, and nobody of the group gets them."""
    marked, (start, end) = heard.marked, heard.reach
    verb = next((index for index in range(start, end) if marked.text_at(index) in _GIVING), None)
    if verb is None or any(who.at > verb and who.name != ME for who in people_in(heard)):
        return False
    behind = [marked.text_at(index) for index in range(verb + 1, end)]
    if set(behind[:1]) & {"us", "me"} or any(pair in pairwise(behind) for pair in _TO_US):
        return False
    if set(behind) & {"away", "ours"} or "out" in behind[:6] or behind[:1] == ["them"]:
        return True
    if set(behind[:1]) & _DETERMINERS and set(behind[:5]) & _OUTSIDERS:
        return True
    heads = [behind[at + 1 : at + 4] for at, word in enumerate(behind) if word in ("to", "for", "on")]
    if marked.text_at(verb) in _CARRYING:
        places = [behind[at : at + 6] for at, word in enumerate(behind) if word in ("to", "for", "at")]
        return any(set(place[1:2]) & _DETERMINERS and set(place) & _OUTSIDERS for place in places)
    return any(head[:1] and head[0] in _DETERMINERS and not set(head) & _STORES for head in heads)


_TO_US = (("to", "us"), ("to", "me"), ("to", "our"), ("for", "us"))
_GIVING = frozenset(
    "gave given give donated handed lent sent passed went gone took taken brought dropped shipped".split()
)
_CARRYING = frozenset("took taken brought dropped give".split())
_DETERMINERS = frozenset("a an the this that some another my his her their one two three somebody someone".split())
_STORES = frozenset(
    "hall closet cupboard shed garage attic basement house office storage store shop van unit room table car shelf"
    " box boxes bin drawer loft home place till register count stock".split()
)
"""Places of the group: what goes there is only moved."""


def _holder(heard: Heard) -> str | None:
    """Whose stock they come from, where that is told: "from Tobias's", "Tobias broke 4 combs"."""
    verb = next((index for index in range(*heard.reach) if heard.marked.text_at(index) in _VERBS), heard.reach[0])
    for who in people_in(heard):
        did = who.at < verb and heard.marked.text_at(who.at - 1) not in _BESIDE and heard.marked.text_at(who.end) != ","
        if heard.marked.text_at(who.end) == "and" and heard.marked.text_at(who.end + 1) in ("i", "me"):
            continue
        if who.name != ME and (who.owns or did or heard.marked.text_at(who.at - 1) in ("from", "at")):
            return who.name
    return None


_BESIDE = frozenset("with for to by and".split())
_POINTING = frozenset("them those these it em they both all".split())
GONE = (
    "lost|broke|broken|snapped|cracked|ruined|damaged|smashed|spoiled|spoilt|tossed|chucked|binned|trashed|discarded|scrapped"
    "|removed|dumped|torn|ripped|crushed|chewed|eaten|ate|melted|leaked|mouldy|moldy|faulty|defective|unusable|useless|missing"
    "|stolen|wasted|bust|busted|squashed|stole|soaked|ditched|rusted|rusty|duds|dud|burst|squished|soggy|mildewed"
    "|warped|bent|frayed|stained|scorched|burnt|burned|expired|pinched|nicked|swiped|shattered|splintered|perished|disposed"
    "|kaput|knackered|vanished|disappeared|mangled|trampled|flattened|shredded|drowned|misplaced|mislaid|rotted|rotten|chipped"
    "|leaking|contaminated|destroyed|binning|chucking|tossing|wrecked|jammed|blunt"
)
"""Words one of which says that things are gone."""
_GONE_WORDS = frozenset(GONE.split("|"))
STRIKE = "subtract|deduct|scratch|scrap|bin|strike|dump|ditch|toss|chuck|remove|minus|delete|trash"
OUTSIDE = (
    "shelter|food|foodbank|bank|school|library|charity|clinic|mission|refuge|hospice"
    "|hospital|neighbor|neighbour|nursery|daycare|teacher|class|scouts|shop|fair|family|club"
)
_OUTSIDERS = frozenset(OUTSIDE.split("|"))
_TAKING = frozenset("remove removed removing take took taken taking out off".split())
_HAPPENED = (
    frozenset(
        "went never would did didnt wouldnt wont dont are is were was have had got came dried fell no short".split()
    )
    | _GONE_WORDS
)
_SHORT = frozenset("short less fewer light missing under down gone".split())
_COMPARED = frozenset("only had held turned came contained counted supposed should inside".split())
_KIN = frozenset(
    "cousin son daughter husband wife laundry toddler brother sister mum mom dad roommate hubby nephew niece grandson"
    " granddaughter mother father dryer washer".split()
)
_YOUNG = frozenset("kid kids baby boys girls twins".split())
_WHOSE = frozenset(("", *"my his her their your our the one a some".split()))
_OURS = frozenset("our ours stock count total".split())
_VERBS = frozenset((*_GONE_WORDS, *STRIKE.split("|"), *_GIVING)) | frozenset(
    "threw throw throwing thrown used dried drying fell come came fallen garbage rubbish skip take"
    " taking less good out off write wet".split()
)
"""The words before which stands who did it."""
