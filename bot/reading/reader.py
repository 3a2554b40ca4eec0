"""From a message to its readings: spans are marked, forms are tried, and where two fit a question is asked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from rapidfuzz import process
from rapidfuzz.distance import OSA

from bot.reading.amounts import Amount, Role, find_amounts
from bot.reading.clauses import (
    Clause,
    Sentence,
    clauses_of,
    sentences_of,
    strange_words,
    unknown_item,
    unknown_store,
)
from bot.reading.cues import Cue, cue
from bot.reading.dates import find_dates
from bot.reading.form import Form, Heard, Need, Reading, Slots
from bot.reading.limits import find_limits
from bot.reading.markdowns import BuyGet, ShareOff, find_markdowns
from bot.reading.names import Named, Names, NameSort, find_names
from bot.reading.offers import Unclear
from bot.reading.packs import Each, Loose, Multi, find_each, find_quantities
from bot.reading.sizes import find_sizes
from bot.reading.spans import Marked
from bot.reading.words import Sort, clean, is_english, lexicon, tokens_of, unseen_marks
from core.counts import Quantity
from core.group import Settings

MAX_LENGTH = 4096
"""Characters of the longest message a chat takes (Bot API); one as long may have lost its end."""

_FINDERS: tuple[Callable[[Marked], None], ...] = (
    find_markdowns,
    find_dates,
    find_sizes,
    find_amounts,
    find_limits,
    find_each,
    find_quantities,
)
_BOT_NAMES = frozenset(("clerk", "bot"))
_NAMES_AT_THE_EDGE = 3
UNCLEAR = "unclear"


@dataclass(frozen=True, slots=True)
class Listener:
    """Who speaks in which group: what reading needs besides the text."""

    names: Names
    settings: Settings
    speaker: str = ""


@dataclass(frozen=True, slots=True)
class Tried:
    """A form that was tried on a stretch of the message, and what came of it."""

    form: str
    words: str
    outcome: str


@dataclass(slots=True)
class Understood:
    """The readings of a message with how they were come by; no readings means talk between people."""

    marked: Marked
    readings: list[Reading] = field(default_factory=list)
    tried: list[Tried] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Hit:
    form: Form
    weight: int
    start: int
    end: int


class Reader:
    """The forms of all kinds, indexed by the first words of their cues."""

    def __init__(self, forms: Sequence[Form]) -> None:
        self._default = [form for form in forms if not form.cues and not form.asked]
        self._asked = [form for form in forms if form.asked]
        self._by_word: dict[str, list[tuple[Cue, Form, bool]]] = {}
        for form in forms:
            for phrases, forbids in ((form.cues, False), (form.never, True)):
                for phrase in phrases:
                    compiled = cue(phrase)
                    for word in compiled.parts[0] or ():
                        self._by_word.setdefault(word, []).append((compiled, form, forbids))

        self._long_words = [word for word in self._by_word if len(word) > 4]

    def read(self, text: str, at: datetime, listener: Listener) -> Understood:
        """What a message says. A pure function of text, time, speaker and names."""
        marked = mark(clean(text), at, listener)
        understood = Understood(marked)
        _Attempt(self, understood, listener).run()
        if understood.readings:
            complaint = _complaint(text)
            if complaint:
                understood.readings = [Reading(UNCLEAR, _Question(complaint))]
        return understood

    def hits(self, marked: Marked) -> tuple[list[_Hit], list[_Hit]]:
        """Every cue said in a message, and every phrase that rules a form out."""
        said: list[_Hit] = []
        forbidden: list[_Hit] = []
        for index, token in enumerate(marked.tokens):
            for compiled, form, forbids in self._by_word.get(self.spelt(marked, index), ()):
                if compiled.opening and not _opens(marked, index):
                    continue
                end = compiled.end_in(marked, index)
                if end is not None:
                    (forbidden if forbids else said).append(_Hit(form, compiled.weight, index, end))
        return said, forbidden

    def spelt(self, marked: Marked, index: int) -> str:
        """The word of a token, a slip in a first word of a cue put right."""
        word = marked.tokens[index].text
        if len(word) < 5 or word in self._by_word or not marked.is_sort(index, Sort.WORD) or is_english(word):
            return word
        close = process.extractOne(word, self._long_words, scorer=OSA.distance, score_cutoff=1)
        return close[0] if close else word

    def without_cue(self, asked: bool) -> list[Form]:
        """The forms that need no cue, those of a question first where one is asked."""
        return [*self._asked, *self._default] if asked else self._default


def _opens(marked: Marked, index: int) -> bool:
    """True among the first words of a sentence, before any span."""
    start = index
    while start > 0 and not _parts(marked, start - 1) and index - start < _NAMES_AT_THE_EDGE:
        start -= 1
    opening = start == 0 or _parts(marked, start - 1)
    before = (marked.text_at(at) for at in range(start, index))
    return opening and all(word in lexicon()["openers"] for word in before)


def _parts(marked: Marked, index: int) -> bool:
    return marked.tokens[index].sort is Sort.STOP or marked.tokens[index].text == ","


def mark(text: str, at: datetime, listener: Listener) -> Marked:
    """The tokens of a cleaned text with every span found in it."""
    marked = Marked(text, tokens_of(text), at, listener.settings)
    find_names(marked, listener.names)
    for find in _FINDERS:
        find(marked)
    return marked


def _complaint(text: str) -> str | None:
    if len(text) >= MAX_LENGTH:
        return f"That message has {len(text)} characters and may have lost its end. Send a few lines at a time, such as: 12 pencils 0.47 at corner store"
    if unseen_marks(text):
        return "That message holds hidden control or direction marks, which can turn a number round. Please type it anew, such as: 12 pencils 0.47 at corner store"
    return None


class _Question(Unclear):
    """A question as the slots of an unclear reading."""

    __slots__ = ()

    def as_json(self, currency: object) -> dict[str, object]:
        return {"question": self.question, "options": [choice.label for choice in self.choices]}


def as_slots(unclear: Unclear) -> Slots:
    """A question in the shape of a reading's slots."""
    return _Question(unclear.question, unclear.choices, unclear.hole)


