"""The offer of a clause, worked out from its spans: how many units, at what price, marked down from what."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from bot.reading.amounts import Amount, Role
from bot.reading.asking import NO_MARKDOWN, NO_PRICE, Asking
from bot.reading.each import Each, Per, Whole
from bot.reading.markdowns import BuyGet, ShareOff
from bot.reading.offers import AskError, Frame, Offer, Terms
from bot.reading.packs import Multi
from bot.reading.spans import Found, Marked
from bot.reading.taxes import Tax
from core.counts import CountError, Quantity, checked
from core.markdowns import MarkdownError, amount_off, buy_some_get_some, share_off, share_off_after, was_now
from core.markdowns import Marked as MarkedDown
from core.money import TooLargeError, TooManyDecimalsError, half_up

_BESIDE = 3
"""How many tokens may stand between a price and the word that makes it one for each."""

Amounts = dict[Role, list[Found[Amount]]]


def offer_of(marked: Marked, reach: tuple[int, int], terms: Terms, frame: Frame) -> Offer:
    """The offer of a clause, without its shop and days. Raises AskError where it would take a guess."""
    asking = Asking(marked, reach, terms, frame)
    if minus_said(marked, reach):
        raise AskError(asking.negative())
    return _Pricing(asking, _amounts(asking), *_quantity(asking)).offer()


def minus_said(marked: Marked, reach: tuple[int, int]) -> bool:
    """True where a minus sign stands right before a number or a sign of money, and is no bullet of a list."""
    bulleted = "\n-" in marked.text
    for index in range(max(reach[0] - 1, 0), reach[1]):
        if marked.text_at(index) != "-" or marked.glued(index) or not marked.glued(index + 1):
            continue
        after = marked.text_at(index + 1)
        if not bulleted and (after[:1].isdigit() or after in ("$", "£", "€")):
            return True
    return False


def _amounts(asking: Asking) -> Amounts:
    by_role: Amounts = {role: [] for role in Role}
    for span in asking.marked.each(Amount, *asking.reach):
        if span.value.value <= 0:
            raise AskError(NO_PRICE)
        if span.value.foreign:
            raise AskError(asking.foreign(span.value.foreign))
        by_role[span.value.role].append(span)
    if not (by_role[Role.PRICE] or by_role[Role.NOW] or by_role[Role.WAS]):
        if asking.currency.digits == 0 and len(asking.terms.bare) == 1:
            by_role[Role.PRICE].append(Found(*asking.reach, Amount(Fraction(asking.terms.bare[0]))))
            return by_role
        buy_get = next((span.value for span in asking.marked.each(BuyGet, *asking.reach)), None)
        raise AskError(asking.price_of_one(buy_get) if buy_get else asking.price())
    return by_role


def _quantity(asking: Asking) -> tuple[int, int | None]:
    """How many packs, and how many units in all; None units where nothing was counted."""
    terms, loose = asking.terms, asking.terms.loose
    multis = sorted({span.value.packs for span in asking.marked.each(Multi, *asking.reach)})
    if len(multis) > 1:
        raise AskError(asking.counts(*multis[:2]))
    if loose and loose.other is not None:
        raise AskError(asking.counts(loose.units, loose.other))
    if loose and not loose.firm:
        raise AskError(asking.how_many())
    packs = _one_quantity(asking)
    if packs is None:
        if terms.multi and loose:
            raise AskError(asking.counts(loose.units, loose.units * terms.multi))
        return 1, _checked(asking, terms.multi or (loose.units if loose else None))
    outer = terms.multi or (loose.units if loose else 1)
    if packs.pack_size is None:
        raise AskError(asking.pack_size(packs.packs * (terms.multi or 1)))
    return packs.packs * outer, _checked(asking, packs.packs * outer * packs.pack_size)


def _one_quantity(asking: Asking) -> Quantity | None:
    sized = [quantity for quantity in asking.terms.packs if quantity.pack_size]
    unsized = [quantity for quantity in asking.terms.packs if not quantity.pack_size]
    if len(set(sized)) > 1:
        raise AskError(asking.counts(*(quantity.units or 0 for quantity in sized[:2])))
    if sized:
        return replace(sized[0], packs=unsized[0].packs * sized[0].packs) if unsized else sized[0]
    if unsized and asking.terms.loose and not asking.terms.multi:
        raise AskError(asking.pack_size(unsized[0].packs))
    return unsized[0] if unsized else None


def _checked(asking: Asking, units: int | None) -> int | None:
    try:
        return None if units is None else checked(units)
    except CountError:
        raise AskError(asking.bad_count(units or 0)) from None


@dataclass(frozen=True, slots=True)
class _Pricing:
    """Counts and amounts of a clause; sums are in minor units."""

    asking: Asking
    amounts: Amounts
    packs: int
    units: int | None

    def offer(self) -> Offer:
        """The price of all that was counted, its markdown worked out."""
        each = self.the_each()
        if self.each_or_whole() and self.units not in (None, 1):
            raise AskError(self.asking.each_or_all(self.one_price() * self.scale, self.packs))
        if each and each.per is Per.PACK and not self.asking.terms.packs and self.units is None:
            raise AskError(self.asking.pack_size(1))
        count = self.units or (each.units if each else 1)
        buy_get = next((span.value for span in self.marked.each(BuyGet, *self.asking.reach)), None)
        try:
            if buy_get and self.price_is_of_one(buy_get, each):
                return self.bought_and_got(buy_get, count)
            price, regular = self.marked_down(count)
        except MarkdownError:
            raise AskError(NO_MARKDOWN) from None
        less = sum(self.whole(span.value.value) for span in self.amounts[Role.LESS])
        if less >= price:
            raise AskError(NO_MARKDOWN)
        if less and regular is None:
            regular = half_up(price)
        return Offer(self.asking.terms.item, count, price - less + self.charges(price), regular=regular)

    def charges(self, price: Fraction) -> int:
        """What comes on top: amounts as named, and a tax of the price less what was taken off before it."""
        extra = sum(self.whole(span.value.value) for span in self.amounts[Role.EXTRA])
        for tax in self.marked.each(Tax, *self.asking.reach):
            off = [span for span in self.amounts[Role.LESS] if span.start < tax.start]
            rate = tax.value.percent or self.marked.settings.tax_rate or 0
            extra += half_up((price - sum(self.whole(span.value.value) for span in off)) * rate / 100)
        return extra

    @property
    def marked(self) -> Marked:
        return self.asking.marked

    @property
    def scale(self) -> int:
        return int(10**self.asking.currency.digits)

    def each_beside(self, amount: Found[Amount]) -> Each | None:
        """The per-unit word that stands beside an amount, with no other amount nearer to it."""
        amounts = list(self.marked.each(Amount, *self.asking.reach))
        for each in self.marked.each(Each, *self.asking.reach):
            nearest = min(amounts, key=lambda one: _apart(each, one))
            if nearest is amount and _apart(each, amount) <= _BESIDE:
                return each.value
        return None

    def the_each(self) -> Each | None:
        """The per-unit word of the price to pay, else of the one before the markdown."""
        roles = (Role.NOW, Role.PRICE, Role.WAS, Role.OFF)
        spans = [span for role in roles for span in self.amounts[role]]
        return next((each for span in spans if (each := self.each_beside(span))), None)

    def each_or_whole(self) -> bool:
        """True where somebody wonders whether the price is for each or for all."""
        wholes = {span.start for span in self.marked.each(Whole, *self.asking.reach)}
        eaches = self.marked.each(Each, *self.asking.reach)
        return any(self.marked.word(each.end) == "or" and each.end + 1 in wholes for each in eaches)

    def price_is_of_one(self, buy_get: BuyGet, each: Each | None) -> bool:
        """Whether a buy-and-get price is for one, so that its sum is still to be done."""
        if any(self.marked.each(Whole, *self.asking.reach)):
            return False
        if not buy_get.sure and each is None:
            raise AskError(self.asking.price_of_one(buy_get))
        return bool(self.asking.terms.packs) or self.units in (
            None,
            1,
            buy_get.buy,
            buy_get.buy + buy_get.get,
        )

    def bought_and_got(self, buy_get: BuyGet, count: int) -> Offer:
        """The price of all that is bought and got together."""
        size = count if self.asking.terms.packs else 1
        pair = buy_some_get_some(self.whole(self.one_price()), buy_get.buy, buy_get.get, buy_get.off)
        item = self.asking.terms.item
        return Offer(item, size * pair.count_factor, Fraction(pair.price), regular=pair.regular)

    def one_price(self) -> Fraction:
        """The only price of the clause, in major units."""
        roles = (Role.NOW, Role.PRICE, Role.WAS)
        prices = sorted({span.value.value for role in roles for span in self.amounts[role]})
        if len(prices) > 1:
            raise AskError(self.asking.prices([price * self.scale for price in prices]))
        return prices[0]

    def marked_down(self, count: int) -> tuple[Fraction, int | None]:
        """The price of ``count`` units after its markdown, and before it."""
        was = next(iter(self.amounts[Role.WAS]), None)
        now = self.to_pay(count)
        each = self.the_each()
        if was and now:
            paid = self.total(now, self.each_beside(now), count)
            before = half_up(self.total(was, self.each_beside(was) or each, count))
            return paid, was_now(before, half_up(paid)).regular if before > paid else None
        share = next(iter(self.marked.each(ShareOff, *self.asking.reach)), None)
        stated = self.share_taken(share, was) if share else None
        if stated is None and self.amounts[Role.OFF]:
            stated = self.amount_taken(self.amounts[Role.OFF][0], was)
        if stated:
            factor = self.factor(each, count)
            return stated.price * factor, half_up(stated.regular * factor)
        price = now or was
        if price is None:
            raise AskError(self.asking.price())
        return self.total(price, each, count), None

    def to_pay(self, count: int) -> Found[Amount] | None:
        """The amount to pay, of those without another part to play."""
        spans = self.amounts[Role.NOW] or self.amounts[Role.PRICE]
        values = sorted({span.value.value for span in spans})
        if len(values) > 1 and values[0] * count != values[-1]:
            raise AskError(self.asking.prices([value * self.scale for value in values]))
        return next((span for span in spans if span.value.value == values[-1]), None)

    def share_taken(self, share: Found[ShareOff], was: Found[Amount] | None) -> MarkedDown:
        """A share off, as far as the words say which price it is off."""
        off = share.value.off
        if was:
            return share_off(self.whole(was.value.value), off)
        if self.amounts[Role.NOW]:
            return share_off_after(self.whole(self.amounts[Role.NOW][0].value.value), off)
        price = self.amounts[Role.PRICE][0]
        minor = self.whole(price.value.value)
        if share.value.from_next and 0 <= price.start - share.end <= 1:
            return share_off(minor, off)
        pairs = [share_off(minor, off), share_off_after(minor, off)]
        raise AskError(self.asking.before_or_after(minor, pairs))

    def amount_taken(self, off: Found[Amount], was: Found[Amount] | None) -> MarkedDown:
        """An amount off, as far as the words say which price it is off."""
        less = self.whole(off.value.value)
        if was:
            return amount_off(self.whole(was.value.value), less)
        if self.amounts[Role.NOW]:
            now = self.whole(self.amounts[Role.NOW][0].value.value)
            return was_now(now + less, now)
        price = self.amounts[Role.PRICE][0]
        minor = self.whole(price.value.value)
        if 0 <= price.start - off.end <= 1:
            return amount_off(minor, less)
        raise AskError(self.asking.before_or_after(minor, [amount_off(minor, less), was_now(minor + less, minor)]))

    def total(self, amount: Found[Amount], each: Each | None, count: int) -> Fraction:
        """What ``count`` units cost at a stated amount; only a unit price may be a fraction of a coin."""
        if each is None:
            return Fraction(self.whole(amount.value.value))
        try:
            return self.asking.currency.minor_exact(amount.value.value) * self.factor(each, count)
        except TooLargeError:
            raise AskError(self.asking.too_dear()) from None

    def factor(self, each: Each | None, count: int) -> Fraction:
        """By what a stated price is multiplied to be that of all ``count`` units."""
        if each is None:
            return Fraction(1)
        if each.per is Per.SEVERAL:
            return Fraction(count, each.units)
        in_packs = bool(self.asking.terms.packs) or each.per is Per.PACK
        return Fraction(count if each.per is Per.UNIT or not in_packs else self.packs)

    def whole(self, value: Fraction) -> int:
        """Whole minor units of an amount in major units; a question that says what is wrong, where there are none."""
        try:
            return self.asking.currency.minor(value)
        except TooManyDecimalsError:
            raise AskError(self.asking.no_whole_coin(value * self.scale)) from None
        except TooLargeError:
            raise AskError(self.asking.too_dear()) from None


def _apart(one: Found[Each], other: Found[Amount]) -> int:
    return max(one.start - other.end, other.start - one.end)
