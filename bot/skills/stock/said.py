"""What a sentence says of things: which items, how many of each, and which kits."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from bot.reading.form import Heard, Slots
from bot.reading.names import Named, NameSort, named
from bot.reading.offers import Choice, Frame, Unclear
from bot.reading.packs import Loose
from bot.reading.pricing import minus_said
from bot.reading.spans import Found, Marked, Reach
from bot.reading.strangers import counted_strangers, is_talk, item_words, named_as, strange_words
from bot.reading.words import Sort, is_english, singular
from bot.wording.things import plural
from core.counts import MAX_UNITS, SHELF_PACKS, Quantity

SOME = Loose(0, None, False)
"""What "some pencils" counts: nothing that could be told."""
Build = Callable[[Heard], Sequence[Slots | Unclear]]
Count = Found[Quantity] | Found[Loose]
_Thing = tuple[int, int, str]
_BEFORE = 4
"""How many words may stand between a count and the thing behind it: "24 of our old pencils"."""
_BEHIND = 2
"""How many may stand between a thing and the count behind it: "pencils: 24", "pencils are now 24"."""
_BEHIND_A_COLON = 5
_NO_COUNT = frozenset("not age ages aged number grade room by at level".split())


@dataclass(frozen=True, slots=True)
class Counted:
    """A thing of a sentence, and how many of it: ``count`` is what was said, None where nothing was."""

    item: str
    count: Quantity | Loose | None
    start: int
    end: int

    @property
    def units(self) -> int | None:
        """Single units, where one sure number of them was said."""
        if isinstance(self.count, Quantity):
            return self.count.units
        return self.count.units if self.count and self.count.firm and self.count.other is None else None

    def unsure(self, frame: Frame) -> Unclear | None:
        """The question about a count that is none, or not a sure one; ``frame`` are the words around it."""
        things = plural(self.item)
        if self.units is not None:
            return None if 0 <= self.units <= MAX_UNITS else Unclear(f"{self.units:,} {things}? Say the number again")
        if isinstance(self.count, Quantity):
            says = f"{self.count.packs} packs of {{}} {things}"
            sizes = (Choice(f"{size} in each", frame.says(says.format(size))) for size in SHELF_PACKS)
            return Unclear(f"How many {things} are in each pack? Type the number.", tuple(sizes), frame.says(says))
        hole = frame.says(f"{{}} {things}")
        if self.count and self.count.other is not None:
            either = (self.count.units, self.count.other)
            choices = tuple(Choice(str(units), hole.format(units)) for units in either)
            return Unclear(f"{either[0]} or {either[1]} {things}?", choices, hole)
        return Unclear(f"How many {things} is that? Type the number.", (), hole)


def counted_in(heard: Heard, unknown: bool = False) -> list[Counted]:
    """The things named in a stretch, each with the count beside it.

    ``unknown`` takes the words behind a count that belongs to none of the group's items for a thing too.
    """
    marked, reach = heard.marked, heard.reach
    things = [(span.start, span.end, named_as(marked, span)) for span in named(marked, reach, NameSort.ITEM)]
    counts = _counts(marked, reach)
    paired = _paired(marked, reach, things, counts)
    free = [(count.start, count.end) for count in counts if not _used(count, paired)]
    if unknown and (more := counted_strangers(marked, reach, free)):
        strangers = [(*run, item_words(marked, run)) for run in more]
        paired = _paired(marked, reach, sorted([*things, *strangers]), counts)
    return [Counted(thing[2], count or _some(marked, thing), thing[0], thing[1]) for thing, count in paired]


def _some(marked: Marked, thing: _Thing) -> Loose | None:
    """The count of "some pencils" and "a handful of pencils"."""
    before = marked.text_at(thing[0] - 2) if marked.text_at(thing[0] - 1) == "of" else marked.text_at(thing[0] - 1)
    return SOME if before in _VAGUE else None


_VAGUE = frozenset("some handful handfuls plenty lots".split())


def _used(count: Count, paired: Sequence[tuple[_Thing, Quantity | Loose | None]]) -> bool:
    return any(value is count.value for _, value in paired)


def _paired(
    marked: Marked, reach: Reach, things: Sequence[_Thing], counts: Sequence[Count]
) -> list[tuple[_Thing, Quantity | Loose | None]]:
    """Each thing with the count beside it: before it, or behind it where the first thing has none before."""
    behind = bool(things) and _first_is_followed(marked, things, counts)
    found: list[tuple[_Thing, Quantity | Loose | None]] = []
    last = reach[0]
    for place, thing in enumerate(things):
        until = things[place + 1][0] if place + 1 < len(things) else reach[1]
        count = None if behind else _before(marked, counts, thing, last)
        count = count or _after(marked, counts, thing, until, things)
        found.append((thing, count.value if count else None))
        last = max(thing[1], count.end if count else 0)
    return found


def _counts(marked: Marked, reach: Reach) -> list[Count]:
    counts: list[Count] = [*marked.each(Quantity, *reach), *marked.each(Loose, *reach)]
    plain = (count for count in counts if _is_count(marked, count.start) and not _tells_sort(marked, count))
    return _vague_joined(sorted(plain, key=lambda count: count.start))


def _is_count(marked: Marked, start: int) -> bool:
    before = marked.text_at(start - 1)
    return before not in _NO_COUNT or (before == "at" and marked.text_at(start - 2) in _STANDS)


def _tells_sort(marked: Marked, count: Count) -> bool:
    """True where a pack only tells which ones are meant: "those 4pk toothbrushes", "the 10 pack ones"."""
    one_pack = isinstance(count.value, Quantity) and count.value.packs == 1 and count.value.pack_size is not None
    return one_pack and (marked.text_at(count.start - 1) in ("those", "these") or marked.text_at(count.end) == "ones")


_STANDS = frozenset("out stands stand stood is are now still in".split())
"""Words before "at" that make a number behind it a count: "the count came out at 40"."""


def with_lone_count(heard: Heard, things: list[Counted]) -> list[Counted]:
    """The things; where only one is said, and a count apart from it, that is its count: "the combs, all 14"."""
    marked, counts = heard.marked, _counts(heard.marked, heard.reach)
    if len(things) != 1 or things[0].count is not None or len(counts) != 1:
        return things
    count = counts[0]
    strange = set(strange_words(marked, (count.end, min(heard.reach[1], count.end + 1))))
    counts_another = any(marked.text_at(index) not in _PIECES for index in strange)
    if counts_another or marked.text_at(count.start - 1) in _NOT_LONE:
        return things
    return [replace(things[0], count=count.value)]


_NOT_LONE = frozenset("for by on until till after before since every than".split())


def _vague_joined(counts: Sequence[Count]) -> list[Count]:
    """Counts where a vague one right before another makes that vague: "a couple of dozen"."""
    found: list[Count] = []
    for count in counts:
        last = found[-1] if found else None
        if last and last.end == count.start and isinstance(last.value, Loose) and not last.value.firm:
            found[-1] = Found(last.start, count.end, last.value)
        else:
            found.append(count)
    return found


def _first_is_followed(marked: Marked, things: Sequence[_Thing], counts: Sequence[Count]) -> bool:
    """Whether the first thing has its count behind it: "pencils 12, combs 8"."""
    if any(_is_before(marked, count, things[0]) for count in counts):
        return False
    return any(
        count.start >= things[0][1]
        and _is_behind(marked, count, things[0])
        and (_told(marked, count.start - 1) or len(things) < 2 or not _is_before(marked, count, things[1]))
        for count in counts
    )


def _is_before(marked: Marked, count: Count, thing: _Thing) -> bool:
    """Whether a count belongs to the thing behind it: few words between them, and no stop or comma."""
    between = range(count.end, thing[0])
    if count.end > thing[0] or len(between) > _BEFORE:
        return False
    strange = [index for index in strange_words(marked, (count.end, thing[0])) if marked.text_at(index) not in _PIECES]
    return not (any(marked.text_at(index) in _PARTS for index in between) or _tells_more(marked, strange, between))


def _tells_more(marked: Marked, strange: Sequence[int], between: Sequence[int]) -> bool:
    """Whether unexplained words part a count from a thing; a lone word may tell of what sort: "one lonely comb".

    A word that is none may be a slip of "dozen", which would change the count.
    """
    if len(strange) == 1 == len(between) and not is_talk(marked, (strange[0], strange[0] + 1)):
        word = marked.text_at(strange[0])
        return word.endswith("s") or not is_english(word)
    return bool(strange)


_PARTS = frozenset((",", ":", ";", "=", "and", "&", "+", "-", "|", "/"))
_PIECES = frozenset(
    "tube tubes bar bars piece pieces sheet sheets pair pairs pot pots bottle bottles roll rolls packet stick sticks"
    " reel reels tub tubs block blocks cake ream reams length lengths old spare box boxes pack packs packet packets"
    " dried broken cracked bent torn chewed snapped damaged ruined wet".split()
)
"""Words for single things and for packs, "24 tubes of toothpaste", and for what has become of them."""


def _before(marked: Marked, counts: Sequence[Count], thing: _Thing, since: int) -> Count | None:
    near = [count for count in counts if count.start >= since and _is_before(marked, count, thing)]
    return near[-1] if near else None


def _after(
    marked: Marked, counts: Sequence[Count], thing: _Thing, until: int, things: Sequence[_Thing]
) -> Count | None:
    for count in counts:
        if thing[1] <= count.start < until and _is_behind(marked, count, thing):
            follows = next((one for one in things if one[0] >= count.end), None)
            taken = follows is not None and _is_before(marked, count, follows) and count.start - thing[1] > 0
            return None if taken and not _told(marked, count.start - 1) else count
    return None


_OF_THEM = frozenset("em them those".split())


def _told(marked: Marked, index: int) -> bool:
    return marked.text_at(index) in (":", "=", "-", "x")


def _is_behind(marked: Marked, count: Count, thing: _Thing) -> bool:
    between = [marked.text_at(index) for index in range(thing[1], count.start)]
    if between == [","]:
        return bool({marked.text_at(index) for index in range(count.start + 1, count.end + 2)} & _OF_THEM)
    most = _BEHIND_A_COLON if between[-1:] == [":"] else _BEHIND
    return len(between) <= most and not set(between) & {",", "and", ";"}


@dataclass(frozen=True, slots=True)
class KitSaid:
    """A kit named at some tokens; ``rivals`` are all kits it may be, where the words do not tell which."""

    name: str
    start: int
    end: int
    rivals: tuple[str, ...] = ()


def kits_in(heard: Heard) -> list[KitSaid]:
    """The kits named in a stretch, by their whole name or by the last word of it: "14 pouches"."""
    marked, reach = heard.marked, heard.reach
    spans = named(marked, reach, NameSort.KIT)
    found = [KitSaid(span.value.name, span.start, span.end) for span in spans]
    taken = {index for span in marked.each(Named, *reach) for index in range(span.start, span.end)}
    for index in range(*reach):
        if index not in taken and marked.tokens[index].sort is Sort.WORD:
            kits = _called(heard.kits, singular(marked.text_at(index)))
            if kits:
                found.append(KitSaid(kits[0], index, index + 1, kits if len(kits) > 1 else ()))
    return sorted(found, key=lambda kit: kit.start)


def kits_counted(heard: Heard) -> list[tuple[KitSaid, int | None]]:
    """The kits named in a stretch, each with how many of it, where one sure number was said."""
    return [(kit, counted.units) for kit, counted in kits_with_counts(heard)]


def kits_with_counts(heard: Heard) -> list[tuple[KitSaid, Counted]]:
    """The kits named in a stretch, each with its count; "14 pouches" counts pouches, not what is in them."""
    marked, kits = heard.marked, kits_in(heard)
    starts = {kit.start for kit in kits}
    of_items = [thing.count for thing in counted_in(heard) if thing.count]
    free = [count for count in _counts(marked, heard.reach) if not any(count.value is one for one in of_items)]
    counts = _either([_of_kits(count, starts) for count in free], marked)
    things = [(kit.start, kit.end, kit.name) for kit in kits]
    paired = _paired(marked, heard.reach, things, counts)
    return [(kit, Counted(kit.name, count, kit.start, kit.end)) for kit, (_, count) in zip(kits, paired, strict=True)]


def _of_kits(count: Count, starts: set[int]) -> Count:
    """A count of packs whose word is a kit's, as the count of kits that it is."""
    inside = starts & set(range(count.start + 1, count.end))
    if not inside or not isinstance(count.value, Quantity):
        return count
    return Found(count.start, min(inside), Loose(count.value.packs))


