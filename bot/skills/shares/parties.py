"""Who is to have how much of a case: names, "me", "the rest", "all of us", "3 ways"."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.numbers import number_at
from bot.reading.packs import Loose
from bot.reading.spans import Marked, Reach
from bot.reading.strangers import strange_words
from bot.reading.words import Sort
from core.counts import Quantity

ME = "me"
_MYSELF = frozenset("me myself mine self".split())
_I = frozenset("i ill id im".split())
_PRONOUNS = frozenset("he she him her his hers".split())
_REST = frozenset("rest remainder remaining leftover leftovers extra extras spare spares odd".split())
_LEFT = ("whats left over", "whats left", "what is left over", "what is left", "left over", "the others")
_WITH = frozenset("with w wi".split())
_NO_NAMES = frozenset("split splits splitting share shared divide divided halves please pls ta thx cheers".split())
_JOINTS = frozenset(("and", "n", "&", ",", "+", "an", "with", "plus"))
_LINKS = frozenset(
    "left over for to go goes are am is was takes take taking gets get getting wants want having have has keep keeps"
    " the any all it will would shall can of them units pieces pcs ones = : - the ll like cash".split()
)
_PAYS = frozenset("paid pays bought got purchased ordered covered fronted pd".split())
_WAYS = frozenset("way ways parts".split())
_FRACTIONS = {"thirds": 3, "quarters": 4, "fifths": 5, "halves": 2, "halfsies": 2}
_US = frozenset(("us", "everyone", "everybody"))
_EVERYONE = (
    "all of us|each of us|us all|everyone|everybody|the whole group|all the group|the group|whole team|the lot of us"
    "|all * of us|each * of us|for all|us four|us five|us six|all members|every member"
)


@dataclass(frozen=True, slots=True)
class Party:
    """One who is to have a part: so many units, an equal share (None), or the rest."""

    name: str
    units: int | None = None
    rest: bool = False


@dataclass(frozen=True, slots=True)
class Parties:
    """Who is to have parts, who paid, and the tokens that say so."""

    takers: tuple[Party, ...] = ()
    payer: str | None = None
    ways: int | None = None
    tokens: frozenset[int] = frozenset()

    @property
    def names(self) -> tuple[str, ...]:
        """The takers' names."""
        return tuple(party.name for party in self.takers)


@dataclass(frozen=True, slots=True)
class _Mark:
    """A name, a number or "the rest", where it stands."""

    start: int
    end: int
    name: str | None = None
    units: int | None = None
    weak: bool = False

    @property
    def is_rest(self) -> bool:
        return self.name is None and self.units is None


@dataclass(slots=True)
class _Found:
    """What was found so far in a stretch."""

    heard: Heard
    marks: list[_Mark] = field(default_factory=list)
    tokens: set[int] = field(default_factory=set)
    payer: str | None = None

    @property
    def marked(self) -> Marked:
        return self.heard.marked

    def add(self, mark: _Mark) -> None:
        self.marks.append(mark)
        self.marks.sort(key=lambda one: one.start)
        self.tokens.update(range(mark.start, mark.end))


def parties_in(heard: Heard) -> Parties:
    """The parties named in a stretch; what is shared "with" somebody counts the speaker in, who comes first."""
    found = _Found(heard)
    ways = _ways(found)
    everyone = _everyone(found)
    _names(found)
    _numbers(found)
    takers = _paired(found.marks)
    if not takers and (everyone or (ways and ways == len(heard.members))):
        others = [name for name in heard.members if name != heard.speaker]
        takers = [Party(name) for name in (ME, *others)]
    elif takers and _with_somebody(found) and ME not in [party.name for party in takers]:
        takers = [Party(ME), *takers]
    return Parties(tuple(takers), found.payer, ways, frozenset(found.tokens))


def _with_somebody(found: _Found) -> bool:
    """True where a word such as "with" stands right before somebody."""
    before = (
        found.marked.text_at(mark.start - 1 - (found.marked.text_at(mark.start - 1) == "/"))
        for mark in found.marks
        if mark.name
    )
    return bool(_WITH & set(before))


def _ways(found: _Found) -> int | None:
    """Split 3 ways, in thirds, half and half; the tokens are no counts."""
    marked, (start, end) = found.marked, found.heard.reach
    for index in range(start, end):
        if marked.text_at(index) in _WAYS:
            for at in (index - 1, index - 2):
                number = _number_before(marked, at)
                if number:
                    found.tokens.update(range(at, index + 1))
                    return number
        if marked.text_at(index) in ("in", "into") and marked.text_at(index + 2) in (":", ",", ""):
            number = _number_before(marked, index + 1)
            if number:
                found.tokens.update((index, index + 1))
                return number
        if marked.text_at(index) in _FRACTIONS:
            found.tokens.add(index)
            return _FRACTIONS[marked.text_at(index)]
    return None


