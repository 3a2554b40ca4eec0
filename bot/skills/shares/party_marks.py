"""What a message says of those who share: names, "me", numbers, "the rest", who paid, who is left out."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from bot.reading.each import Each
from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.numbers import number_at
from bot.reading.packs import Loose
from bot.reading.spans import Marked
from bot.reading.strangers import strange_words
from bot.reading.words import Sort
from core.counts import Quantity

ME = "me"
_MYSELF = frozenset("me myself mine self".split())
_I = frozenset("i ill id im".split())
_WHOSE = frozenset("my his her our their the".split())
_PRONOUNS = frozenset("he she him her his hers".split())
_REST = frozenset(
    "rest remainder remaining leftover leftovers extra extras spare spares odd balance everything".split()
)
_LEFT = tuple(
    "the others|what remains|whatever is left|whats left over|whats left|what is left over|what is left"
    "|left over".split("|")
)
_DONE = frozenset("bought put got entered paid logged".split())
_NONE = frozenset("none nothing zero".split())
_WITH = frozenset("with w wi wiht wth whit".split())
_LISTS = _WITH | frozenset("between betwen among amongst".split())
_NO_NAMES = frozenset("split splits splitting share shared divide divided halves please pls ta thx cheers".split())
_JOINTS = frozenset(("and", "n", "&", ",", "+", "an", "with", "plus"))
_LINKS = frozenset(
    "left over for to go goes are am is was takes take taking need needs gets get getting wants want having have"
    " has keep keeps the other any all it will would shall can of them units pieces pcs ones else ll like cash"
    " = : - ( )".split()
)
_PAYS = frozenset(
    "paid payed paying pays bought purchased ordered covered fronted pd footed buyer payer lent advanced".split()
)
_AFTER_PAYER = frozenset("s is was the one who has already just (".split())
_POCKETS = frozenset("card account tab pocket purse".split())
_LEFT_OUT = frozenset("but except without not excluding bar leave leaving skip minus".split())
_OUT = (("is", "out"), ("out",), ("isnt", "in"), ("not", "in"), ("is", "not", "in"))
_TALKS = frozenset("told said says thinks asked saw".split())
_WAYS = frozenset("way ways parts".split())
_FRACTIONS = {"thirds": 3, "quarters": 4, "fifths": 5, "halves": 2, "halfsies": 2}
_OTHER_SHARES = frozenset("third quarter twice double treble percent %".split())
_EVERYONE = (
    "all of us|each of us|us all|everyone|everybody|the whole group|all the group|the group|whole team|the lot of us"
    "|all * of us|each * of us|for all|us four|us five|us six|all members|every member|all"
)
_HALF = frozenset(("50", "fifty"))


@dataclass(frozen=True, slots=True)
class Mark:
    """A name, a number, or (neither) "the rest", where it stands; ``each`` for a number that holds for several."""

    start: int
    end: int
    name: str | None = None
    units: int | None = None
    weak: bool = False
    each: bool = False

    @property
    def is_rest(self) -> bool:
        """True for "the rest"."""
        return self.name is None and self.units is None


@dataclass(slots=True)
class Marks:
    """What was found in a stretch, in order, with the tokens that say it."""

    heard: Heard
    marks: list[Mark] = field(default_factory=list)
    tokens: set[int] = field(default_factory=set)
    excluded: set[str] = field(default_factory=set)
    payer: str | None = None
    ways: int | None = None
    everyone: bool = False
    others: bool = False
    """True where all who are not named share what is left: "Mei 20, everyone else equal"."""
    odd: bool = False
    """True where shares are said in a way that is no number of units: "2:1", "a third"."""

    @property
    def marked(self) -> Marked:
        """The message."""
        return self.heard.marked

    def add(self, mark: Mark) -> None:
        """Take a mark; its tokens are spoken for."""
        self.marks.append(mark)
        self.marks.sort(key=lambda one: one.start)
        self.take(mark.start, mark.end)

    def take(self, start: int, end: int) -> None:
        """Speak for a range of tokens."""
        self.tokens.update(range(start, end))

    @property
    def with_somebody(self) -> bool:
        """True where a word such as "with" stands right before somebody."""
        before = (
            self.marked.text_at(mark.start - 1 - (self.marked.text_at(mark.start - 1) == "/"))
            for mark in self.marks
            if mark.name
        )
        return bool(_WITH & set(before))


def marks_in(heard: Heard) -> Marks:
    """Everything said of those who share, in a stretch."""
    found = Marks(heard)
    _find_ways(found)
    _find_everyone(found)
    _find_names(found)
    _find_numbers(found)
    _find_none(found)
    _find_rest(found)
    _drop_weak(found)
    return found


def _find_ways(found: Marks) -> None:
    """Split 3 ways, in thirds, 50-50; the tokens are no counts."""
    marked, (start, end) = found.marked, found.heard.reach
    for index in range(start, end):
        word, after = marked.text_at(index), marked.text_at(index + 1)
        if word in _HALF and (after in _HALF or (after == "/" and marked.text_at(index + 2) in _HALF)):
            found.take(index, index + 2 + (after == "/"))
        elif word in _FRACTIONS and not _number_there(marked, index - 1):
            found.ways = _FRACTIONS[word]
            found.take(index, index + 1)
        elif reach := _ways_at(marked, index):
            found.ways = _number_there(marked, reach[0])
            found.take(*reach)
        elif word in _FRACTIONS or marked.word(index) in _OTHER_SHARES or _ratio_at(marked, index):
            found.odd = True


def _ways_at(marked: Marked, index: int) -> tuple[int, int] | None:
    """Where "3 ways", or "in three:", is said, from its number on."""
    if marked.text_at(index) in _WAYS:
        return next(((at, index + 1) for at in (index - 1, index - 2) if _number_there(marked, at)), None)
    inside = marked.text_at(index - 1) in ("in", "into") and marked.text_at(index + 1) in (":", ",", "")
    return (index, index + 1) if inside and _number_there(marked, index) else None


def _ratio_at(marked: Marked, index: int) -> bool:
    numbers = marked.text_at(index).isdigit() and marked.text_at(index + 2).isdigit()
    return numbers and marked.text_at(index + 1) in (":", "/") and marked.glued(index + 1) and marked.glued(index + 2)


def _number_there(marked: Marked, index: int) -> int | None:
    span = next((span for span in marked.each(Loose, index, index + 1)), None)
    if span:
        return span.value.units
    number = number_at(marked, index)
    return number[0].whole if number else None


def _find_everyone(found: Marks) -> None:
    marked, (start, end) = found.marked, found.heard.reach
    said = [marked.text_at(index) for index in range(start, end)]
    number = {"three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8}
    for at in range(len(said) - 2):
        if number.get(said[at]) == len(found.heard.members) and said[at + 1 : at + 3] == ["of", "us"]:
            found.everyone = True
            found.take(start + at, start + at + 3)
            return
    for phrase in ("everyone else", "everybody else"):
        words = phrase.split()
        for at in range(len(said) - 1):
            if said[at : at + 2] == words:
                found.others = True
                found.take(start + at, start + at + 2)
                return
    for phrase in _EVERYONE.split("|"):
        words = phrase.split()
        for at in range(len(said) - len(words) + 1):
            if all(word in ("*", said[at + offset]) for offset, word in enumerate(words)):
                if phrase == "all" and said[at + 1 : at + 2] not in (["but"], ["except"], ["without"]):
                    continue
                found.everyone = True
                found.take(start + at, start + at + len(words))
                return


def _find_names(found: Marks) -> None:
    """The members named, the speaker, the payer apart; unknown names where a list has them."""
    heard, marked = found.heard, found.marked
    for span in named(marked, heard.reach, NameSort.MEMBER):
        name = ME if span.value.name == heard.speaker else span.value.name
        mark = Mark(span.start, span.end, name)
        if found.payer is None and _pays(marked, mark):
            found.payer = span.value.name
            found.take(mark.start, mark.end)
        elif _left_out(marked, mark):
            found.excluded.add(name)
            found.take(mark.start - 1, mark.end)
        elif not _only_mentioned(found, mark):
            found.add(mark)
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
        if word in _MYSELF and marked.text_at(index - 1) in _LEFT_OUT:
            found.excluded.add(ME)
            found.take(index - 1, index + 1)
        elif word in _MYSELF and marked.text_at(index - 1) not in ("tell", "let", "give"):
            found.add(Mark(index, index + 1, ME))
        elif word in _I or (word == "my" and marked.text_at(index - 1) in ("is", "are")):
            found.add(Mark(index, index + 1, ME, weak=True))
        elif word in _PRONOUNS and _stands_alone(marked, index):
            _find_pronoun(found, index)


def _is_strangers(found: Marks, index: int) -> bool:
    """True for somebody who has no name here: "between me and my sister", "the church 20"."""
    marked = found.marked
    if marked.text_at(index - 1) not in _WHOSE or marked.text_at(index) in _REST:
        return False
    listed = marked.text_at(index - 2) in _LISTS or (marked.text_at(index - 2) in _JOINTS and index > 3)
    numbered = any(marked.each(Loose, index + 1, index + 2)) and marked.text_at(index - 2) in (":", ",", "and")
    named_before = any(mark.name and mark.end == index - 2 for mark in found.marks)
    return (marked.text_at(index - 2) in _LISTS) or numbered or (listed and named_before)


def _find_pronoun(found: Marks, index: int) -> None:
    """She or he: whoever paid, else the other member named before; who paid, where that is said of them."""
    others = [mark.name for mark in found.marks if mark.name not in (None, ME) and mark.end <= index]
    name = found.payer or (others[-1] if others else None)
    if name is None:
        found.odd = found.odd or found.marked.text_at(index - 1) in _JOINTS
    elif found.marked.text_at(index + 1) in _PAYS or found.marked.text_at(index + 2) in _PAYS:
        found.payer = found.payer or name
    else:
        found.add(Mark(index, index + 1, name))


def _pays(marked: Marked, mark: Mark) -> bool:
    """True where a member is said to have paid: "Ines paid 18 for ...", "paid by Ines", "on Ines's card"."""
    before, earlier = marked.text_at(mark.start - 1), marked.text_at(mark.start - 2)
    if (before == "by" and earlier in _PAYS) or before == "payer" or (before == "to" and earlier == "charged"):
        return True
    if marked.text_at(mark.end) in _POCKETS or (before == "from" and earlier in ("money", "cash")):
        return True
    at = mark.end
    while marked.text_at(at) in _AFTER_PAYER:
        at += 1
    if marked.text_at(at) == "got":
        return any(_counts_item(marked, span.end) for span in marked.each(Loose, at + 1, at + 5))
    return marked.text_at(at) in _PAYS


def _left_out(marked: Marked, mark: Mark) -> bool:
    """True where a member is to have nothing: "everyone but Tobias", "Tobias is out"."""
    if marked.text_at(mark.start - 1) in _LEFT_OUT:
        return True
    for words in _OUT:
        said = all(marked.text_at(mark.end + offset) == word for offset, word in enumerate(words))
        if said and marked.text_at(mark.end + len(words)) != "of":
            return True
    return False


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
    return after in _JOINTS | _LINKS | _MYSELF or not marked.is_sort(index + 1, Sort.WORD)


def _in_list(found: Marks, index: int) -> bool:
    """True for an unknown word in the place of a name: "between me and joanna"."""
    marked = found.marked
    before, after = marked.text_at(index - 1), marked.text_at(index + 1)
    ends = after in _JOINTS | {"", ".", ":", "please", "pls", "equally", "evenly"}
    closed = ends or not marked.is_sort(index + 1, Sort.WORD)
    beside = any(mark.name and not mark.weak and mark.end in (index - 1, index - 2) for mark in found.marks)
    listed = before in _LISTS or (before in _JOINTS and beside)
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
    return marked.text_at(index) not in _NO_NAMES | _REST | _NONE


def _find_numbers(found: Marks) -> None:
    """The units said of a name; what belongs to the case itself is left alone."""
    marked, reach = found.marked, found.heard.reach
    sizes = [span.value.pack_size for span in marked.each(Quantity, *reach) if span.value.pack_size]
    spans = [(span.start, span.end, span.value.units) for span in marked.each(Loose, *reach)]
    for span in marked.each(Quantity, *reach):
        size = span.value.pack_size or (sizes[0] if sizes else None)
        if size:
            spans.append((span.start, span.end, span.value.packs * size))
    counting = [start for start, end, _ in spans if _counts_item(marked, end)]
    for start, end, units in sorted(spans):
        if start in found.tokens or _prices(marked, start):
            continue
        found.odd = found.odd or _is_vague(found, start, end)
        behind = _follows_name(found, start)
        of_case = _counts_item(marked, end) and not (behind and len(counting) > 1 and start != counting[0])
        each = any(span.start == end for span in marked.each(Each, *reach))
        if (behind or each or _reaches_name(found, end)) and not of_case:
            found.add(Mark(start, end + each, units=units, each=each))
    for pack in marked.each(Quantity, *reach):
        unsized = pack.value.pack_size is None and pack.value.packs > 1 and not sizes
        if unsized and (_follows_name(found, pack.start) or _reaches_name(found, pack.end)):
            found.odd = True


def _find_none(found: Marks) -> None:
    """Nothing for a member; and "the same each", which is no price for each."""
    for index in range(*found.heard.reach):
        word = found.marked.text_at(index)
        if word in _NONE and (_follows_name(found, index) or _reaches_name(found, index + 1)):
            found.add(Mark(index, index + 1, units=0))
        if word in ("same", "equal") and any(found.marked.each(Each, index + 1, index + 3)):
            found.take(index, index + 3)


def _is_vague(found: Marks, start: int, end: int) -> bool:
    """True for a number said of a name that is no sure count: "40-50", "1/3", "24 less"."""
    loose = next((span.value for span in found.marked.each(Loose, start, start + 1)), None)
    unsure = loose is not None and (loose.other is not None or not loose.firm)
    compared = found.marked.text_at(end) in ("less", "more", "fewer")
    return (unsure or compared) and (_follows_name(found, start) or _reaches_name(found, end))


def _find_rest(found: Marks) -> None:
    start, end = found.heard.reach
    index = start
    while index < end:
        after = index + (1 if found.marked.text_at(index) in _REST else _says_left(found.marked, index))
        if after > index and (_reaches_name(found, after) or _follows_name(found, index)):
            found.add(Mark(index, after))
        index = max(after, index + 1)


def _says_left(marked: Marked, index: int) -> int:
    """How many words of "what is left" stand at a token."""
    for phrase in _LEFT:
        words = phrase.split()
        if all(marked.text_at(index + offset) == word for offset, word in enumerate(words)):
            return len(words)
    return 0


def _reaches_name(found: Marks, index: int) -> bool:
    """True where only linking words stand between a number and a name."""
    while found.marked.text_at(index) in _LINKS:
        index += 1
    return any(mark.start == index and mark.name for mark in found.marks)


def _follows_name(found: Marks, index: int) -> bool:
    """True where only linking words stand between a name and a number behind it."""
    while found.marked.text_at(index - 1) in _LINKS:
        index -= 1
    return any(mark.end == index and mark.name for mark in found.marks)


def _prices(marked: Marked, start: int) -> bool:
    """True for a number that is said to be what it cost."""
    before, earlier = marked.text_at(start - 1), marked.text_at(start - 2)
    if before in _MYSELF and earlier in ("paid", "gave", "owes", "gives", "pays"):
        return True
    return before in ("cost", "costs", "was") or (before == "to" and earlier in ("came", "comes"))


def _counts_item(marked: Marked, end: int) -> bool:
    """True for a number that counts a thing: an item, or an unknown one, stands right behind it."""
    places = (end, end + 1) if marked.is_sort(end, Sort.WORD) else (end,)
    if any(named(marked, (at, at + 1), NameSort.ITEM) for at in places):
        return True
    if marked.text_at(end) in _REST | _JOINTS | _MYSELF or _says_left(marked, end):
        return False
    return marked.is_sort(end, Sort.WORD) and end in strange_words(marked, (end, end + 1))


def _drop_weak(found: Marks) -> None:
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
    if before is not None and before.name is not None and _joined(marked, before, mark):
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
    return after.name is None or _joined(marked, mark, after)


def _joined(marked: Marked, mark: Mark, after: Mark) -> bool:
    return after.start == mark.end + 1 and marked.text_at(mark.end) in _JOINTS