@dataclass(slots=True)
class _Attempt:
    """One reading of one message."""

    reader: Reader
    understood: Understood
    listener: Listener
    said: list[_Hit] = field(default_factory=list)
    forbidden: list[_Hit] = field(default_factory=list)

    @property
    def marked(self) -> Marked:
        return self.understood.marked

    def run(self) -> None:
        self.said, self.forbidden = self.reader.hits(self.marked)
        pending: list[Sentence] = []
        spread: Form | None = None
        for sentence in sentences_of(self.marked):
            form = self.form_of(sentence)
            if form and form.spreads and not self.has(Need.AMOUNT, sentence):
                spread = form
                if any(self.has(Need.AMOUNT, before) for before in pending):
                    self.offers(pending, spread)
                    pending, spread = [], None
            elif form and not form.offers:
                self.offers(pending, spread)
                pending, spread = [], None
                self.build(form, (sentence.start, sentence.end))
            else:
                pending.append(sentence)
        self.offers(pending, spread)
        self.answer_when_called()

    def form_of(self, sentence: Sentence) -> Form | None:
        """The form of the heaviest cue in a sentence whose needs are met."""
        inside = [hit for hit in self.said if sentence.start <= hit.start < sentence.end]
        ruled_out = {id(hit.form) for hit in self.forbidden if sentence.start <= hit.start < sentence.end}
        priced = self.has(Need.AMOUNT, sentence)
        for hit in sorted(inside, key=lambda hit: (hit.form.spreads and not priced, -hit.weight)):
            outcome = "ruled out" if id(hit.form) in ruled_out else self.fault(hit.form, sentence)
            if outcome is None and not hit.form.offers and self.too_strange(hit.form, sentence, hit):
                outcome = "too many words that nothing explains"
            self.note(hit.form, (sentence.start, sentence.end), outcome or "fits")
            if outcome is None:
                return hit.form
        return None

    def fault(self, form: Form, sentence: Sentence) -> str | None:
        """Why a form cannot be meant, None where it can."""
        said = {self.marked.tokens[index].text for index in range(sentence.start, sentence.end)}
        for any_of in form.also:
            if not said & any_of:
                return "a word of it is missing"
        for need in form.needs:
            if (
                not self.has(need, sentence)
                and not form.spreads
                and not (need is Need.ITEM and self.one_item())
            ):
                return f"no {need.name.lower()}"
        for lack in form.lacks:
            if self.has(lack, sentence):
                return f"has {lack.name.lower()}"
        return None

    def has(self, need: Need, sentence: Sentence) -> bool:
        reach = sentence.start, sentence.end
        marked = self.marked
        if need is Need.AMOUNT:
            return self.priced(reach)
        if need is Need.ITEM:
            return any(span.value.sort is NameSort.ITEM for span in marked.each(Named, *reach))
        if need is Need.COUNT:
            return self.counted(reach)
        return self.has(Need.ITEM, sentence) or unknown_item(marked, reach) is not None

    def priced(self, reach: tuple[int, int]) -> bool:
        return any(
            span.value.role in (Role.PRICE, Role.NOW, Role.WAS, Role.MOST)
            for span in self.marked.each(Amount, *reach)
        )

    def counted(self, reach: tuple[int, int]) -> bool:
        return any(True for sort in (Quantity, Multi, Loose, Each) for _ in self.marked.each(sort, *reach))

    def one_item(self) -> str | None:
        """The only item of the whole message, to which "it" and "them" must refer."""
        names = {span.value.name for span in self.marked.each(Named) if span.value.sort is NameSort.ITEM}
        return names.pop() if len(names) == 1 else None

    def too_strange(self, form: Form, sentence: Sentence, hit: _Hit | None = None) -> bool:
        return self.strangeness((sentence.start, sentence.end), hit) > form.strange

    def strangeness(self, reach: tuple[int, int], hit: _Hit | None = None) -> int:
        """How many words of a stretch nothing explains; words of talk between people weigh three."""
        spoken = {
            index
            for one in self.said
            if one.form.kind == (hit and hit.form.kind)
            for index in range(one.start, one.end)
        }
        strange = [index for index in strange_words(self.marked, reach) if index not in spoken]
        talk = sum(2 for index in strange if self.marked.text_at(index) in lexicon()["talk"])
        return len(strange) + talk

    def note(self, form: Form, reach: tuple[int, int], outcome: str) -> None:
        self.understood.tried.append(Tried(f"{form.kind}: {form.name}", self.marked.said(*reach), outcome))

    def build(self, form: Form, reach: tuple[int, int], clauses: Sequence[Clause] = ()) -> None:
        """Let a form make its readings of a stretch."""
        heard = Heard(self.marked, reach, clauses, self.listener.speaker)
        for slots in form.build(heard):
            if isinstance(slots, Unclear):
                self.understood.readings.append(Reading(UNCLEAR, as_slots(slots)))
            elif Reading(form.kind, slots) not in self.understood.readings:
                self.understood.readings.append(Reading(form.kind, slots))

    def offers(self, sentences: list[Sentence], spread: Form | None) -> None:
        """Read a run of sentences that may hold offers, as one list."""
        if not sentences:
            return
        inherited: Form | None = None
        for clause in clauses_of(self.marked, sentences):
            sentence = next(one for one in sentences if one.start <= clause.reach[0] < one.end)
            own = self.form_of(Sentence(clause.reach[0], clause.reach[1], False)) or (
                self.form_of(sentence) if self.first_in(sentence, clause) else None
            )
            form = own or spread or inherited
            inherited = own or inherited
            chosen = self.choose(form, clause, sentence)
            if chosen:
                self.build(chosen, clause.reach, [clause])

    def first_in(self, sentence: Sentence, clause: Clause) -> bool:
        return clause.reach[0] <= sentence.start

    def choose(self, form: Form | None, clause: Clause, sentence: Sentence) -> Form | None:
        """The form by which a clause is read: the one whose cue was said, else one that needs none."""
        candidates = [form] if form else self.reader.without_cue(sentence.asked)
        for candidate in candidates:
            outcome = self.offer_fault(candidate, clause)
            self.note(candidate, clause.reach, outcome or "taken")
            if outcome is None:
                return candidate
        return None

    def offer_fault(self, form: Form, clause: Clause) -> str | None:
        reach = clause.reach
        if any(hit.form is form for hit in self.forbidden):
            return "ruled out"
        named = {span.value.sort for span in self.marked.each(Named, *reach)}
        known, counted, priced = NameSort.ITEM in named, self.counted(reach), self.priced(reach)
        plain = self.strangeness(reach) == 0
        if (
            not priced
            and not self.bare_priced(reach)
            and not (known and counted and NameSort.STORE in named and plain)
        ):
            return "no price"
        if not known and not unknown_item(self.marked, reach) and plain and (form.cues or counted):
            return None
        if not known and (not counted or self.is_talk(reach)):
            return "no item"
        allowed = form.strange - (not counted) + self.evidence(reach, known and counted and priced)
        strange = self.strangeness(reach) - self.named_words(reach, known)
        if self.spoken_to(reach):
            return "spoken to a member"
        return None if strange <= allowed else f"{strange} words that nothing explains, {allowed} allowed"

    def marked_down(self, reach: tuple[int, int]) -> bool:
        return any(True for sort in (ShareOff, BuyGet) for _ in self.marked.each(sort, *reach))

    def is_talk(self, reach: tuple[int, int]) -> bool:
        """True where the unknown item is a thing that people talk about and nobody packs."""
        unknown = unknown_item(self.marked, reach)
        words = range(*unknown) if unknown else range(0)
        return any(self.marked.text_at(index) in lexicon()["talk"] for index in words)

    def evidence(self, reach: tuple[int, int], full: bool) -> int:
        store = any(span.value.sort is NameSort.STORE for span in self.marked.each(Named, *reach))
        return int(store) + 2 * int(full) + (reach[1] - reach[0]) // 12

    def named_words(self, reach: tuple[int, int], known: bool) -> int:
        """Strange words that are the name of an unknown item or shop."""
        marked, used = self.marked, 0
        unknown = None if known else unknown_item(marked, reach)
        if unknown:
            used += unknown[1] - unknown[0]
        store = unknown_store(marked, reach)
        if store:
            used += min(len(store.split()), 3)
        return used

    def bare_priced(self, reach: tuple[int, int]) -> bool:
        """A number besides the count, which may be a price without its point."""
        named = [span.value.sort for span in self.marked.each(Named, *reach)]
        if NameSort.ITEM not in named or NameSort.KIT in named:
            return False
        loose = [span for span in self.marked.each(Loose, *reach) if self.in_digits(span.start)]
        packed = any(self.marked.each(Quantity, *reach)) or any(self.marked.each(Multi, *reach))
        return len(loose) > 1 or (packed and bool(loose))

    def in_digits(self, index: int) -> bool:
        return self.marked.tokens[index].sort is Sort.NUMBER

    def spoken_to(self, reach: tuple[int, int]) -> bool:
        """True where the words begin with a member's name and go on to that member."""
        for named in self.marked.each(Named, reach[0], reach[0] + 3):
            if named.value.sort is NameSort.MEMBER and self.marked.text_at(named.end) == ",":
                return True
        first = next(iter(self.marked.each(Named, reach[0], reach[0] + 1)), None)
        if first is None or first.value.sort is not NameSort.MEMBER:
            return False
        return self.marked.text_at(first.end) in (
            ",",
            "are",
            "r",
            "did",
            "u",
            "you",
            "can",
            "could",
            "will",
            "do",
        )

    def answer_when_called(self) -> None:
        """A message that calls the clerk by name is for the clerk, even where nothing in it is understood."""
        words = [token.text for token in self.marked.tokens if token.sort is Sort.WORD]
        edge = words[:_NAMES_AT_THE_EDGE] + words[-1:]
        if not self.understood.readings and _BOT_NAMES & set(edge):
            question = Unclear(
                "I did not understand that. Try: 12 pencils 0.47 at corner store, or type help"
            )
            self.understood.readings.append(Reading(UNCLEAR, as_slots(question)))
