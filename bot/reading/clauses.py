"""Sentences and clauses: which words of a message belong to one statement, and what a clause says of an item."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from datetime import date
from itertools import pairwise

from bot.reading.amounts import Amount, Role
from bot.reading.dates import Day, Until
from bot.reading.limits import Limit
from bot.reading.names import Named, NameSort
from bot.reading.offers import AskError, Choice, Frame, Offer, Terms, Unclear
from bot.reading.packs import Each, Loose, Multi
from bot.reading.pricing import offer_of
from bot.reading.spans import Found, Marked
from bot.reading.words import Sort, lexicon, singular
from core.counts import Quantity

_SEPARATORS = frozenset(", & and n plus but then + | vs versus".split())
_QUESTION_OPENERS = frozenset("what whats where wheres how hows who whos why should shall does".split())
_POINTING = frozenset("that this these those it they cheap good ok okay worth there".split())
_STORE_LEADS = frozenset("at @ in from over".split())
_MOST_NAME_WORDS = 3
_BESIDE = 3

Reach = tuple[int, int]


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


def sentences_of(marked: Marked) -> list[Sentence]:
    """The sentences of a message, in order, empty ones left out."""
    found: list[Sentence] = []
    start, listed = 0, False
    for index, token in enumerate(marked.tokens):
        turns = marked.word(index) in (",", "and", "but") and _opens_question(marked, index + 1)
        if token.sort is Sort.STOP or turns:
            if index > start:
                found.append(Sentence(start, index, "?" in token.text, listed))
            start, listed = index + 1, token.text[0] in ";\n"
    if start < len(marked.tokens):
        found.append(Sentence(start, len(marked.tokens), False, listed))
    return found


def _opens_question(marked: Marked, index: int) -> bool:
    if marked.word(index) in ("is", "are", "r", "was"):
        return marked.word(index + 1) in _POINTING
    return marked.word(index) in _QUESTION_OPENERS


@dataclass(slots=True)
class _Group:
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

    def take(self, other: _Group) -> None:
        self.atoms += other.atoms
        self.item = self.item or other.item
        self.amount = self.amount or other.amount


def groups_of(marked: Marked, sentences: list[Sentence]) -> list[_Group]:
    """The statements in a run of sentences, each with one item (or items that share one price)."""
    groups: list[_Group] = []
    for sentence in sentences:
        for number, atom in enumerate(_atoms(marked, sentence)):
            fresh = _Group([atom], _has_item(marked, atom), _has_amount(marked, atom))
            current = groups[-1] if groups else None
            if current is None or (current.complete and _starts_anew(marked, fresh, number > 0)):
                groups.append(fresh)
            elif current.complete and _priced_again(marked, current, fresh):
                fresh.named_in = current.named_in or current.reach
                groups.append(fresh)
            else:
                current.take(fresh)
    return groups


def _starts_anew(marked: Marked, fresh: _Group, listed: bool) -> bool:
    """True where an atom names another item with its own price or count, or the next item of a list."""
    return fresh.item and (fresh.amount or listed or _counted(marked, fresh.reach))


def _priced_again(marked: Marked, before: _Group, fresh: _Group) -> bool:
    """True where an atom without an item prices again what was priced before: other packs, or another shop."""
    if fresh.item:
        return False
    if marked.word(fresh.reach[0]) in ("or", "versus", "vs") or marked.word(fresh.reach[0] - 1) in ("or", "vs"):
        return True
    if not (fresh.amount and _counted(marked, fresh.reach)):
        return False
    if _stores(marked, fresh.reach) - _stores(marked, before.reach):
        return bool(_stores(marked, before.reach))
    return _packed(marked, fresh.reach) and _packed(marked, before.reach)


def _stores(marked: Marked, reach: Reach) -> set[str]:
    return {span.value.name for span in marked.each(Named, *reach) if span.value.sort is NameSort.STORE}


def _packed(marked: Marked, reach: Reach) -> bool:
    return any(True for sort in (Quantity, Multi) for _ in marked.each(sort, *reach))


def _atoms(marked: Marked, sentence: Sentence) -> Iterator[Reach]:
    start = sentence.start
    for index in range(sentence.start, sentence.end):
        if marked.word(index) in _SEPARATORS or (marked.word(index) == "or" and _either(marked, sentence, index)):
            if index > start:
                yield from _run_on(marked, (start, index))
            start = index + 1
    if start < sentence.end:
        yield from _run_on(marked, (start, sentence.end))


def _either(marked: Marked, sentence: Sentence, index: int) -> bool:
    """True where "or" stands between two whole offers."""
    before, after = (sentence.start, index), (index + 1, sentence.end)
    priced = all(_has_amount(marked, side) for side in (before, after))
    return priced and _has_item(marked, before) and _counted(marked, after)


def _run_on(marked: Marked, atom: Reach) -> Iterator[Reach]:
    """The offers of a list said in one breath: an item, its price, the next item, its price."""
    things = sorted(
        [(span.start, span.end, True) for span in marked.each(Named, *atom) if span.value.sort is NameSort.ITEM]
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


def _has_amount(marked: Marked, atom: Reach) -> bool:
    return any(span.value.role in (Role.PRICE, Role.NOW, Role.WAS) for span in marked.each(Amount, *atom))


def _counted(marked: Marked, atom: Reach) -> bool:
    return any(True for sort in (Quantity, Multi, Loose) for _ in marked.each(sort, *atom))


def _has_item(marked: Marked, atom: Reach) -> bool:
    if any(span.value.sort is NameSort.ITEM for span in marked.each(Named, *atom)):
        return True
    return _has_amount(marked, atom) and _counted(marked, atom) and bool(unknown_item(marked, atom))


@dataclass(frozen=True, slots=True)
class Clause:
    """One statement: its reach, the items it names, and what a list around it said of shop and days."""

    marked: Marked
    reach: Reach
    items: tuple[str, ...]
    store: str | None = None
    until: date | None = None
    day: date | None = None
    rivals: tuple[str, ...] = ()

    def offers(self, frame: Frame) -> list[Offer | Unclear]:
        """The offers of the clause, one for each item that shares its price; a question in place of a guess."""
        if not self.items:
            return [Unclear("Which item is that price for? Try: 12 pencils 0.47 at corner store")]
        shared = _has_amount(self.marked, self.reach) and not any(self.marked.each(Each, *self.reach))
        if len(self.items) > 1 and shared:
            return [
                Unclear(f"One price for {' and '.join(self.items)}? Say each one's, such as: {self.items[0]} 0.47 each")
            ]
        return [self._offer(item, frame) for item in self.items]

    def _offer(self, item: str, frame: Frame) -> Offer | Unclear:
        placed = Frame(frame.before, self._tail() + frame.after)
        if self.rivals:
            return self._which_item(item, placed)
        try:
            offer = offer_of(self.marked, self.reach, self._terms(item), placed)
        except AskError as asked:
            return asked.unclear
        limit = next((span.value.packs for span in self.marked.each(Limit, *self.reach)), None)
        return replace(offer, store=self.store, seen_on=self.day, until=self.until, limit=limit)

    def _which_item(self, item: str, frame: Frame) -> Unclear:
        said = self.marked.said(*self.reach)
        spans = [span for span in self.marked.each(Named, *self.reach) if span.value.name == item]
        word = self.marked.said(spans[0].start, spans[0].end)
        names = (item, *self.rivals)
        return Unclear(
            f"Did you mean {' or '.join(names)}?",
            tuple(Choice(name, frame.before + said.replace(word, name)) for name in names),
        )

    def _tail(self) -> str:
        """The shop and the days, as they would be said again."""
        parts = [f" at {self.store}" if self.store else ""]
        parts.append(f", seen {self.day.isoformat()}" if self.day else "")
        parts.append(f", until {self.until.isoformat()}" if self.until else "")
        parts += [f", limit {span.value.packs}" for span in self.marked.each(Limit, *self.reach)]
        return "".join(parts)

    def _terms(self, item: str) -> Terms:
        marked = self.marked
        loose = list(marked.each(Loose, *self.reach))
        packs = _packs_together(list(marked.each(Quantity, *self.reach)))
        multi = next((span.value.packs for span in marked.each(Multi, *self.reach)), None)
        beside = self._beside_item(loose)
        if beside is None and multi is None and not packs and len(loose) == 1 and _has_amount(marked, self.reach):
            beside = loose[0]
        if beside is None and packs:
            beside = next((span for span in loose if not span.value.firm), None)
        bare = [span.value.units for span in loose if span is not beside]
        return Terms(item, packs, multi, beside.value if beside else None, bare)

    def _beside_item(self, loose: list[Found[Loose]]) -> Found[Loose] | None:
        """The loose count that belongs to the item: right before it, at most two words off, or right after it."""
        for item in _item_reaches(self.marked, self.reach):
            for span in reversed(loose):
                if span.end <= item[0] and self._only_words(span.end, item[0]):
                    return span
            priced = _has_amount(self.marked, self.reach)
            for span in loose:
                if span.start == item[1] and (priced or len(loose) > 1):
                    return span
        return None

    def _only_words(self, start: int, end: int) -> bool:
        plain = lexicon()["filler"] - lexicon()["adjectives"]
        between = list(range(start, end))
        words = all(self.marked.is_sort(index, Sort.WORD) for index in between)
        return end - start <= 2 and words and not any(self.marked.word(index) in plain for index in between)


def _packs_together(packs: list[Found[Quantity]]) -> list[Quantity]:
    """The packs of a clause; a number of packs counts packs of a stated size only right beside it."""
    sized = [span for span in packs if span.value.pack_size]
    if not sized:
        return [span.value for span in packs]
    near = [
        span
        for span in packs
        if span in sized or min(max(span.start - one.end, one.start - span.end) for one in sized) <= _BESIDE
    ]
    return [span.value for span in near]


def _item_reaches(marked: Marked, reach: Reach) -> list[Reach]:
    known = [(span.start, span.end) for span in marked.each(Named, *reach) if span.value.sort is NameSort.ITEM]
    unknown = unknown_item(marked, reach)
    return known or ([unknown] if unknown else [])


def clauses_of(marked: Marked, sentences: list[Sentence]) -> list[Clause]:
    """The statements of a run of sentences; a shop or day said once holds for the whole list."""
    groups = groups_of(marked, sentences)
    clauses = [_clause(marked, group) for group in groups]
    return _share_context(marked, groups, clauses)


def _clause(marked: Marked, group: _Group) -> Clause:
    reach = group.reach
    known = [span for span in marked.each(Named, *(group.named_in or reach)) if span.value.sort is NameSort.ITEM]
    items = tuple(dict.fromkeys(_named_as(marked, span) for span in known))
    rivals = tuple(name for span in known for name in span.value.rivals)
    unknown_shop = unknown_store(marked, reach)
    store = marked.said(*unknown_shop).lower() if unknown_shop else None
    if not items and (unknown := unknown_item(marked, reach)):
        items = (item_words(marked, unknown),)
    return Clause(
        marked,
        reach,
        items,
        next(
            (span.value.name for span in marked.each(Named, *reach) if span.value.sort is NameSort.STORE),
            store,
        ),
        next((span.value.day for span in marked.each(Until, *reach)), None),
        next((span.value.day for span in marked.each(Day, *reach)), None),
        rivals,
    )


def _share_context(marked: Marked, groups: list[_Group], clauses: list[Clause]) -> list[Clause]:
    if len(clauses) < 2:
        return clauses
    stores = {clause.store for clause in clauses if clause.store}
    only = stores.pop() if len(stores) == 1 else None
    first, last = groups[0], groups[-1]
    leads = first.reach[0], _first_thing(marked, first.reach)
    until = _shared_until(marked, leads, last)
    days = {clause.day for clause in clauses if clause.day}
    day = days.pop() if len(days) == 1 else None
    shared = []
    before: str | None = None
    for clause in clauses:
        store = clause.store or only or before
        before = store if clause.store is None or _leads_with_store(marked, clause) else None
        shared.append(replace(clause, store=store, until=clause.until or until, day=clause.day or day))
    return shared


def _leads_with_store(marked: Marked, clause: Clause) -> bool:
    start, first = clause.reach[0], _first_thing(marked, clause.reach)
    return any(span.value.sort is NameSort.STORE for span in marked.each(Named, start, first))


def _first_thing(marked: Marked, reach: Reach) -> int:
    """The first token that belongs to an item, a count or a price."""
    starts = [span.start for sort in (Amount, Quantity, Multi, Loose) for span in marked.each(sort, *reach)]
    starts += [start for start, _ in _item_reaches(marked, reach)]
    return min(starts, default=reach[1])


def _shared_until(marked: Marked, leads: Reach, last: _Group) -> date | None:
    """A last day said before the whole list, or after it in words of its own."""
    for span in marked.each(Until, *leads):
        return span.value.day
    for atom in last.atoms[1:]:
        if not _has_amount(marked, atom) and not _has_item(marked, atom):
            for span in marked.each(Until, *atom):
                return span.value.day
    return None


def _named_as(marked: Marked, span: Found[Named]) -> str:
    """The item's name; with an unknown noun behind its singular it is another thing: a pencil case."""
    head = span.end
    last = marked.text_at(span.end - 1)
    follows = marked.word(head)
    thing = marked.is_sort(head, Sort.WORD) and follows not in lexicon()["filler"] | lexicon()["adjectives"]
    if thing and last == singular(last) and follows in lexicon()["compounds"]:
        return f"{span.value.name} {singular(follows)}"
    return span.value.name