def _number_before(marked: Marked, index: int) -> int | None:
    span = next((span for span in marked.each(Loose, index, index + 1)), None)
    if span:
        return span.value.units
    number = number_at(marked, index)
    return number[0].whole if number else None


def _everyone(found: _Found) -> bool:
    marked, (start, end) = found.marked, found.heard.reach
    said = [marked.text_at(index) for index in range(start, end)]
    for phrase in _EVERYONE.split("|"):
        words = phrase.split()
        for at in range(len(said) - len(words) + 1):
            if all(word in ("*", said[at + offset]) for offset, word in enumerate(words)):
                found.tokens.update(range(start + at, start + at + len(words)))
                return True
    return False


def _names(found: _Found) -> None:
    """The members named, the speaker, the payer apart; unknown names where a list has them."""
    heard, marked = found.heard, found.marked
    for span in named(marked, heard.reach, NameSort.MEMBER):
        mark = _Mark(span.start, span.end, span.value.name)
        if found.payer is None and _pays(marked, mark):
            found.payer = mark.name
            found.tokens.update(range(mark.start, mark.end))
        else:
            found.add(replace(mark, name=ME if mark.name == heard.speaker else mark.name))
    for index in range(*heard.reach):
        word = marked.text_at(index)
        if word in _MYSELF:
            found.add(_Mark(index, index + 1, ME))
        elif word in _I:
            found.add(_Mark(index, index + 1, ME, weak=True))
        elif word in _PRONOUNS and found.payer and _stands_alone(marked, index):
            found.add(_Mark(index, index + 1, found.payer))
    for index in strange_words(marked, heard.reach):
        if index not in found.tokens and _in_list(found, index):
            raw = marked.said(index, index + 1)
            found.add(_Mark(index, index + 1, raw[:1].upper() + raw[1:]))


def _pays(marked: Marked, mark: _Mark) -> bool:
    """True where a member is said to have paid: "Ines paid 18 for ...", "paid by Ines"."""
    if marked.text_at(mark.start - 1) == "by" and marked.text_at(mark.start - 2) in _PAYS:
        return True
    at = mark.end
    while marked.text_at(at) in ("s", "is", "the", "one", "who", "has", "already", "just"):
        at += 1
    return marked.text_at(at) in _PAYS


def _stands_alone(marked: Marked, index: int) -> bool:
    after = marked.text_at(index + 1)
    return after in _JOINTS | _LINKS | _MYSELF or not marked.is_sort(index + 1, Sort.WORD)


def _in_list(found: _Found, index: int) -> bool:
    """True for an unknown word in the place of a name: "between me and joanna"."""
    marked = found.marked
    before, after = marked.text_at(index - 1), marked.text_at(index + 1)
    closed = after in _JOINTS | {"", ".", ":", "please", "pls", "equally", "evenly"} or not marked.is_sort(
        index + 1, Sort.WORD
    )
    beside = any(mark.name and not mark.weak and mark.end in (index - 1, index - 2) for mark in found.marks)
    listed = before in ("between", "among", "amongst", "with", "w") or (before in _JOINTS and beside)
    return listed and closed and marked.text_at(index) not in _NO_NAMES


def _numbers(found: _Found) -> None:
    """The units said of a name, and "the rest"; what belongs to the case itself is left alone."""
    marked, reach = found.marked, found.heard.reach
    first = min((mark.start for mark in found.marks if not mark.weak), default=reach[1])
    spans = [(span.start, span.end, span.value.units) for span in marked.each(Loose, *reach)]
    spans += [(span.start, span.end, span.value.units or 0) for span in marked.each(Quantity, *reach)]
    for start, end, units in sorted(spans):
        if start in found.tokens or not units:
            continue
        reaches = _reaches_name(found, end) or (start > first and _follows_name(found, start))
        if reaches and not (start > first and _counts_item(marked, end, reach)) and not _prices(marked, start):
            found.add(_Mark(start, end, units=units))
    index = reach[0]
    while index < reach[1]:
        end = index + (1 if marked.text_at(index) in _REST else _says_left(marked, index))
        if end > index and (_reaches_name(found, end) or _follows_name(found, index)):
            found.add(_Mark(index, end))
        index = max(end, index + 1)
    _drop_weak(found)


