"""What a message says of a case to be shared: the case, who has how much, or that it is open for all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from bot.reading.amounts import Amount, Role
from bot.reading.each import Each
from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.offers import Choice, Frame, Unclear, coins_or_notes
from bot.reading.packs import Loose
from bot.reading.presence import money_named
from bot.reading.strangers import strange_words
from bot.reading.wondering import asks_if_good
from bot.reading.words import singular
from bot.skills.shares.cases import BOX_WORDS, SHARING, Stated, case_in, extra_in, plain_price
from bot.skills.shares.opening import terms_in
from bot.skills.shares.parties import ME, Parties, Party, parties_in
from bot.wording.things import listed, plural
from core.counts import SHELF_PACKS, Quantity
from core.money import Currency
from core.shares import Wanted


@dataclass(frozen=True, slots=True)
class Sharing:
    """A case shared out among ``members``; without a case, the last purchase is; with no members it is open."""

    case: Stated | None
    members: tuple[Party, ...] = ()
    payer: str | None = None
    item: str | None = None
    least: int | None = None
    closes_at: datetime | None = None
    extra: int = 0
    """Minor units that come on top of the last purchase: tax, shipping."""
    kept: int = 0
    """Units that the speaker keeps of a case open for all."""

    @property
    def open(self) -> bool:
        """True for a case that members may ask for parts of."""
        return not self.members

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``split``; the rest is worked out where the case is stated."""
        slots: dict[str, object] = {"item": self.case.item if self.case else self.item}
        if self.case:
            slots |= {"count": self.case.count, "total": currency.plain(self.case.total)}
        slots["payer"] = self.payer
        slots = {name: value for name, value in slots.items() if value is not None}
        return {**slots, "members": [{"name": one.member, "units": one.units} for one in self.shown()]}

    def shown(self) -> list[Wanted]:
        """The members with their units, the rest as a number where the count is known."""
        left = (self.case.count if self.case else 0) - sum(party.units or 0 for party in self.members)
        resting = sum(party.rest for party in self.members)
        equal = any(party.units is None and not party.rest for party in self.members)
        rest = left // resting if self.case and resting and not equal else None
        return [Wanted(party.name, rest if party.rest else party.units) for party in self.members]


def shared(heard: Heard) -> Sequence[Sharing | Unclear]:
    """A stated case shared out."""
    parties = parties_in(heard)
    frame = Frame("split ", f" {parties_said(parties)}" if parties.takers else "")
    if _pack_for_each(heard):
        return [Unclear("Say how many units each gets, such as: split 100 soaps 40.00: Mei 25, the rest me")]
    if unsaid := _unsaid_cost(heard):
        return [
            Unclear(
                f"How much is the {unsaid}? Say it with its amount: split 100 soaps 40.00 + 2.50 {unsaid} with Ines"
            )
        ]
    case = case_in(heard, parties.tokens, frame)
    if isinstance(case, Unclear):
        return [case]
    if case is None:
        return _without_item(heard, parties)
    if question := _faulty(case, parties, heard):
        return [question]
    return [Sharing(case, parties.takers, parties.payer)]


def _pack_for_each(heard: Heard) -> bool:
    """True for "a pack each", where "each" is said of members and not of what a pack costs."""
    marked = heard.marked
    return any(marked.text_at(span.start - 1) in BOX_WORDS for span in marked.each(Each, *heard.reach))


def _unsaid_cost(heard: Heard) -> str | None:
    """Shipping that is named without its amount."""
    marked = heard.marked
    if any(span.value.role is Role.EXTRA for span in marked.each(Amount, *heard.reach)):
        return None
    for index in range(*heard.reach):
        if marked.text_at(index) in _SHIPPING and marked.text_at(index - 1) in ("+", "plus"):
            return marked.text_at(index)
    return None


_SHIPPING = frozenset("shipping postage delivery".split())


def _without_item(heard: Heard, parties: Parties) -> Sequence[Unclear]:
    """Asked of a count and a price that are shared out, of nobody says what."""
    seen = heard.marked.hiding(parties.tokens)
    counted = any(seen.each(Loose, *heard.reach))
    others = [index for index in strange_words(seen, heard.reach) if seen.text_at(index) not in SHARING]
    if not (parties.takers and counted and money_named(seen, heard.reach)) or others:
        return []
    return [Unclear("Which item is that? Say it so: split 144 sharpeners 12.60 between me and Ines")]


