"""``bought``: someone reports a purchase."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.reading.clauses import Clause
from bot.reading.each import Whole
from bot.reading.evidence import told_count
from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.offers import Frame, Offer, Unclear
from bot.reading.presence import marked_down
from bot.reading.spans import Marked
from bot.reading.words import singular
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.judging import unknown_item, verdict_on
from bot.skills.prices import wording
from bot.skills.prices.judging import doubt, said_again, sighting_of
from bot.skills.prices.offered import MONEY_TALK, OFFER, unbought
from bot.wording.judged import told_of
from bot.wording.things import capital, plural
from core.money import Currency
from core.prices import Purchase


@dataclass(frozen=True, slots=True)
class Bought:
    """A purchase: what the offer says was paid in all, on its day; no buyer is the speaker."""

    offer: Offer
    buyer: str | None = None

    @property
    def frame(self) -> Frame:
        """The words that make an offer this buyer's purchase."""
        return _frame(self.buyer)

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``bought``."""
        offer = self.offer
        slots: dict[str, object] = {
            "item": offer.item,
            "count": offer.count,
            "price": currency.plain(offer.price),
            "store": offer.store,
            "buyer": self.buyer,
            "on": offer.seen_on.isoformat() if offer.seen_on else None,
        }
        return {name: value for name, value in slots.items() if value is not None}


def _frame(buyer: str | None) -> Frame:
    return Frame(f"{buyer or ''} bought ".lstrip())


def _bought(heard: Heard) -> Sequence[Bought | Unclear]:
    found: list[Bought | Unclear] = []
    if unbought(heard):
        return found
    for clause in heard.clauses:
        if question := _how_many(heard, clause):
            found.append(question)
            continue
        buyer = _buyer(heard)
        for offer in clause.offers(_frame(buyer)):
            if isinstance(offer, Unclear):
                found.append(offer)
            else:
                day = offer.seen_on or heard.marked.today
                found.append(Bought(replace(offer, seen_on=day, until=None, limit=None), buyer))
    return found


def _how_many(heard: Heard, clause: Clause) -> Unclear | None:
    """The question about a purchase of several, as the plural or the price of them all says, that names no count."""
    if len(clause.items) != 1 or told_count(heard.marked, clause.reach) or marked_down(heard.marked, clause.reach):
        return None
    items = [span for span in named(heard.marked, clause.reach, NameSort.ITEM) if span.value.name == clause.items[0]]
    if not items:
        return None
    last = heard.marked.text_at(items[0].end - 1)
    several = last != singular(last) and not clause.items[0].endswith(last)
    of_all = heard.marked.each(Whole, *clause.reach) and heard.marked.text_at(items[0].start - 1) not in _ONE
    if not (several or of_all):
        return None
    hole = f"bought {{}} {heard.marked.said(*clause.reach)}"
    return Unclear(f"How many {plural(clause.items[0])} was that? Type the number.", (), hole)


_ONE = frozenset("a an one this that another my single".split())


def _buyer(heard: Heard) -> str | None:
    """The first member named who can have bought; None where that is left to the speaker."""
    members = named(heard.marked, heard.reach, NameSort.MEMBER)
    return next(
        (
            span.value.name
            for span in members
            if not _only_beside(heard.marked, span.start) and heard.marked.text_at(span.end) not in _OWING
        ),
        None,
    )


def _only_beside(marked: Marked, index: int) -> bool:
    """True where a purchase was only for or with the member named: "12 pencils 0.47 for me and Tobias"."""
    before = marked.text_at(index - 1)
    return before in _BESIDE or (before in ("and", "&") and _only_beside(marked, index - 2))


_OWING = frozenset("will owes owe should can must shall".split())
_BESIDE = frozenset("for with to from tell ask thank thanks".split())


_BUY = (
    "bought|purchased|bagged|ordered",
    "got|grabbed|snagged|nabbed|scored",
    "picked|pick up|some",
    "paid|payed|pd",
    "i|we|ive|weve got|took",
    "have|has|did bought|purchased|buy",
    "spent",
    "checked out with",
    "came|back|home home|with with|a|the|these|some",
    "came|come|coming|walked|went|ended|wound|drove back|home|out|away|up|off * with",
    "came|come|coming|walked out of * with",
    "just|ive|weve|i|we left * with",
    "^left|leaving * with",
    "my|our|todays purchase|purchases|haul|shopping|receipt|receipts|total|bill",
    "^receipt",
    "log|record|enter|add|book a|this|to|the purchase|purchases",
    "able|managed|had to buy|get|grab|pick",
    "ended up|by buying|getting|grabbing",
    "cost me|us",
    "set me|us back",
    "was|were|got charged",
    "as bought|purchased",
    "my own money|cash|pocket",
    "treated us|everyone|the|you * to",
)

FORMS = (
    Form(
        "bought",
        "a purchase",
        _bought,
        cues=_BUY,
        needs=OFFER,
        offers=True,
        never=(
            *MONEY_TALK,
            "they|theyre|have|theyve got",
            "has|have got",
            "flyer|leaflet|circular|catalog|catalogue|ad",
            "who|whos|where|wheres got|bought",
            "anyone|anybody got|bought",
            "you|u|they got",
        ),
        strange=3,
    ),
)
TEACH = (("got 6 boxes of 24 crayons at larkmoor, 3.30 total", "what was paid"),)


def answer(slots: Bought, desk: Desk) -> Answer | Ask:
    """Keep the purchase, and the price as one seen, and say how good it was."""
    sighting = sighting_of(slots.offer, desk)
    says = slots.frame.says(said_again(slots.offer, desk.settings.currency))
    if ask := unknown_item(sighting.item, says, desk):
        return ask
    verdict = verdict_on(sighting, desk)
    if ask := doubt(verdict, slots.offer, slots.frame, desk):
        return ask
    buyer = slots.buyer or desk.speaker
    purchase = Purchase(sighting.item, sighting.count, sighting.price, sighting.seen_on, buyer, sighting.store)
    kept = wording.purchase_words(purchase, desk.settings, desk.today)
    text = f"Bought: {kept}.\n{capital(wording.bought_line(verdict, told_of(verdict, desk.settings), desk.settings))}"
    return Answer(text, (sighting, purchase), f"bought {kept}", verdict=verdict)


KIND = Kind("bought", FORMS, answer, TEACH)
