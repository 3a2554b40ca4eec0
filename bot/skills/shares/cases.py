"""The case of a split: what it is, how many, and all that is to be shared of its cost."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from bot.reading.amounts import Amount, Role
from bot.reading.clauses import Clause, clause_over
from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.offers import Frame, Offer, Unclear
from bot.reading.packs import Loose, Multi
from bot.reading.presence import counted, money_named
from bot.reading.spans import Marked, Reach
from bot.reading.strangers import unknown_item
from bot.reading.taxes import Tax
from bot.reading.words import lexicon, singular
from bot.wording.things import plural
from core.counts import Quantity
from core.money import Currency, TooLargeError, TooManyDecimalsError, half_up


@dataclass(frozen=True, slots=True)
class Stated:
    """A case as stated: ``total`` minor units for ``count`` units, tax and shipping in, discounts off."""

    item: str
    count: int
    total: int
    store: str | None = None
    on: date | None = None

    def said_again(self, currency: Currency) -> str:
        """The case as a message says it again."""
        place = f" at {self.store}" if self.store else ""
        place += f", on {self.on.isoformat()}" if self.on else ""
        return f"{self.count} {plural(self.item)} {currency.plain(self.total)}{place}"


def case_in(heard: Heard, hidden: frozenset[int], frame: Frame) -> Stated | Unclear | None:
    """The case named in a stretch, the hidden tokens left out; a question where a part is missing; None for none."""
    sharing = frozenset(index for index in range(*heard.reach) if heard.marked.text_at(index) in SHARING)
    seen = _plainly(heard.marked.hiding(hidden | sharing), heard.reach)
    known = named(seen, heard.reach, NameSort.ITEM)
    unknown = None if known else unknown_item(seen, heard.reach)
    priced = money_named(seen, heard.reach) or (known and plain_price(seen, heard.reach) is not None)
    if not (known or unknown) or not priced:
        return None
    if not known and (_is_talk(seen, heard.reach) or not counted(seen, heard.reach)):
        return None
    _take_plain_price(seen, heard.reach)
    clause = _as_known(clause_over(seen, heard.reach), [span.value.name for span in known])
    if unclear := _tax_unclear(clause, frame):
        return unclear
    offer = clause.offers(frame)[0]
    if isinstance(offer, Unclear):
        return offer
    if offer.count == 1:
        return _how_many(offer, frame, seen.settings.currency)
    return Stated(offer.item, offer.count, half_up(offer.price), offer.store, offer.seen_on)


BOX_WORDS = frozenset("pack packet box bag case carton crate tub".split())
"""What a bulk case may be counted in, in the singular; of the words for containers, those that are no item."""


def is_box(word: str) -> bool:
    """True for a word for one or several boxes of a case."""
    return singular(word) in BOX_WORDS


SHARING = frozenset("split splits splitting share sharing divide divvy halves shares".split())
"""Words of sharing, which are no item."""


def _plainly(marked: Marked, reach: Reach) -> Marked:
    """The stretch with a lone "carton of" out of the way of its count, and an amount off as a deduction."""
    packs = [span for span in marked.each(Quantity, *reach) if span.value == Quantity(1, None)]
    sized = any(span.value.pack_size for span in marked.each(Quantity, *reach))
    if packs and (sized or any(marked.each(Loose, *reach)) or any(marked.each(Multi, *reach))):
        marked = marked.hiding(frozenset(index for span in packs for index in range(span.start, span.end)))
    for span in marked.each(Amount, *reach):
        if span.value.role is Role.OFF:
            marked.unmark(span)
            marked.mark(span.start, span.end, replace(span.value, role=Role.LESS))
    return marked


def _as_known(clause: Clause, known: list[str]) -> Clause:
    """A case of something is no pencil case: "soap case, 72 bars"."""
    named_apart = known and clause.items and clause.items[0].endswith((" case", " carton", " box"))
    return replace(clause, items=tuple(dict.fromkeys(known))) if named_apart else clause


def _is_talk(marked: Marked, reach: Reach) -> bool:
    """True where people talk of things that nobody packs."""
    return any(marked.text_at(index) in lexicon()["talk"] for index in range(*reach))


def _how_many(offer: Offer, frame: Frame, currency: Currency) -> Unclear:
    hole = frame.says(f"{{}} {offer.item} {currency.plain(offer.price)}")
    return Unclear(f"How many {plural(offer.item)} are in the case? Type the number.", (), hole)


def plain_price(marked: Marked, reach: Reach) -> int | None:
    """Where a number stands that must be a price in whole money: in coins it were less than one for each unit.

    Only beside a count right before its item: "paid 18 for 96 combs". A currency without coins has only whole money.
    """
    items = {span.start for span in named(marked, reach, NameSort.ITEM)}
    loose = marked.each(Loose, *reach)
    counts = [span for span in loose if span.end in items or span.end + 1 in items]
    if money_named(marked, reach) or len(loose) != 2 or len(counts) != 1:
        return None
    [price] = [span for span in loose if span is not counts[0]]
    surely = not marked.settings.currency.digits or price.value.units < counts[0].value.units
    return price.start if surely else None


def _take_plain_price(marked: Marked, reach: Reach) -> None:
    at = plain_price(marked, reach)
    for span in marked.each(Loose, *reach):
        if span.start == at:
            marked.unmark(span)
            marked.mark(span.start, span.end, Amount(Fraction(span.value.units)))


def extra_in(heard: Heard) -> int | Unclear:
    """What comes on top of a purchase already told, less what comes off it, in minor units."""
    marked = heard.marked
    if marked.each(Tax, *heard.reach):
        return Unclear("How much is the tax? Say it as an amount, such as: split that with Ines, plus 1.04 tax")
    sign = {Role.EXTRA: 1, Role.LESS: -1}
    amounts = [(sign.get(span.value.role, 0), span.value.value) for span in marked.each(Amount, *heard.reach)]
    try:
        return sum(side * marked.settings.currency.minor(value) for side, value in amounts)
    except (TooLargeError, TooManyDecimalsError):
        return Unclear("That is no amount of this currency. Try: split that with Ines, plus 1.04 tax")


def _tax_unclear(clause: Clause, frame: Frame) -> Unclear | None:
    """Asked of "plus tax" where the group has no rate."""
    marked = clause.marked
    rates = [span for span in marked.each(Tax, *clause.reach) if span.value.percent is None]
    if not rates or marked.settings.tax_rate is not None:
        return None
    before, after = marked.said(clause.reach[0], rates[0].start), marked.said(rates[0].end, clause.reach[1])
    return Unclear("How much is the tax? Type the amount.", (), frame.says(f"{before} {{}} tax {after}".rstrip()))
