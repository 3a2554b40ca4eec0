"""An offer: what so many units of an item cost, where and when; worked out from the spans of a clause."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date
from fractions import Fraction

from bot.reading.amounts import Amount, Role
from bot.reading.markdowns import BuyGet, ShareOff
from bot.reading.packs import Each, Loose, Multi, Per, Whole
from bot.reading.spans import Found, Marked
from bot.wording.things import plural
from core.counts import MAX_UNITS, Quantity
from core.markdowns import MarkdownError, amount_off, buy_some_get_some, share_off, share_off_after, was_now
from core.money import Currency, TooLargeError, TooManyDecimalsError, half_up


_BESIDE = 3
"""How many tokens may stand between a price and the word that makes it one for each."""


@dataclass(frozen=True, slots=True)
class Offer:
    """A price as reported: ``price`` minor units for ``count`` units, after any markdown.

    It is whole unless it is a unit price ("4.5c each"); ``regular`` is the price of the same count before
    the markdown; ``limit`` counts packs.
    """

    item: str
    count: int
    price: Fraction
    store: str | None = None
    seen_on: date | None = None
    regular: int | None = None
    until: date | None = None
    limit: int | None = None


@dataclass(frozen=True, slots=True)
class Choice:
    """An answer to a question: its button's label, and the message that choosing it amounts to.

    ``sure`` tells that choosing it confirms what was asked about.
    """

    label: str
    says: str
    sure: bool = False


@dataclass(frozen=True, slots=True)
class Unclear:
    """A question instead of a guess. ``hole`` is a message with "{}" where a typed answer goes."""

    question: str
    choices: tuple[Choice, ...] = ()
    hole: str | None = None


@dataclass(frozen=True, slots=True)
class Terms:
    """What a clause says of count and price, before it is worked out."""

    item: str
    packs: list[Quantity] = field(default_factory=list)
    multi: int | None = None
    loose: Loose | None = None
    bare: list[int] = field(default_factory=list)
    """Numbers that are neither a count beside the item nor money."""


class AskError(Exception):
    """A question must be asked; it carries the question."""

    def __init__(self, unclear: Unclear) -> None:
        super().__init__(unclear.question)
        self.unclear = unclear


@dataclass(frozen=True, slots=True)
class Frame:
    """The words around an offer that keep its kind and place when it is said again: "bought {} at Pell's"."""

    before: str = ""
    after: str = ""

    def says(self, middle: str) -> str:
        """The whole message around the words of an offer."""
        return f"{self.before}{middle}{self.after}"


def offer_of(marked: Marked, reach: tuple[int, int], terms: Terms, frame: Frame) -> Offer:
    """The offer of a clause, without its shop and days. Raises AskError where it takes a guess."""
    pricing = _Pricing(marked, reach, terms, frame)
    amounts = pricing.amounts()
    count_packs, units = pricing.quantity()
    if units is not None and not 0 < units <= MAX_UNITS:
        raise AskError(_bad_count(units))
    return pricing.priced(amounts, count_packs, units)


@dataclass(slots=True)
class _Pricing:
    marked: Marked
    reach: tuple[int, int]
    terms: Terms
    frame: Frame

    @property
    def currency(self) -> Currency:
        return self.marked.settings.currency

    def amounts(self) -> dict[Role, list[Found[Amount]]]:
        """The amounts of the clause by their roles; a bare number stands in where none is written as money."""
        by_role: dict[Role, list[Found[Amount]]] = {role: [] for role in Role}
        for span in self.marked.each(Amount, *self.reach):
            if span.value.value <= 0:
                raise AskError(Unclear("A price must be more than nothing. Try: 12 pencils 0.47"))
            by_role[span.value.role].append(span)
        if not (by_role[Role.PRICE] or by_role[Role.NOW] or by_role[Role.WAS]):
            raise AskError(self.bare_price())
        return by_role

    def bare_price(self) -> Unclear:
        """The question about a number that could be money: "12 pencils 47"."""
        numbers = list(self.terms.bare)
        count = self.terms.loose.units if self.terms.loose else None
        item = self.terms.item
        if count is None and len(numbers) == 2:
            one, other = numbers
            return Unclear(
                f"{one} {plural(item)} for {self.money(other)}, or {other} for {self.money(one)}?",
                (
                    self.choice(f"{one} for {self.money(other)}", f"{one} {item} {self.plain_minor(other)}"),
                    self.choice(f"{other} for {self.money(one)}", f"{other} {item} {self.plain_minor(one)}"),
                ),
            )
        units = self.units_said()
        if len(numbers) != 1:
            return Unclear(
                f"What do {units}{plural(item)} cost? Type the price."
                if units
                else "What is the price? Try: 12 pencils 0.47",
                (),
                self.frame.says(f"{units}{item} {{}}"),
            )
        cents, whole = (
            self.plain_minor(numbers[0]),
            self.currency.plain(numbers[0] * 10**self.currency.digits),
        )
        return Unclear(
            f"{numbers[0]}: is that {cents} or {whole}?",
            tuple(self.choice(value, f"{units}{item} {value}") for value in dict.fromkeys((cents, whole))),
        )

    def units_said(self) -> str:
        """The count of the clause as it would be said again, with a blank after it."""
        if self.terms.packs and self.terms.packs[0].pack_size:
            quantity = self.terms.packs[0]
            return f"{quantity.packs} packs of {quantity.pack_size} "
        count = self.terms.loose.units if self.terms.loose else self.terms.multi
        return f"{count} " if count else ""

    def plain_minor(self, minor: int) -> str:
        return self.currency.plain(minor)

    def money(self, minor: int) -> str:
        return self.plain_minor(minor)

    def choice(self, label: str, middle: str) -> Choice:
        return Choice(label, self.frame.says(middle))

    def quantity(self) -> tuple[int, int | None]:
        """How many packs, and how many units in all; None units where nothing was counted."""
        terms = self.terms
        if terms.loose and terms.loose.other is not None:
            raise AskError(self.two_counts(terms.loose.units, terms.loose.other))
        if terms.loose and not terms.loose.firm:
            raise AskError(self.how_many())
        packs = self.one_quantity()
        if packs is None:
            count = terms.multi or (terms.loose.units if terms.loose else None)
            if terms.multi and terms.loose:
                raise AskError(self.two_counts(terms.loose.units, terms.loose.units * terms.multi))
            return 1, count
        outer = terms.multi or (terms.loose.units if terms.loose else 1)
        if packs.pack_size is None:
            raise AskError(self.pack_size(packs.packs * (terms.multi or 1)))
        return packs.packs * outer, packs.packs * outer * packs.pack_size

    def one_quantity(self) -> Quantity | None:
        sized = [quantity for quantity in self.terms.packs if quantity.pack_size]
        unsized = [quantity for quantity in self.terms.packs if not quantity.pack_size]
        if len({quantity for quantity in sized}) > 1:
            raise AskError(self.two_counts(*(quantity.units or 0 for quantity in sized[:2])))
        if sized:
            return replace(sized[0], packs=unsized[0].packs * sized[0].packs) if unsized else sized[0]
        loose = self.terms.loose
        if unsized and loose and loose.firm and not self.terms.multi:
            raise AskError(self.pack_size(unsized[0].packs))
        return unsized[0] if unsized else None

    def price_words(self) -> str:
        """The price part of the clause as it was written, to be said again."""
        spans: list[Found[object]] = [
            span
            for sort in (Amount, ShareOff, BuyGet, Each, Whole)
            for span in self.marked.each(sort, *self.reach)
        ]
        spans.sort(key=lambda span: span.start)
        return " ".join(self.marked.said(span.start, span.end) for span in spans)

    def two_counts(self, one: int, other: int) -> Unclear:
        item, price = self.terms.item, self.price_words()
        return Unclear(
            f"How many units is that price for: {one} or {other}?",
            tuple(self.choice(str(count), f"{count} {item} {price}") for count in (one, other)),
            self.frame.says(f"{{}} {item} {price}"),
        )

    def how_many(self) -> Unclear:
        item, price = self.terms.item, self.price_words()
        return Unclear(
            f"How many {plural(item)} exactly? Type the number.",
            (),
            self.frame.says(f"{{}} {item} {price}"),
        )

    def pack_size(self, packs: int) -> Unclear:
        item, price = self.terms.item, self.price_words()
        several = f"{packs} packs of" if packs > 1 else "pack of"
        return Unclear(
            f"How many {plural(item)} are in one pack?",
            tuple(self.choice(str(size), f"{several} {size} {item} {price}") for size in (10, 12, 24)),
            self.frame.says(f"{several} {{}} {item} {price}"),
        )

    def priced(self, by_role: dict[Role, list[Found[Amount]]], packs: int, units: int | None) -> Offer:
        """The price of all that was counted, markdown worked out."""
        said = self.each_beside()
        each = said.per if said else None
        if self.each_or_whole() and units not in (None, 1):
            raise AskError(self.each_or_all(by_role, packs))
        if each is Per.PACK and not self.terms.packs and units is None:
            raise AskError(self.pack_size(1))
        factor, count = _factor(said, self.counted_in_packs(each), packs, units)
        buy_get = next((span.value for span in self.marked.each(BuyGet, *self.reach)), None)
        if buy_get and self.applies(buy_get, each, units):
            return self.bought_and_got(buy_get, by_role, count)
        price, regular = self.marked_down(by_role, count)
        extra = sum((span.value.value for span in by_role[Role.EXTRA]), Fraction(0))
        total = Fraction(self.minor(price * factor)) if each is None else self.unit_minor(price) * factor
        before = None if regular is None else half_up(regular * factor * self.scale)
        return Offer(self.terms.item, count, total + self.minor(extra), regular=before)

    def each_beside(self) -> Each | None:
        """The per-unit word that stands beside an amount, not one somewhere else in the sentence."""
        amounts = list(self.marked.each(Amount, *self.reach))
        for each in self.marked.each(Each, *self.reach):
            for amount in amounts:
                if max(each.start - amount.end, amount.start - each.end) <= _BESIDE:
                    return each.value
        return None

    def each_or_whole(self) -> bool:
        """True where somebody wonders whether the price is for each or for all."""
        wholes = {span.start for span in self.marked.each(Whole, *self.reach)}
        eaches = self.marked.each(Each, *self.reach)
        return any(self.marked.word(each.end) == "or" and each.end + 1 in wholes for each in eaches)

    @property
    def scale(self) -> int:
        return int(10**self.currency.digits)

    def counted_in_packs(self, each: Per | None) -> bool:
        return bool(self.terms.packs) or each is Per.PACK

    def applies(self, buy_get: BuyGet, each: Per | None, units: int | None) -> bool:
        """Whether the price is for one, so that the markdown's sum is still to be done."""
        if any(self.marked.each(Whole, *self.reach)):
            return False
        if not buy_get.sure and each is None:
            raise AskError(
                Unclear(
                    f"Is that buy {buy_get.buy} get {buy_get.get} free? Say the price of one, for example:"
                    f" buy {buy_get.buy} get {buy_get.get} free {self.terms.item} 0.60 each"
                )
            )
        return self.terms.packs != [] or units in (None, 1, buy_get.buy, buy_get.buy + buy_get.get)

    def bought_and_got(self, buy_get: BuyGet, by_role: dict[Role, list[Found[Amount]]], count: int) -> Offer:
        one = self.one_price(by_role)
        size = count if self.terms.packs else 1
        marked = buy_some_get_some(self.minor(one), buy_get.buy, buy_get.get, buy_get.off)
        return Offer(
            self.terms.item, size * marked.count_factor, Fraction(marked.price), regular=marked.regular
        )

    def one_price(self, by_role: dict[Role, list[Found[Amount]]]) -> Fraction:
        prices = {span.value.value for role in (Role.NOW, Role.PRICE, Role.WAS) for span in by_role[role]}
        if len(prices) != 1:
            raise AskError(Unclear("Which of the prices is the one to pay? Try: 12 pencils 0.47"))
        return prices.pop()

    def marked_down(
        self, by_role: dict[Role, list[Found[Amount]]], count: int
    ) -> tuple[Fraction, Fraction | None]:
        """Price and regular price in major units, for whatever the price was stated for."""
        was = by_role[Role.WAS][0].value.value if by_role[Role.WAS] else None
        now = self.the_price(by_role, count)
        try:
            if now is not None and was is not None:
                pair = was_now(self.minor(was), self.minor(now))
                return Fraction(pair.price, self.scale), Fraction(pair.regular, self.scale)
            share = next(iter(self.marked.each(ShareOff, *self.reach)), None)
            if share:
                return self.share_taken(by_role, share, was)
            if by_role[Role.OFF]:
                return self.amount_taken(by_role, was)
        except MarkdownError:
            raise AskError(
                Unclear("That markdown leaves no price. Try: 12 pencils was 0.60 now 0.40")
            ) from None
        price = now if now is not None else was
        assert price is not None
        return price, None

    def the_price(self, by_role: dict[Role, list[Found[Amount]]], count: int) -> Fraction | None:
        """The one price to pay, of those without another part to play."""
        values = [span.value.value for span in by_role[Role.NOW] or by_role[Role.PRICE]]
        distinct = sorted(set(values))
        if len(distinct) == 2 and distinct[0] * count == distinct[1]:
            return distinct[1]
        if len(distinct) > 1:
            raise AskError(self.two_prices(distinct[:2]))
        return distinct[0] if distinct else None

    def each_or_all(self, by_role: dict[Role, list[Found[Amount]]], packs: int) -> Unclear:
        value = self.currency.plain(self.one_price(by_role) * self.scale)
        units, item = self.units_said(), self.terms.item
        one = "pack" if packs > 1 else "unit"
        return Unclear(
            f"Is {value} for one {one}, or for all of it?",
            (
                self.choice(f"One {one}", f"{units}{item} {value} {'a pack' if packs > 1 else 'each'}"),
                self.choice("All of it", f"{units}{item} {value}"),
            ),
        )

    def two_prices(self, values: list[Fraction]) -> Unclear:
        units, item = self.units_said(), self.terms.item
        shown = [self.currency.plain(value * self.scale) for value in values]
        return Unclear(
            f"Which is the price to pay: {shown[0]} or {shown[1]}?",
            tuple(self.choice(value, f"{units}{item} {value}") for value in shown),
        )

    def share_taken(
        self, by_role: dict[Role, list[Found[Amount]]], share: Found[ShareOff], was: Fraction | None
    ) -> tuple[Fraction, Fraction]:
        off = share.value.off
        if was is not None:
            marked = share_off(self.minor(was), off)
        elif by_role[Role.NOW]:
            marked = share_off_after(self.minor(by_role[Role.NOW][0].value.value), off)
        elif share.value.from_next and self.follows(share.end, by_role[Role.PRICE][0].start):
            marked = share_off(self.minor(by_role[Role.PRICE][0].value.value), off)
        else:
            raise AskError(self.before_or_after(by_role[Role.PRICE][0].value.value, off))
        return Fraction(marked.price, self.scale), Fraction(marked.regular, self.scale)

    def follows(self, end: int, start: int) -> bool:
        return 0 <= start - end <= 1

    def before_or_after(self, value: Fraction, off: Fraction) -> Unclear:
        minor = self.minor(value)
        down, up = share_off(minor, off), share_off_after(minor, off)
        units, item, plain = self.units_said(), self.terms.item, self.currency.plain
        return Unclear(
            f"Is {plain(minor)} the price before the markdown, or what you pay?",
            (
                self.choice(
                    f"Pay {plain(down.price)}",
                    f"{units}{item} was {plain(down.regular)} now {plain(down.price)}",
                ),
                self.choice(
                    f"Pay {plain(up.price)}", f"{units}{item} was {plain(up.regular)} now {plain(up.price)}"
                ),
            ),
        )

    def amount_taken(
        self, by_role: dict[Role, list[Found[Amount]]], was: Fraction | None
    ) -> tuple[Fraction, Fraction]:
        off = by_role[Role.OFF][0]
        off_minor = self.minor(off.value.value)
        if was is not None:
            marked = amount_off(self.minor(was), off_minor)
        elif by_role[Role.PRICE] and self.follows(off.end, by_role[Role.PRICE][0].start):
            marked = amount_off(self.minor(by_role[Role.PRICE][0].value.value), off_minor)
        elif by_role[Role.NOW]:
            now = self.minor(by_role[Role.NOW][0].value.value)
            marked = was_now(now + off_minor, now)
        else:
            raise AskError(self.off_before_or_after(by_role, off_minor))
        return Fraction(marked.price, self.scale), Fraction(marked.regular, self.scale)

    def off_before_or_after(self, by_role: dict[Role, list[Found[Amount]]], off: int) -> Unclear:
        if not by_role[Role.PRICE]:
            return Unclear("What was the price before that came off? Try: $1 off 3.25 pencils 12ct")
        minor = self.minor(by_role[Role.PRICE][0].value.value)
        units, item, plain = self.units_said(), self.terms.item, self.currency.plain
        pairs = [(minor, minor - off), (minor + off, minor)]
        return Unclear(
            f"Is {plain(minor)} the price before the markdown, or what you pay?",
            tuple(
                self.choice(f"Pay {plain(now)}", f"{units}{item} was {plain(was)} now {plain(now)}")
                for was, now in pairs
                if now > 0
            ),
        )

    def unit_minor(self, value: Fraction) -> Fraction:
        """Minor units of a unit price, which may be a fraction of one."""
        try:
            return self.currency.minor_exact(value)
        except TooLargeError:
            return Fraction(self.minor(value))

    def minor(self, value: Fraction) -> int:
        """Whole minor units of an amount; a question that says what is wrong, where there are none."""
        try:
            return self.currency.minor(value)
        except TooManyDecimalsError:
            shown = self.currency.plain(value * self.scale)
            raise AskError(
                Unclear(
                    f"{shown} is no whole number of {self.currency.code}'s smallest coin. Say what they cost in all,"
                    f" for example: 12 {self.terms.item} {self.currency.plain(47)}"
                )
            ) from None
        except TooLargeError:
            raise AskError(
                Unclear(f"That price is over a million. Try: 12 {self.terms.item} {self.currency.plain(47)}")
            ) from None


def _factor(each: Each | None, in_packs: bool, packs: int, units: int | None) -> tuple[Fraction, int]:
    """By what the stated price is multiplied, and how many units the whole has."""
    if each is None:
        return Fraction(1), units or 1
    if each.per is Per.SEVERAL:
        return Fraction(units or each.units, each.units), units or each.units
    if each.per is Per.UNIT or not in_packs:
        return Fraction(units or 1), units or 1
    return Fraction(packs), units or 1


def _bad_count(units: int) -> Unclear:
    if units <= 0:
        return Unclear("The count must be at least 1. Try: 12 pencils 0.47")
    return Unclear(f"{units:,} is more than a million units. Try: 144 pencils 5.60")