def _either(counts: Sequence[Count], marked: Marked) -> list[Count]:
    """Counts where two that are parted by "or" are one that is not sure: "10 or 12 pouches"."""
    found: list[Count] = []
    for count in counts:
        last = found[-1] if found else None
        joined = last is not None and last.end + 1 == count.start and marked.text_at(last.end) in ("or", "to", "-")
        if last and joined and isinstance(last.value, Loose) and isinstance(count.value, Loose):
            found[-1] = Found(last.start, count.end, Loose(last.value.units, count.value.units))
        else:
            found.append(count)
    return found


def _called(kits: Sequence[str], word: str) -> tuple[str, ...]:
    if word == "kit":
        return tuple(kits)
    return tuple(kit for kit in kits if singular(kit.split()[-1].lower()) == word)


def which_kit(kits: Sequence[str], says: Callable[[str], str]) -> Unclear:
    """The question which kit is meant."""
    return Unclear("Which kit?", tuple(Choice(kit, says(kit)) for kit in kits))


def above_nothing(build: Build) -> Build:
    """The same builder, but a count below nothing becomes one sentence that says what is wrong."""

    def checked(heard: Heard) -> Sequence[Slots | Unclear]:
        found = build(heard)
        return [Unclear(_BELOW_NOTHING)] if found and minus_said(heard.marked, heard.reach) else found

    return checked


def at_least_one(build: Build) -> Build:
    """The same builder, but a count of none, or below nothing, becomes one sentence that says what is wrong."""

    above = above_nothing(build)

    def checked(heard: Heard) -> Sequence[Slots | Unclear]:
        found = above(heard)
        return [Unclear(_BELOW_NOTHING)] if any(getattr(one, "count", None) == 0 for one in found) else found

    return checked


_BELOW_NOTHING = "A count must be at least 1. Try: I have 12 combs"


def from_start(heard: Heard) -> Heard:
    """The message up to the end of the stretch."""
    return replace(heard, reach=(0, heard.reach[1]), clauses=())


def said_before(heard: Heard) -> Heard:
    """The message up to the start of the stretch."""
    return replace(heard, reach=(0, heard.reach[0]), clauses=())