def handed_out(heard: Heard) -> Sequence[Sharing | Unclear]:
    """A case without a word of sharing, where at least two have their units or the rest."""
    parties = parties_in(heard)
    told = [party for party in parties.takers if party.units or party.rest]
    if len(told) < 2 or len(told) != len(parties.takers):
        return []
    return shared(heard) or last_shared(heard)


_THINGS = frozenset("it that tht this them those these".split())


def last_shared(heard: Heard) -> Sequence[Sharing | Unclear]:
    """The last purchase shared out: "split that with Ines"."""
    parties = parties_in(heard)
    said = set(heard.said)
    items = named(heard.marked, heard.reach, NameSort.ITEM)
    if items and plain_price(heard.marked, heard.reach) is not None:
        return []
    if items and (counted := _count_beside(heard, items[0].start)):
        frame = Frame(f"split {counted} {items[0].value.name} ", f" {parties_said(parties)}")
        if number := _bare_price(heard, parties, counted):
            return [coins_or_notes(number, heard.marked.settings.currency, frame)]
        return [
            Unclear(f"What did the {counted} {plural(items[0].value.name)} cost in all? Type it.", (), frame.says("{}"))
        ]
    if items and said & BOX_WORDS and said & _ARTICLES and not said & _THINGS:
        example = f"split 144 {items[0].value.name} 12.60 {parties_said(parties)}"
        return [Unclear(f"How many are in the case, and what did it cost? Say it so: {example}")]
    if parties.odd and parties.takers:
        return [Unclear(f"Say how many units each gets, such as: split that: {_other(heard)} 24, the rest me")]
    if parties.doubt and parties.takers:
        return [Unclear(f"Who shares it? Name them so: split that between {_such_as(heard, 2)}")]
    extra = extra_in(heard)
    if isinstance(extra, Unclear):
        return [extra]
    pointed = heard.reach[0] > 0 or bool(said & _POINTS) or items
    if not parties.takers or not pointed:
        return []
    if parties.takers == (Party(ME),) or len(items) > 1:
        return []
    item = items[0].value.name if items else None
    return [Sharing(None, parties.takers, parties.payer, item, extra=extra)]


def _bare_price(heard: Heard, parties: Parties, counted: int) -> int | None:
    """The one number besides the count that may be a price without its point."""
    loose = [span for span in heard.marked.each(Loose, *heard.reach) if span.start not in parties.tokens]
    numbers = [span.value.units for span in loose if span.value.units != counted]
    return numbers[0] if len(numbers) == 1 else None


def _count_beside(heard: Heard, start: int) -> int | None:
    """The units counted right before an item."""
    marked = heard.marked
    loose = [(span.end, span.value.units) for span in marked.each(Loose, *heard.reach)]
    packs = [(span.end, span.value.units) for span in marked.each(Quantity, *heard.reach)]
    return next((units for end, units in [*loose, *packs] if end == start and units), None)


_POINTS = _THINGS | frozenset("last ones one lot purchase what thing above foregoing".split())
_ARTICLES = frozenset(("a", "an"))


def parties_said(parties: Parties) -> str:
    """The takers as a message says them again."""
    if all(party.units is None and not party.rest for party in parties.takers):
        paid = f", paid by {parties.payer}" if parties.payer else ""
        return f"between {listed(parties.names)}{paid}"
    said = [f"{party.name} {'the rest' if party.rest else party.units or ''}".strip() for party in parties.takers]
    return f": {', '.join(said)}" + (f", paid by {parties.payer}" if parties.payer else "")


def _faulty(case: Stated, parties: Parties, heard: Heard) -> Unclear | None:
    """What is wrong with the parts of a stated case, or missing; None where nothing is."""
    said = case.said_again(heard.marked.settings.currency)
    takers = parties.takers
    units = [party for party in takers if party.units]
    stated = sum(party.units or 0 for party in units)
    if stated > case.count:
        each = listed([f"{party.name} {party.units}" for party in units])
        return Unclear(
            f"{each} make {stated}, but there are only {case.count}. Say it again with less, such as:"
            f" split {said}: {_other(heard)} {case.count // 2}, the rest me"
        )
    if not parties.odd and (question := _in_boxes(case, takers, heard)):
        return question
    if parties.odd:
        return Unclear(
            f"Say how many units each gets, such as: split {said}: me {case.count // 3}, {_other(heard)} the rest"
        )
    if parties.doubt:
        such = f"split {said} between {_such_as(heard, 2)}"
        return Unclear(f"Who shares it, and who paid for all of it? Name them so: {such}, paid by me")
    words = set(heard.said)
    if "other" in words and len(units) == len(takers) and 0 < stated < case.count:
        each = listed([f"{party.name} {party.units}" for party in units])
        return Unclear(f"{each} make {stated} of {case.count}. Who has the other {case.count - stated}?")
    hole = f"split {said} {{}}"
    everyone = Choice("Everyone equally", f"split {said} between all of us")
    offered = Choice("Open it to all", f"i can get {said}, who wants some?")
    if parties.ways and parties.ways != len(takers):
        such = f"split {said} between {_such_as(heard, parties.ways - 1)}"
        return Unclear(f"Which {parties.ways} share it? Say their names, such as: {such}", (), hole, names=True)
    if not takers:
        return Unclear(
            f"Who shares it? Say the names, such as: split {said} between {_such_as(heard, 2)}",
            (everyone, offered),
            hole,
            names=True,
        )
    return None


