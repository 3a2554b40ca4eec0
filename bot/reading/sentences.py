"""Sentences and statements: which words of a message belong together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import pairwise

from bot.reading.amounts import Amount, Role
from bot.reading.each import Each
from bot.reading.names import NameSort, named
from bot.reading.presence import counted, packed, priced
from bot.reading.spans import Marked, Reach
from bot.reading.strangers import unknown_item
from bot.reading.words import Sort

LONG = 20
"""Tokens of a sentence that rambles: what it says stands in a part of it."""
_SEPARATORS = frozenset(", & and n plus but then + | vs versus".split())
_ANYONE = frozenset("anyone anybody someone somebody you u".split())
_WANTING = frozenset("want wants need needs fancy fancies".split())
_QUESTION_OPENERS = frozenset("anyone anybody what whats where wheres how hows who whos why should shall does".split())
_POINT_OPENERS = frozenset((("price", "point"), ("price", "pt"), ("target", "for"), ("set", "the")))
_OF_US = frozenset((("do", "we"), ("do", "i"), ("are", "we"), ("have", "we")))
_NEEDING = frozenset("need still want short done enough".split())
_POINTING = frozenset("that this these those it they cheap good ok okay worth there".split())


@dataclass(frozen=True, slots=True)
class Sentence:
    """Tokens between two stops; ``asked`` where it ends with a question mark."""

    start: int
    end: int
    asked: bool
    listed: bool = False
    """True where it goes on with a list: after a semicolon or on a new line."""

    @property
    def reach(self) -> Reach:
        """Its range of tokens."""
        return self.start, self.end


def sentences_of(marked: Marked, end: int) -> list[Sentence]:
    """The sentences of a message up to a token, in order, empty ones left out."""
    found: list[Sentence] = []
    start, listed = 0, False
    for index, token in enumerate(marked.tokens[:end]):
        turns = marked.word(index) in (",", "and", "but") and _turns(marked, index + 1)
        turns = turns or (index > start and _wanted(marked, index))
        if token.sort is Sort.STOP or turns:
            if index > start:
                found.append(Sentence(start, index, "?" in token.text, listed))
            start, listed = index + 1, token.text[0] in ";\n"
    if start < end:
        found.append(Sentence(start, end, False, listed))
    return found


def _wanted(marked: Marked, index: int) -> bool:
    """True where it is left to the others whether they want it: "if anyone needs some"."""
    who, wants = marked.word(index + 1), marked.word(index + 2)
    return marked.word(index) == "if" and who in _ANYONE and wants in _WANTING


def _turns(marked: Marked, index: int) -> bool:
    """True where a question, or talk of a price point, begins."""
    if (marked.word(index), marked.word(index + 1)) in _POINT_OPENERS:
        return True
    if marked.word(index) in ("is", "are", "r", "was"):
        return marked.word(index + 1) in _POINTING or (marked.word(index) == "is" and _amount_at(marked, index + 1))
    if (marked.word(index), marked.word(index + 1)) in _OF_US and marked.word(index + 2) in _NEEDING:
        return True
    return marked.word(index) in _QUESTION_OPENERS


def _amount_at(marked: Marked, index: int) -> bool:
    return bool(marked.each(Amount, index, index + 1))


@dataclass(slots=True)
class Statement:
    """Atoms that make one statement."""

    atoms: list[Reach] = field(default_factory=list)
    item: bool = False
    amount: bool = False
    named_in: Reach | None = None
    """Where its item is named, if not in itself: "10 for 4.10 at one shop but 10 for 4.60 at another"."""

    @property
    def reach(self) -> Reach:
        return self.atoms[0][0], self.atoms[-1][1]

    @property
    def complete(self) -> bool:
        return (self.item or self.named_in is not None) and self.amount

    def take(self, other: Statement) -> None:
        self.atoms += other.atoms
        self.item = self.item or other.item
        self.amount = self.amount or other.amount


def statements_of(marked: Marked, sentences: list[Sentence]) -> list[Statement]:
    """The statements in a run of sentences, each with one item (or items that share one price)."""
    statements: list[Statement] = []
    for sentence in sentences:
        for number, atom in enumerate(_atoms(marked, sentence)):
            fresh = Statement([atom], has_item(marked, atom), priced(marked, atom))
            current = statements[-1] if statements else None
            if current is None or (current.complete and _starts_anew(marked, fresh, number > 0)):
                statements.append(fresh)
            elif current.complete and _priced_again(marked, current, fresh):
                fresh.named_in = current.named_in or current.reach
                statements.append(fresh)
            else:
                current.take(fresh)
    return statements


def _starts_anew(marked: Marked, fresh: Statement, listed: bool) -> bool:
    """True where an atom names another item with its own price or count, or the next item of a list."""
    return fresh.item and (fresh.amount or listed or counted(marked, fresh.reach))


def _priced_again(marked: Marked, before: Statement, fresh: Statement) -> bool:
    """True where an atom without an item prices again what was priced before: other packs, or another shop."""
    if fresh.item:
        return False
    if marked.word(fresh.reach[0]) in ("or", "versus", "vs") or marked.word(fresh.reach[0] - 1) in ("or", "vs"):
        return True
    if not fresh.amount or _was_before(marked, fresh.reach):
        return False
    before_at = _stores(marked, before.reach)
    told = counted(marked, fresh.reach) or not counted(marked, before.reach)
    if told and before_at and _stores(marked, fresh.reach) - before_at:
        return True
    return packed(marked, fresh.reach) and packed(marked, before.reach)


def _was_before(marked: Marked, atom: Reach) -> bool:
    """True where an atom tells what the price was before a markdown: "4 for 1.50, was 4 for 1.90"."""
    return all(span.value.role is Role.WAS for span in marked.each(Amount, *atom))


def _stores(marked: Marked, reach: Reach) -> set[str]:
    return {span.value.name for span in named(marked, reach, NameSort.STORE)}


def _atoms(marked: Marked, sentence: Sentence) -> Iterator[Reach]:
    start = sentence.start
    for index in range(sentence.start, sentence.end):
        stroke = marked.word(index) == "/" and not (marked.glued(index) or marked.glued(index + 1))
        either = marked.word(index) == "or" and _either(marked, sentence, index)
        if stroke or either or marked.word(index) in _SEPARATORS:
            if index > start:
                yield from _run_on(marked, (start, index))
            start = index + 1
    if start < sentence.end:
        yield from _run_on(marked, (start, sentence.end))


def _either(marked: Marked, sentence: Sentence, index: int) -> bool:
    """True where "or" stands between two whole offers."""
    before, after = (sentence.start, index), (index + 1, sentence.end)
    beside = (marked.each(Amount, *before)[-1:], marked.each(Amount, *after)[:1])
    if all(beside) and beside[0][0].end == index and beside[1][0].start == index + 1:
        return False
    both = all(priced(marked, side) for side in (before, after))
    return both and has_item(marked, before) and counted(marked, after)


def _run_on(marked: Marked, atom: Reach) -> Iterator[Reach]:
    """The offers of a list said in one breath: an item, its price, the next item, its price."""
    things = sorted(
        [(span.start, span.end, True) for span in named(marked, atom, NameSort.ITEM)]
        + [(span.start, span.end, False) for span in marked.each(Amount, *atom) if span.value.role is Role.PRICE]
    )
    if len(things) < 4 or any(one[2] is other[2] for one, other in pairwise(things)):
        yield atom
        return
    start = atom[0]
    for _, after, _ in things[1:-1:2]:
        each = next((span for span in marked.each(Each, after, after + 1)), None)
        end = each.end if each else after
        yield start, end
        start = end
    yield start, atom[1]


def has_item(marked: Marked, atom: Reach) -> bool:
    """Whether an item is named, or words stand beside a count and a price that must be one."""
    if named(marked, atom, NameSort.ITEM):
        return True
    return priced(marked, atom) and counted(marked, atom) and unknown_item(marked, atom) is not None


def between_commas(marked: Marked, sentence: Sentence) -> list[Sentence]:
    """The parts of a sentence between its commas, and in a long one between its "and"s."""
    joints = (",", "and") if sentence.end - sentence.start > LONG else (",",)
    parts, start = [], sentence.start
    for index in range(sentence.start, sentence.end + 1):
        if index == sentence.end or marked.word(index) in joints:
            if index > start:
                parts.append(Sentence(start, index, False))
            start = index + 1
    return parts
