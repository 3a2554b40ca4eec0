"""Who is named in a message that shares a case: takers, the speaker, who paid, who is left out, who is new."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bot.reading.names import NameSort, named
from bot.reading.packs import Loose
from bot.reading.spans import Marked
from bot.reading.strangers import strange_words
from bot.reading.words import Sort
from bot.skills.shares.party_marks import (
    JOINTS,
    LINKS,
    LISTS,
    ME,
    MYSELF,
    NOTHING,
    REST,
    Mark,
    Marks,
    counts_item,
    joined,
)

_I = frozenset("i ill id im".split())
_WHOSE = frozenset("my his her our their the".split())
_PRONOUNS = frozenset("he she him her his hers".split())
_DONE = frozenset("bought put got entered paid logged".split())
_NO_NAMES = frozenset("split splits splitting share shared divide divided halves please pls ta thx cheers".split())
_PAYS = frozenset(
    "paid payed paying pays bought purchased ordered covered fronted pd footed buyer payer lent advanced".split()
)
_AFTER_PAYER = frozenset("s is was the one who has already just (".split())
_POCKETS = frozenset("card account tab pocket purse".split())
_LEFT_OUT = frozenset("but except without not excluding bar leave leaving skip minus save besides".split())
_LEFT_OUT_OF_ALL = (("apart", "from"), ("aside", "from"), ("other", "than"))
_OUT = (("is", "out"), ("out",), ("isnt", "in"), ("not", "in"), ("is", "not", "in"))
_TALKS = frozenset("told said says thinks asked saw".split())


def find_names(found: Marks) -> None:
    """The members named, the speaker, the payer apart; unknown names where a list has them."""
    heard, marked = found.heard, found.marked
    out = False
    for span in named(marked, heard.reach, NameSort.MEMBER):
        name = ME if span.value.name == heard.speaker else span.value.name
        mark = Mark(span.start, span.end, name)
        if found.payer is None and _pays(marked, mark):
            found.payer = span.value.name
            found.take(mark.start, mark.end)
        elif _left_out(marked, mark) or (out and found.everyone and marked.text_at(mark.start - 1) in JOINTS):
            found.excluded.add(name)
            found.take(mark.start - 1, mark.end)
            out = True
            continue
        elif not _only_mentioned(found, mark):
            found.add(mark)
        out = False
    _find_speaker(found)
    for index in strange_words(marked, heard.reach):
        if index in found.tokens:
            continue
        found.odd = found.odd or _is_strangers(found, index)
        if _in_list(found, index) or _numbered(found, index):
            raw = marked.said(index, index + 1)
            found.add(Mark(index, index + 1, raw[:1].upper() + raw[1:]))


def _find_speaker(found: Marks) -> None:
    """The speaker, and pronouns that stand for whoever paid."""
    marked = found.marked
    for index in range(*found.heard.reach):
        word = marked.text_at(index)
        listed_out = found.everyone and found.excluded and marked.text_at(index - 1) in JOINTS
        if word in MYSELF and (_behind_left_out(marked, index) or listed_out):
            found.excluded.add(ME)
            found.take(index - 1, index + 1)
        elif word in MYSELF and marked.text_at(index - 1) not in ("tell", "let", "give"):
            found.add(Mark(index, index + 1, ME))
        elif word in _I or (word == "my" and marked.text_at(index - 1) in ("is", "are")):
            found.add(Mark(index, index + 1, ME, weak=True))
        elif word in _PRONOUNS and (_stands_alone(marked, index) or marked.text_at(index + 1) in _PAYS):
            _find_pronoun(found, index)


def _is_strangers(found: Marks, index: int) -> bool:
    """True for somebody who has no name here: "between me and my sister", "the church 20"."""
    marked = found.marked
    if marked.text_at(index - 1) not in _WHOSE or marked.text_at(index) in REST:
        return False
    listed = marked.text_at(index - 2) in LISTS or (marked.text_at(index - 2) in JOINTS and index > 3)
    numbered = any(marked.each(Loose, index + 1, index + 2)) and marked.text_at(index - 2) in (":", ",", "and")
    named_before = any(mark.name and mark.end == index - 2 for mark in found.marks)
    return (marked.text_at(index - 2) in LISTS) or numbered or (listed and named_before)


def _find_pronoun(found: Marks, index: int) -> None:
    """She or he: whoever paid, else the other member named before; who paid, where that is said of them."""
    taken = [mark.name for mark in found.marks if mark.name not in (None, ME) and mark.end <= index]
    name = found.payer or (taken[-1] if taken else None)
    pays = found.marked.text_at(index + 1) in _PAYS or found.marked.text_at(index + 2) in _PAYS
    if found.payer is None and not pays and found.marked.text_at(index - 1) in JOINTS | LISTS:
        name = _other_before(found, index, taken)  # in a list it is somebody not yet in it
    if name is None:
        found.odd = True
    elif pays:
        found.payer = found.payer or name
    else:
        found.add(Mark(index, index + 1, name))


def _other_before(found: Marks, index: int, taken: Sequence[str | None]) -> str | None:
    """The only other member named anywhere before who is not in the list yet."""
    spans = named(found.marked, (0, index), NameSort.MEMBER)
    others = {span.value.name for span in spans} - {*taken, found.heard.speaker}
    return others.pop() if len(others) == 1 else None


def _pays(marked: Marked, mark: Mark) -> bool:
    """True where a member is said to have paid: "Ines paid 18 for ...", "paid by Ines", "on Ines's card"."""
    before, earlier = marked.text_at(mark.start - 1), marked.text_at(mark.start - 2)
    if (before == "by" and earlier in _PAYS) or before == "payer" or (before == "to" and earlier == "charged"):
        return True
    if marked.text_at(mark.end) in _POCKETS or (before == "from" and earlier in ("money", "cash")):
        return True
    if marked.text_at(mark.end) == "put" and _POCKETS & {marked.text_at(mark.end + after) for after in range(2, 6)}:
        return True
    at = mark.end
    while marked.text_at(at) in _AFTER_PAYER:
        at += 1
    if marked.text_at(at) == "got":
        return any(counts_item(marked, span.end) for span in marked.each(Loose, at + 1, at + 5))
    return marked.text_at(at) in _PAYS


def _left_out(marked: Marked, mark: Mark) -> bool:
    """True where a member is to have nothing: "everyone but Tobias", "Tobias is out"."""
    if _behind_left_out(marked, mark.start):
        return True
    for words in _OUT:
        said = all(marked.text_at(mark.end + offset) == word for offset, word in enumerate(words))
        if said and marked.text_at(mark.end + len(words)) != "of":
            return True
    return False


def _behind_left_out(marked: Marked, index: int) -> bool:
    """True right behind "except" and its like."""
    before = marked.text_at(index - 1)
    return before in _LEFT_OUT or (marked.text_at(index - 2), before) in _LEFT_OUT_OF_ALL


def _only_mentioned(found: Marks, mark: Mark) -> bool:
    """True where a member is spoken of or to, and is to have nothing of it."""
    marked, (start, end) = found.marked, found.heard.reach
    if marked.text_at(mark.end) in _TALKS or marked.text_at(mark.start - 1) == "at":
        return True
    first = mark.start
    while first > start and marked.tokens[first - 1].sort is not Sort.STOP:
        first -= 1
    last = mark.end
    while last < end and marked.tokens[last].sort is not Sort.STOP:
        last += 1
    numbers = any(marked.tokens[index].sort is Sort.NUMBER for index in range(first, last))
    return first > start and "?" in marked.text_at(last) and not numbers


def _stands_alone(marked: Marked, index: int) -> bool:
    after = marked.text_at(index + 1)
    return after in JOINTS | LINKS | MYSELF or not marked.is_sort(index + 1, Sort.WORD)


def _in_list(found: Marks, index: int) -> bool:
    """True for an unknown word in the place of a name: "between me and joanna"."""
    marked = found.marked
    before, after = marked.text_at(index - 1), marked.text_at(index + 1)
    ends = after in JOINTS | {"", ".", ":", "please", "pls", "equally", "evenly"}
    closed = ends or not marked.is_sort(index + 1, Sort.WORD)
    beside = any(mark.name and not mark.weak and mark.end in (index - 1, index - 2) for mark in found.marks)
    listed = before in LISTS or (before in JOINTS and beside)
    return listed and closed and _may_be_name(marked, index)


def _numbered(found: Marks, index: int) -> bool:
    """True for an unknown word with a number of its own, behind a name that has one: "me 44 Rosa 100"."""
    marked = found.marked
    after = any(marked.each(Loose, index + 1, index + 2))
    before = marked.text_at(index - 1) == "," or any(span.end == index for span in marked.each(Loose, 0, index))
    before = before or marked.text_at(index - 1) in (":", "and", "n", "&")
    known = any(mark.name and not mark.weak for mark in found.marks)
    return after and before and known and _may_be_name(marked, index)


def _may_be_name(marked: Marked, index: int) -> bool:
    return marked.text_at(index) not in _NO_NAMES | REST | NOTHING


def drop_weak(found: Marks) -> None:
    """Keep an "I" only where a number, the rest or a name is said of it."""
    kept: list[Mark] = []
    for place, mark in enumerate(found.marks):
        after = found.marks[place + 1] if place + 1 < len(found.marks) else None
        before = found.marks[place - 1] if place else None
        if not mark.weak or _is_meant(found.marked, mark, before, after):
            kept.append(replace(mark, weak=False))
        else:
            found.tokens.difference_update(range(mark.start, mark.end))
    found.marks[:] = kept


def _is_meant(marked: Marked, mark: Mark, before: Mark | None, after: Mark | None) -> bool:
    if before is not None and before.name is not None and joined(marked, before, mark):
        return True
    if before is not None and before.is_rest and marked.text_at(mark.start) == "my":
        return True
    between = set(map(marked.text_at, range(mark.end, mark.end + 3)))
    if (
        after is None
        or between & _DONE
        or after.start - mark.end > 4
        or "," in map(marked.text_at, range(mark.end, after.start))
    ):
        return False
    return after.name is None or joined(marked, mark, after)
