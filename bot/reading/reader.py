"""From a message to its readings: spans are marked, forms are tried, and where two fit a question is asked."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime

from bot.reading.clauses import Clause, clauses_of
from bot.reading.cues import CueIndex, Hit
from bot.reading.evidence import BOT_NAMES, bare_priced, calls_clerk, fault, has, offer_fault, only_priced, strangeness
from bot.reading.form import Form, Heard, Need, Reading, Slots
from bot.reading.marking import Listener, mark
from bot.reading.namesakes import which_member
from bot.reading.offers import Unclear
from bot.reading.packs import Loose
from bot.reading.sentences import LONG, Sentence, between_commas, sentences_of
from bot.reading.spans import Marked, Reach
from bot.reading.strangers import counted_strangers
from bot.reading.wondering import asks_others, only_asks
from bot.reading.words import Sort, clean, lexicon, unseen_marks
from core.counts import Quantity
from core.money import Currency

MAX_LENGTH = 4096
"""Characters of the longest message a chat takes (Bot API); one as long may have lost its end."""

UNCLEAR = "unclear"
_WORDS_FOR_ONE_MORE = 8
"""Of how many words of a whole message one more may go unexplained."""
_JOINTS = frozenset((",", "and", "&", "then", "but"))
_SUBJECTS = frozenset(("i", "we", "ive", "weve", "also", "then"))
_SHORT = 8
"""Tokens of a message that is short."""
_FRAGMENT = 2
"""Tokens of a sentence that is but a part of one: "pencils. cheapest. where."."""
_FOR_A_QUESTION = 1
"""How many more unexplained words a question mark lets pass."""
_EXAMPLE = "12 pencils 0.47 at corner store"


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
class Asked:
    """A question as the slots of an unclear reading."""

    unclear: Unclear

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``unclear``."""
        del currency
        return {
            "question": self.unclear.question,
            "options": [choice.label for choice in self.unclear.choices],
        }


class Reader:
    """Reads messages by the forms of all kinds."""

    def __init__(self, forms: Sequence[Form]) -> None:
        self.cues = CueIndex(forms)
        self.order = {form: place for place, form in enumerate(forms)}
        self._plain = [form for form in forms if not form.cues and not form.asked and not form.alone]
        self.alone = [form for form in forms if form.alone]
        self._asked = [form for form in forms if form.asked]
        self.asks = self._asked[0] if self._asked else None

    def read(self, text: str, at: datetime, listener: Listener) -> Understood:
        """What a message says. A pure function of text, time, speaker and names."""
        understood = Understood(mark(clean(text), at, listener))
        _Attempt(self, understood, listener).run()
        complaint = _complaint(text) if understood.readings else None
        if question := which_member(understood.marked, understood.readings):
            understood.readings = [Reading(UNCLEAR, Asked(question))]
        if complaint:
            understood.readings = [Reading(UNCLEAR, Asked(Unclear(f"{complaint}, such as: {_EXAMPLE}")))]
        return understood

    def without_cue(self, asked: bool) -> list[Form]:
        """The forms that need no cue, those of a question first where one is asked."""
        return [*self._asked, *self._plain] if asked else self._plain


def _complaint(text: str) -> str | None:
    if len(text) >= MAX_LENGTH:
        return f"That message has {len(text):,} characters and may have lost its end. Send a few lines at a time"
    if unseen_marks(text):
        return "That message holds hidden marks, which can make a number look like another. Please type it anew"
    return None


