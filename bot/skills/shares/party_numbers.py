"""How many units are said of whom, and to whom the rest goes."""

from __future__ import annotations

from bot.reading.each import Each
from bot.reading.packs import Loose
from bot.reading.spans import Marked
from bot.skills.shares.cases import is_box
from bot.skills.shares.party_marks import (
    MYSELF,
    NOTHING,
    REST,
    Mark,
    Marks,
    counts_item,
    follows_name,
    reaches_name,
    says_left,
)
from core.counts import Quantity


def find_numbers(found: Marks) -> None:
    """The units said of a name; what belongs to the case itself is left alone."""
    marked, reach = found.marked, found.heard.reach
    sizes = [span.value.pack_size for span in marked.each(Quantity, *reach) if span.value.pack_size]
    spans = [(span.start, span.end, span.value.units) for span in marked.each(Loose, *reach)]
    for span in marked.each(Quantity, *reach):
        size = span.value.pack_size or (sizes[0] if sizes else None)
        if size:
            spans.append((span.start, span.end, span.value.packs * size))
    counting = [start for start, end, _ in spans if counts_item(marked, end)]
    for start, end, units in sorted(spans):
        if start in found.tokens or _prices(marked, start):
            continue
        found.odd = found.odd or _is_vague(found, start, end) or _goes_on(marked, end)
        behind = follows_name(found, start)
        of_case = counts_item(marked, end) and not (behind and len(counting) > 1 and start != counting[0])
        each = any(span.start == end for span in marked.each(Each, *reach))
        if (behind or each or reaches_name(found, end)) and not of_case:
            found.add(Mark(start, end + each, units=units, each=each))
    found.odd = found.odd or _says_fraction(found) or _mixes_packs(found)
    for pack in marked.each(Quantity, *reach):
        unsized = pack.value.pack_size is None and pack.value.packs > 1 and not sizes
        if unsized and (follows_name(found, pack.start) or reaches_name(found, pack.end)):
            found.odd = True


def _says_fraction(found: Marks) -> bool:
    """True for half a pack, and for half the case beside a number of units: "Mei half, Tobias 20"."""
    marked, reach = found.marked, found.heard.reach
    halves = [index for index in range(*reach) if marked.text_at(index) in _FRACTIONS]
    packs = any(is_box(marked.text_at(at + after)) for at in halves for after in (1, 2))
    return packs or bool(halves and any(mark.units for mark in found.marks))


def _mixes_packs(found: Marks) -> bool:
    """True for "a pack and 10", and for a number smaller than that of another's packs: "Mei 3 packs, me 1"."""
    marked, reach = found.marked, found.heard.reach
    for span in marked.each(Loose, *reach):
        if marked.text_at(span.start - 1) in ("and", "&", "+") and is_box(marked.text_at(span.start - 2)):
            return True
    packs = [span.value.packs for span in marked.each(Quantity, *reach) if span.value.pack_size is None]
    bare = [mark.units for mark in found.marks if mark.units and not is_box(marked.text_at(mark.end - 1))]
    return bool(packs and bare) and min(bare) <= max(packs)


def find_none(found: Marks) -> None:
    """Nothing for a member; and "the same each", which is no price for each."""
    for index in range(*found.heard.reach):
        word = found.marked.text_at(index)
        if word in NOTHING and (follows_name(found, index) or reaches_name(found, index + 1)):
            found.add(Mark(index, index + 1, units=0))
        if word in ("same", "equal") and any(found.marked.each(Each, index + 1, index + 3)):
            found.take(index, index + 3)


def _goes_on(marked: Marked, end: int) -> bool:
    """True for a count that a part follows: "2 and a half packs"."""
    if marked.text_at(end) not in ("and", "&", "+"):
        return False
    return marked.text_at(end + 1) in _FRACTIONS or (marked.text_at(end + 1), marked.text_at(end + 2)) == ("a", "half")


_FRACTIONS = frozenset("half quarter third".split())


def _is_vague(found: Marks, start: int, end: int) -> bool:
    """True for a number said of a name that is no sure count: "40-50", "1/3", "24 less"."""
    loose = next((span.value for span in found.marked.each(Loose, start, start + 1)), None)
    unsure = loose is not None and (loose.other is not None or not loose.firm)
    compared = found.marked.text_at(end) in ("less", "more", "fewer")
    return (unsure or compared) and (follows_name(found, start) or reaches_name(found, end))


def find_rest(found: Marks) -> None:
    """Mark "the rest", "what is left" and their like, where they stand beside a name."""
    start, end = found.heard.reach
    index = start
    while index < end:
        after = index + (1 if found.marked.text_at(index) in REST else says_left(found.marked, index))
        if after > index and (reaches_name(found, after) or follows_name(found, index)):
            found.add(Mark(index, after))
        index = max(after, index + 1)


def _prices(marked: Marked, start: int) -> bool:
    """True for a number that is said to be what it cost."""
    before, earlier = marked.text_at(start - 1), marked.text_at(start - 2)
    if before in MYSELF and earlier in ("paid", "gave", "owes", "gives", "pays"):
        return True
    return before in ("cost", "costs", "was") or (before == "to" and earlier in ("came", "comes"))
