"""Those who share, as they are marked in a message: names, numbers, "the rest", and the words that link them."""

from __future__ import annotations

from dataclasses import dataclass, field

from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.spans import Marked
from bot.reading.strangers import strange_words
from bot.reading.words import Sort

ME = "me"
MYSELF = frozenset("me myself mine self".split())
WITH = frozenset("with w wi wiht wth whit".split())
LISTS = WITH | frozenset("between betwen among amongst".split())
JOINTS = frozenset(("and", "n", "&", ",", "+", "an", "with", "plus"))
LINKS = frozenset(
    "left over for to go goes are am is was takes take taking need needs gets get getting wants want having have"
    " has keep keeps the other any all it will would shall can of them units pieces pcs ones else ll like cash"
    " = : - ( )".split()
)
REST = frozenset("rest remainder remaining leftover leftovers extra extras spare spares odd balance everything".split())
LEFT = tuple(
    "the others|what remains|whatever is left|whats left over|whats left|what is left over|what is left"
    "|left over".split("|")
)
NOTHING = frozenset("none nothing zero".split())


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
    doubt: bool = False
    """True where it is open who shares, or who paid: "all of us, Mei has enough", "Mei paid half"."""
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
        return bool(WITH & set(before))


def says_left(marked: Marked, index: int) -> int:
    """How many words of "what is left" stand at a token."""
    for phrase in LEFT:
        words = phrase.split()
        if all(marked.text_at(index + offset) == word for offset, word in enumerate(words)):
            return len(words)
    return 0


def reaches_name(found: Marks, index: int) -> bool:
    """True where only linking words stand between a number and a name."""
    while found.marked.text_at(index) in LINKS:
        index += 1
    return any(mark.start == index and mark.name for mark in found.marks)


def follows_name(found: Marks, index: int) -> bool:
    """True where only linking words stand between a name and a number behind it."""
    while found.marked.text_at(index - 1) in LINKS:
        index -= 1
    return any(mark.end == index and mark.name for mark in found.marks)


def counts_item(marked: Marked, end: int) -> bool:
    """True for a number that counts a thing: an item, or an unknown one, stands right behind it."""
    places = (end, end + 1) if marked.is_sort(end, Sort.WORD) else (end,)
    if any(named(marked, (at, at + 1), NameSort.ITEM) for at in places):
        return True
    if marked.text_at(end) in REST | JOINTS | MYSELF or says_left(marked, end):
        return False
    return marked.is_sort(end, Sort.WORD) and end in strange_words(marked, (end, end + 1))


def joined(marked: Marked, mark: Mark, after: Mark) -> bool:
    """True where only "and" or its like stands between two marks."""
    return after.start == mark.end + 1 and marked.text_at(mark.end) in JOINTS