def strange_words(marked: Marked, reach: Reach) -> list[int]:
    """The free words of a range that neither a span nor the small words of speech explain."""
    known = lexicon()["filler"] | lexicon()["adjectives"]
    return [index for index in range(*reach) if marked.is_sort(index, Sort.WORD) and marked.word(index) not in known]


def unknown_item(marked: Marked, reach: Reach) -> Reach | None:
    """The run of words that must be the item where the group has no name for it: the one beside the count."""
    runs = [run for run in _runs(marked, reach) if not _follows_store_lead(marked, run)]
    if not runs:
        return None
    counts = [(span.start, span.end) for sort in (Quantity, Multi, Loose, Each) for span in marked.each(sort, *reach)]
    return min(runs, key=lambda run: min((_distance(run, count) for count in counts), default=0))


def _distance(run: Reach, count: Reach) -> tuple[int, int]:
    return (run[0] - count[1], 0) if run[0] >= count[1] else (count[0] - run[1], 1)


def _runs(marked: Marked, reach: Reach) -> list[Reach]:
    """Unbroken runs of strange words, adjectives before them left out."""
    strange = set(strange_words(marked, reach))
    runs: list[Reach] = []
    for index in sorted(strange):
        if runs and runs[-1][1] == index and index - runs[-1][0] < _MOST_NAME_WORDS:
            runs[-1] = (runs[-1][0], index + 1)
        else:
            runs.append((index, index + 1))
    return runs


def _follows_store_lead(marked: Marked, run: Reach) -> bool:
    before = marked.word(run[0] - 1)
    return before in _STORE_LEADS or (before in ("the", "a") and marked.word(run[0] - 2) in _STORE_LEADS)


def unknown_store(marked: Marked, reach: Reach) -> Reach | None:
    """The words after "at", where they are no shop of the group."""
    runs = (run for run in _runs(marked, reach) if _follows_store_lead(marked, run))
    return next((_whole_name(marked, run, reach) for run in runs), None)


def _whole_name(marked: Marked, run: Reach, reach: Reach) -> Reach:
    """The run with the small words inside a name: "mercado da rosa"."""
    end = run[1]
    while end < reach[1] and marked.is_sort(end, Sort.WORD) and marked.word(end) not in lexicon()["after_name"]:
        end += 1
    return run[0], end


def item_words(marked: Marked, reach: Reach) -> str:
    """An unknown item as written, in lower case and in the singular."""
    words = marked.said(*reach).lower().split()
    return " ".join([*words[:-1], singular(words[-1])])