def _in_boxes(case: Stated, takers: tuple[Party, ...], heard: Heard) -> Unclear | None:
    """Asked where the numbers may count the boxes of the case: "6 boxes of 24: 2 for Ines, 4 for Tobias"."""
    packs = [span.value for span in heard.marked.each(Quantity, *heard.reach) if span.value.pack_size]
    stated = sum(party.units or 0 for party in takers)
    resting = any(party.rest for party in takers)
    whole = next((one for one in packs if one.packs > 1 and one.units == case.count), None)
    if whole is None or not stated or not all(party.units or party.rest for party in takers):
        return None
    if not (stated < whole.packs if resting else stated == whole.packs):
        return None
    said = case.said_again(heard.marked.settings.currency)
    boxes = tuple(replace(party, units=party.units and party.units * (whole.pack_size or 1)) for party in takers)
    choices = [
        Choice(label, f"split {said} {parties_said(Parties(parts))}")
        for label, parts in (("Boxes", boxes), ("Single units", takers))
    ]
    return Unclear("Are those boxes, or single units?", tuple(choices))


def _other(heard: Heard) -> str:
    return next((name for name in heard.members if name != heard.speaker), "Ines")


def _such_as(heard: Heard, number: int) -> str:
    others = [name for name in heard.members if name != heard.speaker][:number]
    return listed([ME, *(others or ("Ines", "Tobias"))])


def opened(heard: Heard) -> Sequence[Sharing | Unclear]:
    """A case open for all."""
    terms = terms_in(heard)
    payer = _offerer(heard)
    parties = parties_in(heard)
    own = next((party.units for party in parties.takers if party.name == ME and party.units), 0)
    frame = Frame(f"{payer or 'i'} can get ", ", who wants some?")
    case = case_in(heard, terms.tokens | (parties.tokens if own else frozenset()), frame)
    if case is None or _only_seen(heard, case):
        return []
    if isinstance(case, Unclear):
        return [case]
    if terms.closes_at is not None and terms.closes_at <= _now(heard):
        example = frame.says(case.said_again(heard.marked.settings.currency))
        return [Unclear(f"That time has passed. Say until when, such as: {example} by friday 6pm")]
    least = case.count if terms.all_of_it else terms.least
    return [Sharing(case, (), payer, None, least, terms.closes_at, kept=min(own, case.count))]


def _only_seen(heard: Heard, case: Stated | Unclear) -> bool:
    """Whether a shelf pack was but seen in a shop, or is asked about, without a word of a case to be shared."""
    if (_BULK | SHARING | BOX_WORDS) & {singular(word) for word in heard.said}:
        return False
    if asks_if_good(heard.marked, heard.reach):
        return True
    return isinstance(case, Stated) and case.store is not None and case.count <= max(SHELF_PACKS)


_BULK = frozenset("get grab order open opening buy fetch taker minimum min gross in join going offer claim".split())


def _now(heard: Heard) -> datetime:
    at = heard.marked.at
    return at if at.tzinfo else at.replace(tzinfo=heard.marked.settings.zone)


def _offerer(heard: Heard) -> str | None:
    """The member who can get the case, where that is not the speaker: "Ines can get 200 soaps for 31.00"."""
    for span in named(heard.marked, heard.reach, NameSort.MEMBER):
        able = heard.marked.text_at(span.end) in ("can", "could") and heard.marked.text_at(span.end + 1) in _GETS
        if able or heard.marked.text_at(span.end) in ("found", "offers"):
            return span.value.name if span.value.name != heard.speaker else None
    return None


_GETS = frozenset("get buy order grab bring pick have find fetch".split())