@dataclass(slots=True)
class _Attempt:
    """One reading of one message."""

    reader: Reader
    understood: Understood
    listener: Listener
    said: list[Hit] = field(default_factory=list)
    forbidden: list[Hit] = field(default_factory=list)
    later: list[Reading] = field(default_factory=list)
    settled: list[Reach] = field(default_factory=list)
    """Sentences that are read by themselves: what they say rules out nothing elsewhere."""

    @property
    def marked(self) -> Marked:
        return self.understood.marked

    def run(self) -> None:
        """Read what is said in the whole message, and the rest of it by its sentences."""
        self.said, self.forbidden = self.reader.cues.said(self.marked)
        end = self.whole()
        sentences = sentences_of(self.marked, end)
        self.by_sentences([part for sentence in sentences for part in self.set_apart(sentence)])
        self.understood.readings.extend(self.later)
        if not self.understood.readings and len(self.marked.tokens) <= _SHORT:
            self.by_itself()
        self.answer_when_called()

    def by_itself(self) -> None:
        """Read a short message that nothing explains by the forms made for such."""
        reach = (0, len(self.marked.tokens))
        if all(part.end - part.start <= _FRAGMENT for part in sentences_of(self.marked, reach[1])):
            form, found = self.read_as(Sentence(*reach, False), False, None)
            self.add(found if form else [])
        for form in self.reader.alone if not self.understood.readings else ():
            ruled_out = any(hit.form is form for hit in self.forbidden)
            if not ruled_out and fault(self.marked, form, reach) is None:
                self.build(form, reach)

    def whole(self) -> int:
        """Read by the forms that look at the whole message; where what they leave to others ends."""
        end = len(self.marked.tokens)
        hits = [hit for hit in self.said if hit.form.whole]
        for hit in sorted(hits, key=lambda hit: (not hit.form.first, -hit.weight, self.reader.order[hit.form])):
            start = hit.start if self.left_before(hit) else 0
            if hit.form.first and not self.says_anything_before(start):
                start = 0
            outcome = self.outcome_of(hit, (start, end))
            if outcome is None:
                self.later = self.built(hit.form, (start, end))
                outcome = None if self.later else "not said in full"
            self.note(hit.form, (start, end), outcome or "fits")
            if outcome is None:
                self.said = [one for one in self.said if one.end <= start]
                self.forbidden = [one for one in self.forbidden if one.end <= start]
                return start
        return end

    def says_anything_before(self, end: int) -> bool:
        """Whether the words up to a token are read as something by themselves."""
        return any(self.says_something(sentence) for sentence in sentences_of(self.marked, end))

    def left_before(self, hit: Hit) -> bool:
        """Whether words stand before a cue that leave what stands there to other forms."""
        return any(self.marked.text_at(index) in hit.form.leaves for index in range(hit.start))

    def set_apart(self, sentence: Sentence) -> list[Sentence]:
        """The sentence, parted where a thing of its own begins: "got 10 pens 1.00 and used 5 combs"."""
        for index in range(sentence.start + 1, sentence.end - 1):
            if self.marked.text_at(index) not in _JOINTS:
                continue
            left = replace(sentence, end=index)
            right = replace(sentence, start=index + 1)
            if self.stands_apart(left, right) or self.leads(left, right):
                return [left, *self.set_apart(right)]
        return [sentence]

    def stands_apart(self, left: Sentence, right: Sentence) -> bool:
        """Whether a thing of its own is said behind another."""
        if not self.opens_apart(right.start):
            return False
        form, found = self.read_as(right, False, None)
        return form is not None and form.apart and bool(found) and self.says_something(left)

    def leads(self, left: Sentence, right: Sentence) -> bool:
        """Whether a thing is said that any other may follow."""
        if not any(hit.form.leads and left.start <= hit.start < left.end for hit in self.said):
            return False
        form, found = self.read_as(left, False, None)
        return form is not None and form.leads and bool(found) and self.says_something(right)

    def opens_apart(self, index: int) -> bool:
        """Whether a cue of a form that may stand apart begins here, with at most an "I" or the like before it."""
        starts = (index, index + (self.marked.text_at(index) in _SUBJECTS))
        return any(hit.form.apart and hit.start in starts for hit in self.said)

    def says_something(self, sentence: Sentence) -> bool:
        """Whether a sentence is read as it stands, or may be an offer."""
        form, found = self.read_as(sentence, False, None)
        priced = self.priced(sentence.reach) and has(self.marked, Need.ITEM, sentence.reach)
        return bool(found) or (priced and (form is None or form.offers or form.spreads))

    def by_sentences(self, sentences: list[Sentence]) -> None:
        """Read sentence by sentence; sentences that hold offers are read together, as one list."""
        pending: list[Sentence] = []
        spread: Form | None = None
        listed: Form | None = None
        for sentence in sentences:
            told = any(has(self.marked, Need.AMOUNT, before.reach) for before in pending)
            form, found = self.read_as(sentence, told, listed)
            form, found = self.part_by_part(sentence, form, found)
            if told and (form is None or form.offers) and asks_others(self.marked, sentence.reach):
                self.settled.append(sentence.reach)
                continue
            if form is None and told and only_asks(self.marked, sentence.reach):
                form = self.reader.asks
            if form and form.spreads and not self.priced(sentence.reach):
                spread = form
                if told:
                    self.offers(pending, spread)
                    pending, spread = [], None
            elif form and not form.offers:
                self.settled += [sentence.reach] if found else []
                self.offers(pending, spread)
                pending, spread, listed = [], None, form
                self.add(found)
            elif not (listed and sentence.asked and only_priced(self.marked, sentence.reach)):
                pending.append(sentence)
        self.offers(pending, spread)

    def read_as(self, sentence: Sentence, told: bool, listed: Form | None) -> tuple[Form | None, list[Reading]]:
        """The form of a sentence; one that is no offer with its readings, the first that makes any."""
        heads: Form | None = None
        for form in self.forms_of(sentence.reach, told):
            if form.offers or (form.spreads and not self.priced(sentence.reach)):
                return form, []
            if found := self.built(form, sentence.reach):
                return form, found
            if form.lists and not (form.needs and self.holds_needs(form, sentence.reach)):
                heads = heads or form
        carried = self.carried_on(listed, sentence)
        return carried or heads, self.built(carried, sentence.reach) if carried else []

    def part_by_part(
        self, sentence: Sentence, form: Form | None, found: list[Reading]
    ) -> tuple[Form | None, list[Reading]]:
        """The parts of a sentence between commas, where each says a thing of its own; of a long one, those that do."""
        parts = between_commas(self.marked, sentence)
        if len(parts) < 2 or (form and not form.apart):
            return form, found
        read = [self.read_as(part, False, None) for part in parts]
        plain = [(one, readings) for one, readings in read if one and readings and one.apart]
        kinds = {one.kind for one, _ in plain}
        told_apart = len(plain) == len(parts) and len(kinds) > 1
        rambling = not form and plain and sentence.end - sentence.start > LONG
        if not (told_apart or rambling):
            return form, found
        return plain[-1][0], [reading for _, readings in plain for reading in readings]

    def holds_needs(self, form: Form, reach: Reach) -> bool:
        """Whether all that a form needs stands in a stretch."""
        return all(has(self.marked, need, reach) for need in form.needs)

    def priced(self, reach: Reach) -> bool:
        """Whether a stretch names a price, be it as a bare number."""
        return has(self.marked, Need.AMOUNT, reach) or bare_priced(self.marked, reach)

    def carried_on(self, listed: Form | None, sentence: Sentence) -> Form | None:
        """The form of the sentence before, where this one only goes on with its list."""
        if listed is None or not (listed.lists or (Need.AMOUNT in listed.needs and sentence.listed)):
            return None
        if listed.lists and not self.holds_needs(listed, sentence.reach):
            return None
        plain = fault(self.marked, listed, sentence.reach) is None
        return listed if plain and not self.strange_to(listed, sentence.reach) else None

    def strange_to(self, form: Form, reach: Reach) -> int:
        """How many words of a stretch are strange to a form; a list of anything takes the unknown things it counts."""
        taken: list[Reach] = []
        if form.lists and not form.needs:
            counts = [(span.start, span.end) for sort in (Quantity, Loose) for span in self.marked.each(sort, *reach)]
            taken = counted_strangers(self.marked, reach, counts)
        explained = {index for run in taken for index in range(*run)}
        explained |= {index for index in range(*reach) if self.marked.text_at(index) in form.knows}
        return strangeness(self.marked, reach, self.said, form.kind, explained)

    def offer_form_of(self, reach: Reach) -> Form | None:
        """The form of the heaviest cue of an offer said in a stretch, of those that can be meant."""
        return next((form for form in self.forms_of(reach) if form.offers or form.spreads), None)

    def forms_of(self, reach: Reach, told: bool = False) -> Iterator[Form]:
        """The forms whose cues are said in a stretch and that can be meant, the heaviest cue first.

        A cue that speaks of an offer beside it weighs less, unless one was ``told`` right before.
        """
        inside = [hit for hit in self.said if reach[0] <= hit.start < reach[1] and not hit.form.whole]
        priced = has(self.marked, Need.AMOUNT, reach)
        lone = not priced and not told
        tried: set[int] = set()
        for hit in sorted(inside, key=lambda hit: (hit.form.spreads and lone, hit.form.yields, -hit.told)):
            if id(hit.form) in tried:
                continue
            tried.add(id(hit.form))
            outcome = self.outcome_of(hit, reach)
            self.note(hit.form, reach, outcome or "fits")
            if outcome is None:
                yield hit.form

    def outcome_of(self, hit: Hit, reach: Reach) -> str | None:
        """Why a form whose cue was said is not taken, None where it is."""
        if any(one.form is hit.form and reach[0] <= one.start < reach[1] for one in self.forbidden):
            return "ruled out"
        wrong = fault(self.marked, hit.form, reach)
        if wrong or hit.form.offers:
            return wrong
        strange = self.strange_to(hit.form, reach)
        asked = _FOR_A_QUESTION if "?" in self.marked.text_at(reach[1]) else 0
        asked += (reach[1] - reach[0]) // _WORDS_FOR_ONE_MORE if hit.form.whole else 0
        return f"{strange} words that nothing explains" if strange > hit.form.strange + asked else None

    def offers(self, sentences: list[Sentence], spread: Form | None) -> None:
        """Read a run of sentences that may hold offers, as one list."""
        inherited: Form | None = None
        for clause in clauses_of(self.marked, sentences):
            sentence = next(one for one in sentences if one.start <= clause.reach[0] < one.end)
            own = self.offer_form_of(clause.reach)
            if own is None and clause.reach[0] <= sentence.start:
                own = self.offer_form_of(sentence.reach)
            if own and own.yields and (spread or sentence.asked):
                own = spread
            self.offer(own or spread or inherited, clause, sentence)
            inherited = own or inherited

    def offer(self, form: Form | None, clause: Clause, sentence: Sentence) -> None:
        """Read a clause by the form whose cue was said, else by one that needs none."""
        for candidate in [form] if form else self.reader.without_cue(sentence.asked):
            outcome = "ruled out" if self.is_ruled_out(candidate) else None
            outcome = outcome or offer_fault(self.marked, candidate, clause.reach, self.said)
            self.note(candidate, clause.reach, outcome or "taken")
            if outcome is None:
                self.build(candidate, clause.reach, [clause])
                return

    def is_ruled_out(self, form: Form) -> bool:
        """Whether words rule a form of an offer out, be it beside the offer."""
        hits = [hit.start for hit in self.forbidden if hit.form is form]
        return any(not any(start <= hit < end for start, end in self.settled) for hit in hits)

    def build(self, form: Form, reach: Reach, clauses: Sequence[Clause] = ()) -> None:
        """Let a form make its readings of a stretch."""
        self.add(self.built(form, reach, clauses))

    def add(self, readings: Sequence[Reading]) -> None:
        """Take readings; the same said twice in a message is one."""
        for reading in readings:
            if reading not in self.understood.readings:
                self.understood.readings.append(reading)

    def built(self, form: Form, reach: Reach, clauses: Sequence[Clause] = ()) -> list[Reading]:
        """The readings that a form makes of a stretch."""
        names = self.listener.names
        heard = Heard(
            self.marked,
            reach,
            clauses,
            self.listener.speaker,
            names.members,
            names.kits,
            names.sales,
            names.collected,
        )
        return [_reading(form.kind, slots) for slots in form.build(heard)]

    def note(self, form: Form, reach: Reach, outcome: str) -> None:
        """Keep what came of a form, for ``read --why``."""
        self.understood.tried.append(Tried(f"{form.kind}: {form.name}", self.marked.said(*reach), outcome))

    def answer_when_called(self) -> None:
        """A message that calls the clerk is for the clerk, even where nothing in it is understood."""
        rest = {token.text for token in self.marked.tokens if token.sort in (Sort.WORD, Sort.NUMBER)} - BOT_NAMES
        is_kind = bool(rest) and rest <= lexicon()["kind"] and not self.marked.text.rstrip().endswith("?")
        if calls_clerk(self.marked) and not is_kind and not self.understood.readings:
            question = Unclear(f"I did not understand that. Try: {_EXAMPLE}, or type help")
            self.understood.readings.append(_reading(UNCLEAR, question))


def _reading(kind: str, slots: Slots | Unclear) -> Reading:
    return Reading(UNCLEAR, Asked(slots)) if isinstance(slots, Unclear) else Reading(kind, slots)
