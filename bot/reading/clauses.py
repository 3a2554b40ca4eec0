"""Clauses: what one statement says of an item, with the shop and days that a list says once for all."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise

from bot.reading.amounts import Amount
from bot.reading.dates import Day, Until
from bot.reading.limits import Limit
from bot.reading.names import Named, NameSort, named
from bot.reading.offers import AskError, Choice, Frame, Offer, Terms, Unclear, place_words
from bot.reading.packs import Loose, Multi
from bot.reading.presence import for_each, priced
from bot.reading.pricing import offer_of
from bot.reading.sentences import Sentence, Statement, has_item, statements_of
from bot.reading.spans import Found, Marked, Reach
from bot.reading.strangers import item_words, named_as, unknown_item, unknown_store
from bot.reading.words import Sort, lexicon
from bot.wording.things import plural
from core.counts import Quantity

_BESIDE = 3
_SPANS_OF_TIME = frozenset("week month year summer winter spring autumn fall season christmas easter".split())
_TOO_LONG_AGO = timedelta(days=5 * 366)
_TOO_FAR_AHEAD = timedelta(days=400)


@dataclass(frozen=True, slots=True)
class Clause:
    """One statement: its reach, the items it names, and what a list around it said of shop and days."""

    marked: Marked
    reach: Reach
    items: tuple[str, ...]
    store: str | None = None
    until: date | None = None
    day: date | None = None
    doubted: Found[Named] | None = None
    """The name of an item that could be another's just as well."""

    def offers(self, frame: Frame) -> list[Offer | Unclear]:
        """The offers of the clause, one for each item that shares its price; a question in place of a guess."""
        if not self.items:
            return [Unclear("Which item is that price for? Try: 12 pencils 0.47 at corner store")]
        shared = priced(self.marked, self.reach) and not for_each(self.marked, self.reach)
        if len(self.items) > 1 and shared:
            return [
                Unclear(f"One price for {' and '.join(self.items)}? Say each one's, such as: {self.items[0]} 0.47 each")
            ]
        return [self._offer(item, frame) for item in self.items]

    def _offer(self, item: str, frame: Frame) -> Offer | Unclear:
        placed = Frame(frame.before, place_words(self.store, self.day, self.until, self._limit) + frame.after)
        if self.doubted:
            return self._which_item(self.doubted, placed)
        try:
            offer = offer_of(self.marked, self.reach, self._terms(item), placed)
        except AskError as asked:
            return asked.unclear
        if wrong := self._wrong_day(offer) or (self._limit == 0 and "A limit must be at least 1, such as: limit 2"):
            return Unclear(wrong)
        return replace(offer, store=self.store, seen_on=self.day, until=self.until, limit=self._limit)

    def _wrong_day(self, offer: Offer) -> str | None:
        """What is wrong with the days said, None where nothing is."""
        today = self.marked.today
        words = [self.marked.text_at(index) for index in range(*self.reach)]
        spans_of_time = {other for word, other in pairwise(words) if word == "last"} & _SPANS_OF_TIME
        if spans_of_time or (self.day and today - self.day > _TOO_LONG_AGO):
            return f"Which day was that? Say it, such as: 12 {plural(offer.item)} 0.47 on {today.isoformat()}"
        if self.until and self.until < today:
            return f"That offer ended on {self.until.isoformat()}. If it still holds, say it without a last day"
        if self.until and self.until - today > _TOO_FAR_AHEAD:
            return f"{self.until.isoformat()} is more than a year ahead. Say the last day again, such as: until friday"
        return None

    def _which_item(self, doubted: Found[Named], frame: Frame) -> Unclear:
        start, end = self.reach
        if start <= doubted.start < end:
            before, after = self.marked.said(start, doubted.start), self.marked.said(doubted.end, end)
        else:
            before, after = "", self.marked.said(start, end)
        names = (doubted.value.name, *doubted.value.rivals)
        return Unclear(
            f"Did you mean {' or '.join(names)}?",
            tuple(Choice(name, frame.says(f"{before} {name} {after}".strip())) for name in names),
        )

    @property
    def _limit(self) -> int | None:
        return next((span.value.packs for span in self.marked.each(Limit, *self.reach)), None)

    def _terms(self, item: str) -> Terms:
        marked = self.marked
        loose = marked.each(Loose, *self.reach)
        packs = _packs_together(marked.each(Quantity, *self.reach))
        multi = next((span.value.packs for span in marked.each(Multi, *self.reach)), None)
        beside = self._beside_item(loose)
        if beside is None and multi is None and not packs and len(loose) == 1 and priced(marked, self.reach):
            beside = loose[0]
        of_packs = {span.start for span in marked.each(Quantity, *self.reach) if span.value.pack_size}
        beside = beside or next((span for span in loose if span.end in of_packs), None)
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
            told = priced(self.marked, self.reach) or len(loose) > 1
            for span in loose:
                if span.start == item[1] and told:
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
    known = [(span.start, span.end) for span in named(marked, reach, NameSort.ITEM)]
    unknown = unknown_item(marked, reach)
    return known or ([unknown] if unknown else [])


def clauses_of(marked: Marked, sentences: list[Sentence]) -> list[Clause]:
    """The statements of a run of sentences; a shop or day said once holds for the whole list."""
    statements = statements_of(marked, sentences)
    clauses = [_clause(marked, statement) for statement in statements]
    return _share_context(marked, statements, clauses)


def clause_over(marked: Marked, reach: Reach) -> Clause:
    """All of a stretch as one statement."""
    return _clause(marked, Statement([reach]))


def _clause(marked: Marked, statement: Statement) -> Clause:
    reach = statement.reach
    known = named(marked, statement.named_in or reach, NameSort.ITEM)
    items = tuple(dict.fromkeys(named_as(marked, span) for span in known))
    doubted = next((span for span in known if span.value.rivals), None)
    unknown_shop = unknown_store(marked, reach)
    store = marked.said(*unknown_shop).lower() if unknown_shop else None
    if not items and (unknown := unknown_item(marked, reach)):
        items = (item_words(marked, unknown),)
    return Clause(
        marked,
        reach,
        items,
        next((span.value.name for span in named(marked, reach, NameSort.STORE)), store),
        next((span.value.day for span in marked.each(Until, *reach)), None),
        next((span.value.day for span in marked.each(Day, *reach)), None),
        doubted,
    )


def _share_context(marked: Marked, statements: list[Statement], clauses: list[Clause]) -> list[Clause]:
    if len(clauses) < 2:
        return clauses
    stores = {clause.store for clause in clauses if clause.store}
    only = stores.pop() if len(stores) == 1 else None
    first, last = statements[0], statements[-1]
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
    return bool(named(marked, (start, first), NameSort.STORE))


def _first_thing(marked: Marked, reach: Reach) -> int:
    """The first token that belongs to an item, a count or a price."""
    starts = [span.start for sort in (Amount, Quantity, Multi, Loose) for span in marked.each(sort, *reach)]
    starts += [start for start, _ in _item_reaches(marked, reach)]
    return min(starts, default=reach[1])


def _shared_until(marked: Marked, leads: Reach, last: Statement) -> date | None:
    """A last day said before the whole list, or after it in words of its own."""
    for span in marked.each(Until, *leads):
        return span.value.day
    for atom in last.atoms[1:]:
        if not priced(marked, atom) and not has_item(marked, atom):
            for span in marked.each(Until, *atom):
                return span.value.day
    return None
