"""The group's own names in a message: plurals, aliases, parts of a shop's name and typing slips resolved."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from rapidfuzz import process
from rapidfuzz.distance import OSA

from bot.reading.occasions import Sales, sales_by_words
from bot.reading.spans import Found, Marked, Reach
from bot.reading.words import COMMON_ENGLISH, Sort, fold, frequency, lexicon, singular, tokens_of
from core.group import Group


class NameSort(StrEnum):
    """What a name of the group names."""

    ITEM = "item"
    STORE = "store"
    MEMBER = "member"
    KIT = "kit"


@dataclass(frozen=True, slots=True)
class Named:
    """A thing of the group; ``rivals`` are others that the same slip, or the same first name, could mean as well."""

    sort: NameSort
    name: str
    rivals: tuple[str, ...] = ()


Stems = tuple[str, ...]
_EVERYDAY = 2000
"""A shop word at least this common, or a slip after "at" at most this common, is taken for what it says."""
_NEAR_LENGTH = 3
_LEADS = frozenset("at @ in from the".split())


@dataclass(frozen=True, slots=True)
class Names:
    """The group's names, indexed by the stems of their words."""

    phrases: dict[str, list[tuple[Stems, Named]]] = field(default_factory=dict)
    vocabulary: dict[str, str] = field(default_factory=dict)
    weak: frozenset[Stems] = frozenset()
    """Parts of shop names that are plain words ("hall"): they need "at" or "the" before them."""
    members: tuple[str, ...] = ()
    kits: tuple[str, ...] = ()
    sales: Sales = field(default_factory=dict)
    """The yearly sales of the group, those switched off as well, by the words for them."""
    collected: dict[str, date] = field(default_factory=dict)
    """By kit, the day on which it is collected, of some year."""


def stem(word: str) -> str:
    """A word as names compare it: folded, in the singular, with the short forms of shop words spelt out."""
    if len(word) == 3 and word.endswith("s"):
        return word[:-1]
    return _SHORT.get(word) or singular(word)


_SPOKEN = (Sort.WORD, Sort.NUMBER)
_SHORT = {"&": "and", "mkt": "market", "mrkt": "market", "str": "store", "colour": "color", "coloured": "colored"}


def names_of(group: Group) -> Names:
    """The index of a group's names."""
    phrases: dict[Stems, Named] = {}
    for item in group.items:
        for words in (item.name, *item.aliases):
            phrases.setdefault(_stems(words), Named(NameSort.ITEM, item.name))
    for kit in group.kits:
        phrases.setdefault(_stems(kit.name), Named(NameSort.KIT, kit.name))
    for member in group.members:
        phrases.setdefault(_stems(member), Named(NameSort.MEMBER, member))
        *first, last = _stems(member)
        phrases.setdefault((*first, last + "s"), Named(NameSort.MEMBER, member))  # Mei's, which is no plural
    _add_namesakes(phrases, group.members)
    weak = _add_stores(phrases, group.stores)
    for stems, named in list(phrases.items()):
        if len(stems) > 1:
            phrases.setdefault(("".join(stems),), named)
    index: dict[str, list[tuple[Stems, Named]]] = {}
    for stems, named in phrases.items():
        index.setdefault(stems[0], []).append((stems, named))
    for entries in index.values():
        entries.sort(key=lambda entry: len(entry[0]), reverse=True)
    vocabulary = {word: word for stems in phrases for word in stems if len(word) > 3 and word.isalpha()}
    return Names(
        index,
        vocabulary,
        weak,
        group.members,
        tuple(kit.name for kit in group.kits),
        sales_by_words(group.window_rules),
        {kit.name: kit.by for kit in group.kits if kit.by},
    )


_ONLY = ("the", "first")
"""Behind a first name that several members have: the one who has no other name."""


def exactly(member: str, others: Iterable[str]) -> str:
    """A member's name as words that mean none of the others, who may have the same first name."""
    shared = any(_stems(other)[0] == _stems(member)[0] for other in others if other != member)
    return " ".join((member, *_ONLY)) if shared and len(_stems(member)) == 1 else member


