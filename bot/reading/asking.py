"""The questions about an offer that has two sensible readings, or misses a part."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from bot.reading.amounts import Amount, Role
from bot.reading.each import Each, Whole
from bot.reading.markdowns import BuyGet, ShareOff
from bot.reading.offers import Choice, Frame, Terms, Unclear, coins_or_notes
from bot.reading.spans import Found, Marked
from bot.reading.taxes import Tax
from bot.wording.things import plural
from core.counts import MAX_UNITS, SHELF_PACKS
from core.markdowns import Marked as MarkedDown
from core.money import Currency

NO_MARKDOWN = Unclear("That markdown leaves no price. Try: 12 pencils was 0.60 now 0.40")
NO_PRICE = Unclear("A price must be more than nothing. Try: 12 pencils 0.47")


@dataclass(frozen=True, slots=True)
class Asking:
    """What a question about an offer is made from: the clause, its terms, the words around it."""

    marked: Marked
    reach: tuple[int, int]
    terms: Terms
    frame: Frame

    @property
    def currency(self) -> Currency:
        """The group's currency."""
        return self.marked.settings.currency

    @property
    def things(self) -> str:
        """The item in the plural."""
        return plural(self.terms.item)

    def choice(self, label: str, middle: str) -> Choice:
        """A choice that says the offer again in other words."""
        return Choice(label, self.frame.says(middle))

    def price_words(self) -> str:
        """The price part of the clause as it was written, to be said again."""
        spans: list[Found[object]] = [
            span for sort in (Amount, ShareOff, BuyGet, Each, Whole) for span in self.marked.each(sort, *self.reach)
        ]
        spans.sort(key=lambda span: span.start)
        return " ".join(self.price_said(span) for span in spans)

    def price_said(self, span: Found[object]) -> str:
        """One part of the price as written; the "was" that stands apart from what was to pay goes before it."""
        said = self.marked.said(span.start, span.end)
        apart = isinstance(span.value, Amount) and span.value.role is Role.WAS and not said[0].isalpha()
        return f"was {said}" if apart else said

    def charges_said(self) -> str:
        """What comes on top of the price or off it, to be said again with a blank before each."""
        leads = {Role.EXTRA: "plus", Role.LESS: "less"}
        said = [
            (
                span.start,
                f" {leads[span.value.role]} {self.currency.plain(span.value.value * 10**self.currency.digits)}",
            )
            for span in self.marked.each(Amount, *self.reach)
            if span.value.role in leads
        ]
        taxes = self.marked.each(Tax, *self.reach)
        said += [(tax.start, f" plus {self.marked.said(tax.start, tax.end)}") for tax in taxes]
        return "".join(words for _, words in sorted(said))

    def price(self) -> Unclear:
        """Asked where no amount is written as money: "12 pencils 47", "pencils 12 47", "12 pencils"."""
        terms, numbers = self.terms, self.terms.bare
        units, plain = terms.units_said, self.currency.plain
        if not units and len(numbers) == 2:
            one, other = numbers
            return Unclear(
                f"{one} {self.things} for {plain(other)}, or {other} for {plain(one)}?",
                tuple(
                    self.choice(f"{count} for {plain(price)}", f"{count} {terms.item} {plain(price)}")
                    for count, price in ((one, other), (other, one))
                ),
            )
        if numbers == [0]:
            return NO_PRICE
        if len(numbers) == 1:
            around = Frame(f"{self.frame.before}{units}{terms.item} ", self.frame.after)
            return coins_or_notes(numbers[0], self.currency, around)
        question = f"What do {units}{self.things} cost? Type the price." if units else None
        return Unclear(
            question or f"What do {self.things} cost? Try: 12 {self.things} {plain(47)}",
            (),
            self.frame.says(f"{units}{terms.item} {{}}"),
        )

    def counts(self, one: int, other: int) -> Unclear:
        """Asked where two counts are sensible."""
        item, price = self.terms.item, self.price_words()
        return Unclear(
            f"How many units is that price for: {one} or {other}?",
            tuple(self.choice(str(count), f"{count} {item} {price}") for count in (one, other)),
            self.frame.says(f"{{}} {item} {price}"),
        )

    def how_many(self) -> Unclear:
        """Asked where the count is a vague word, or missing where it is needed."""
        hole = self.frame.says(f"{{}} {self.terms.item} {self.price_words()}")
        return Unclear(f"How many {self.things} exactly? Type the number.", (), hole)

    def pack_size(self, packs: int) -> Unclear:
        """Asked where packs are counted and nobody says how many are in one."""
        item, price = self.terms.item, self.price_words()
        several = f"{packs} packs of" if packs > 1 else "pack of"
        return Unclear(
            f"How many {self.things} are in one pack?",
            tuple(self.choice(str(size), f"{several} {size} {item} {price}") for size in SHELF_PACKS),
            self.frame.says(f"{several} {{}} {item} {price}"),
        )

    def each_or_all(self, value: Fraction, packs: int) -> Unclear:
        """Asked where the writer wonders whether the price is for each or for the lot; ``value`` in minor units."""
        units, item, price = self.terms.units_said, self.terms.item, self.currency.plain(value)
        one, each = ("pack", "a pack") if packs > 1 else ("unit", "each")
        return Unclear(
            f"Is {price} for one {one}, or for all of it?",
            (
                self.choice(f"One {one}", f"{units}{item} {price} {each}"),
                self.choice("All of it", f"{units}{item} {price}"),
            ),
        )

    def prices(self, values: list[Fraction]) -> Unclear:
        """Asked where several prices are named; ``values`` in minor units."""
        units, item = self.terms.units_said, self.terms.item
        shown = [self.currency.plain(value) for value in values[:2]]
        return Unclear(
            f"Which is the price to pay: {shown[0]} or {shown[1]}?",
            tuple(self.choice(value, f"{units}{item} {value}{self.charges_said()}") for value in shown),
        )

    def before_or_after(self, stated: int, pairs: list[MarkedDown]) -> Unclear:
        """Asked where a price stands before its markdown: is it the one before, or the one to pay?"""
        units, item, plain = self.terms.units_said, self.terms.item, self.currency.plain
        return Unclear(
            f"Is {plain(stated)} the price before the markdown, or what you pay?",
            tuple(
                self.choice(
                    f"Pay {plain(pair.price)}",
                    f"{units}{item} was {plain(pair.regular)} now {plain(pair.price)}{self.charges_said()}",
                )
                for pair in pairs
            ),
        )

    def price_of_one(self, buy_get: BuyGet) -> Unclear:
        """Asked of "3 for 2" without the price of one."""
        offer = f"buy {buy_get.buy} get {buy_get.get} free"
        return Unclear(f"Is that {offer}? Say the price of one, such as: {offer} {self.things} 0.60 each")

    def no_whole_coin(self, value: Fraction) -> Unclear:
        """Said of a total with more decimals than the currency has; ``value`` in minor units."""
        plain = self.currency.plain
        return Unclear(
            f"{plain(value)} has more decimals than {self.currency.code} has coins for."
            f" Say what they cost in all, such as: 12 {self.things} {plain(47)}"
        )

    def too_dear(self) -> Unclear:
        """Said of a price over a million."""
        return Unclear(f"That price is over a million. Try: 12 {self.things} {self.currency.plain(47)}")

    def foreign(self, money: str) -> Unclear:
        """Said of a price in another currency."""
        code, plain = self.currency.code, self.currency.plain
        return Unclear(
            f"“{money}” is not the money of this group, which counts in {code}. Try: 12 {self.things} {plain(47)}"
        )

    def negative(self) -> Unclear:
        """Said of a count or price with a minus sign."""
        return Unclear(f"A minus sign makes no price or count. Try: 12 {self.things} {self.currency.plain(47)}")

    def bad_count(self, units: int) -> Unclear:
        """Said of a count below one, or over a million."""
        example = f"Try: 12 {self.things} {self.currency.plain(47)}"
        if units <= 0:
            return Unclear(f"The count must be at least 1. {example}")
        return Unclear(f"That is more than {MAX_UNITS:,} units. {example}")