def _says_left(marked: Marked, index: int) -> int:
    """How many words of "what is left" stand at a token."""
    for phrase in _LEFT:
        words = phrase.split()
        if all(marked.text_at(index + offset) == word for offset, word in enumerate(words)):
            return len(words)
    return 0


def _reaches_name(found: _Found, index: int) -> bool:
    """True where only linking words stand between a number and a name."""
    while found.marked.text_at(index) in _LINKS:
        index += 1
    return any(mark.start == index and mark.name for mark in found.marks)


def _follows_name(found: _Found, index: int) -> bool:
    """True where only linking words stand between a name and a number behind it."""
    while found.marked.text_at(index - 1) in _LINKS:
        index -= 1
    return any(mark.end == index and mark.name for mark in found.marks)


def _prices(marked: Marked, start: int) -> bool:
    """True for a number that is said to be what it cost."""
    before = marked.text_at(start - 1)
    return before in ("cost", "costs", "was") or (before == "to" and marked.text_at(start - 2) in ("came", "comes"))


def _counts_item(marked: Marked, end: int, reach: Reach) -> bool:
    """True for a count of the case itself: an item stands right behind it."""
    for at in (end, end + 1):
        if named(marked, (at, at + 1), NameSort.ITEM):
            return True
    if marked.text_at(end) in _REST | _JOINTS | _MYSELF or _says_left(marked, end):
        return False
    return marked.is_sort(end, Sort.WORD) and end in strange_words(marked, (end, reach[1]))


def _drop_weak(found: _Found) -> None:
    """Keep an "I" only where a number, the rest or a name is said of it."""
    kept: list[_Mark] = []
    for place, mark in enumerate(found.marks):
        after = found.marks[place + 1] if place + 1 < len(found.marks) else None
        near = after is not None and after.start - mark.end <= 4
        near = near and after is not None and "," not in map(found.marked.text_at, range(mark.end, after.start))
        says = near and after is not None and (after.name is None or _joined(found.marked, mark, after))
        before = found.marks[place - 1] if place else None
        listed = before is not None and before.name is not None and _joined(found.marked, before, mark)
        if not mark.weak or says or listed:
            kept.append(mark)
        else:
            found.tokens.difference_update(range(mark.start, mark.end))
    found.marks[:] = kept


def _joined(marked: Marked, mark: _Mark, after: _Mark) -> bool:
    return after.start == mark.end + 1 and marked.text_at(mark.end) in _JOINTS


def _paired(marks: list[_Mark]) -> list[Party]:
    """The names with their numbers, numbers before names or behind them as the first pair has it."""
    marks = list(marks)
    while marks and marks[-1].is_rest and sum(mark.name is not None for mark in marks) == 0:
        marks.pop()
    number_first = bool(marks) and marks[0].units is not None
    parties: dict[str, Party] = {}
    waiting: _Mark | None = None
    for place, mark in enumerate(marks):
        if mark.name is None:
            waiting = _given(parties, marks, place, number_first)
            continue
        party = parties.get(mark.name, Party(mark.name))
        if waiting is not None:
            party = _with(party, waiting)
            waiting = None
        parties[mark.name] = party
    return list(parties.values())


def _given(parties: dict[str, Party], marks: list[_Mark], place: int, number_first: bool) -> _Mark | None:
    """Give a number or the rest to the name before it, or keep it for the name that follows."""
    mark = marks[place]
    before = marks[place - 1] if place else None
    follows = place + 1 < len(marks) and marks[place + 1].name is not None
    behind = before is not None and before.name is not None
    open_before = behind and before is not None and _is_open(parties[before.name or ""])
    if follows and (number_first or (mark.is_rest and not _last_pair(marks, place)) or not open_before):
        return mark
    if open_before and before is not None and before.name:
        parties[before.name] = _with(parties[before.name], mark)
    return None


def _last_pair(marks: list[_Mark], place: int) -> bool:
    """True where the name behind "the rest" has a number of its own: "Amara the rest, Mei 40"."""
    return place + 2 < len(marks) and marks[place + 2].units is not None


def _is_open(party: Party) -> bool:
    return party.units is None and not party.rest


def _with(party: Party, mark: _Mark) -> Party:
    if mark.is_rest:
        return replace(party, rest=True)
    return replace(party, units=(party.units or 0) + (mark.units or 0))