def _add_namesakes(phrases: dict[Stems, Named], members: Iterable[str]) -> None:
    """A first name that several members have may mean any of them."""
    by_first: dict[str, list[str]] = {}
    for member in members:
        by_first.setdefault(_stems(member)[0], []).append(member)
    for first, (name, *others) in by_first.items():
        shared = Named(NameSort.MEMBER, name, tuple(others))
        for stems in ((first,), (f"{first}s",)):
            if others and phrases.get(stems, shared).sort is NameSort.MEMBER:
                phrases[stems] = shared
        for member in (name, *others):
            if others and len(_stems(member)) == 1:
                phrases[first, *_ONLY] = Named(NameSort.MEMBER, member)


def _stems(words: str) -> Stems:
    tokens = tokens_of(words)
    return tuple(stem(token.text) for token in tokens if token.sort in _SPOKEN or token.text == "&")


def _add_stores(phrases: dict[Stems, Named], stores: Iterable[str]) -> frozenset[Stems]:
    whole = {store: _stems(store) for store in stores}
    for store, stems in whole.items():
        phrases.setdefault(stems, Named(NameSort.STORE, store))
    weak: set[Stems] = set()
    for store, stems in whole.items():
        for part in _parts(stems):
            if part in phrases or any(part in _parts(other) for name, other in whole.items() if name != store):
                continue
            if all(word in lexicon()["filler"] for word in part):
                continue
            phrases[part] = Named(NameSort.STORE, store)
            if len(part) == 1 and frequency(part[0]) >= _EVERYDAY:
                weak.add(part)
    return frozenset(weak)


def _parts(stems: Stems) -> set[Stems]:
    size = len(stems)
    parts = {stems[i:j] for i in range(size) for j in range(i + 1, size + 1) if j - i < size}
    return {part for part in parts if "and" not in (part[0], part[-1])}


def find_names(marked: Marked, names: Names, speaker: str = "") -> None:
    """Mark every name of the group, the longest first at each place; nobody means themselves by a shared first name."""
    spelt, rivals = _spelt(marked, names)
    index = 0
    while index < len(marked.tokens):
        index = _mark_name(marked, names, (spelt, rivals), index)
    for span in named(marked, (0, len(marked.tokens)), NameSort.MEMBER):
        if span.value.rivals and speaker in (span.value.name, *span.value.rivals):
            name, *others = (one for one in (span.value.name, *span.value.rivals) if one != speaker)
            marked.unmark(span)
            marked.mark(span.start, span.end, Named(NameSort.MEMBER, name, tuple(others)))


def named(marked: Marked, reach: Reach, sort: NameSort) -> list[Found[Named]]:
    """The names of one sort marked in a stretch, in reading order."""
    return [span for span in marked.each(Named, *reach) if span.value.sort is sort]


def owns(marked: Marked, span: Found[Named]) -> bool:
    """Whether a name stands as in "Tobias's" (or, where apostrophes are left out, "at tobiass")."""
    last = marked.tokens[span.end - 1]
    written = marked.text[last.start : last.end].lower()
    if marked.text_at(span.end) in _DONE:
        return False
    return written.endswith(("'s", "s'")) or last.text == fold(span.value.name.split()[-1]) + "s"


_DONE = frozenset("got taken had been holding keeping storing given brought left gone collected borrowed".split())
"""Words behind "Mei's" that make it "Mei has" or "Mei is"."""


def _mark_name(marked: Marked, names: Names, spelling: tuple[list[str], dict[int, tuple[str, ...]]], index: int) -> int:
    spelt, rivals = spelling
    joined = _joined(marked, names, index)
    if joined:
        marked.mark(index, index + 2, joined)
        return index + 2
    for stems, named in names.phrases.get(spelt[index], ()):
        end = _match(marked, spelt, index, stems)
        if end is None or (stems in names.weak and not _introduced(marked, index, end)):
            continue
        near = (*named.rivals, *_rival_names(names, named, [rivals[i] for i in range(index, end) if i in rivals]))
        start = index - 1 if named.sort is NameSort.STORE and marked.word(index - 1) == "the" else index
        marked.mark(start, end, Named(named.sort, named.name, near))
        return end
    return index + 1


def _joined(marked: Marked, names: Names, index: int) -> Named | None:
    """The name written as one word in the group and as two here: "face cloth" for facecloth."""
    if not (marked.is_sort(index, Sort.WORD) and marked.is_sort(index + 1, Sort.WORD)):
        return None
    whole = marked.word(index) + stem(marked.word(index + 1))
    found = (named for stems, named in names.phrases.get(whole, ()) if len(stems) == 1)
    return next((named for named in found if named.sort is not NameSort.MEMBER), None)


def _match(marked: Marked, spelt: list[str], index: int, stems: Stems) -> int | None:
    at = index
    for offset, part in enumerate(stems):
        if offset and marked.word(at) == ".":
            at += 1
        if not marked.word(at) or not (spelt[at] == part or (offset and _nearly(marked.word(at), part))):
            return None
        at += 1
    return at


def _nearly(word: str, part: str) -> bool:
    """True where a later word of a name is one letter off, be it an English word: "washable makers"."""
    near = min(len(word), len(part)) >= _NEAR_LENGTH and word[0] == part[0]
    return near and OSA.distance(singular(word), part, score_cutoff=1) <= 1


_FURNITURE = frozenset("closet cupboard cabinet table door shelf shelves drawer kitchen floor fridge desk".split())
"""Behind an everyday word that is part of a shop's name, these make it another place: "the hall closet"."""


def _introduced(marked: Marked, index: int, end: int) -> bool:
    before = marked.word(index - 1)
    if marked.word(end) in _FURNITURE:
        return False
    return before in _LEADS or (before == "" and index == 0 and marked.word(end) == ":")


def _rival_names(names: Names, named: Named, near: list[tuple[str, ...]]) -> Iterator[str]:
    for words in near:
        for word in words:
            for stems, other in names.phrases.get(word, ()):
                if len(stems) == 1 and other.name != named.name and other.sort is named.sort:
                    yield other.name


def _spelt(marked: Marked, names: Names) -> tuple[list[str], dict[int, tuple[str, ...]]]:
    """The stem of each token, slips put right; and, by token, other words a slip could be as well."""
    spelt: list[str] = []
    rivals: dict[int, tuple[str, ...]] = {}
    for index, token in enumerate(marked.tokens):
        word = stem(token.text) if token.sort is Sort.WORD else _SHORT.get(token.text, token.text)
        if token.sort is Sort.WORD and len(token.text) > 3 and word not in names.vocabulary:
            best = nearest(token.text, names, _EVERYDAY if marked.text_at(index - 1) in ("at", "@") else COMMON_ENGLISH)
            if best:
                word = best[0]
                if len(best) > 1:
                    rivals[index] = best[1:]
        spelt.append(word)
    return spelt, rivals


def nearest(word: str, names: Names, common: int = COMMON_ENGLISH) -> tuple[str, ...]:
    """The name words a slip is nearest to, all at the same distance; none for a common English word.

    One letter wrong, missing, doubled or swapped in a word of up to five letters, two in a longer one, the
    first letter being right.
    """
    if max(frequency(word), frequency(singular(word))) >= common:
        return ()
    short = len(singular(word)) <= 5
    hits = process.extract(
        singular(word), names.vocabulary, scorer=OSA.distance, score_cutoff=1 if short else 2, limit=8
    )
    close = [(distance, hit) for hit, distance, _ in hits if hit[0] == word[0]]
    if not close:
        return ()
    least = min(distance for distance, _ in close)
    return tuple(sorted(hit for distance, hit in close if distance == least))
