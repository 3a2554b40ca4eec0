"""Markdowns as shops write them: half off, 25% off, buy one get one free, 3 for 2."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from bot.reading.numbers import NUMBER_WORDS, fraction_at, number_at
from bot.reading.spans import Marked


@dataclass(frozen=True, slots=True)
class ShareOff:
    """A share off a price; ``from_next`` tells that the wording points at the amount that follows."""

    off: Fraction
    from_next: bool


@dataclass(frozen=True, slots=True)
class BuyGet:
    """Buy some, get some more at a share off; ``sure`` False for "3 for 2", which may be a price."""

    buy: int
    get: int
    off: Fraction
    sure: bool = True


_SHARES = {"half": Fraction(1, 2), "third": Fraction(1, 3), "quarter": Fraction(1, 4)}
_ONE_FOR_ONE = frozenset(("bogo", "bogof", "b1g1", "bogos"))
_STARTERS = NUMBER_WORDS | _ONE_FOR_ONE | set(_SHARES) | frozenset("buy buying b the every get second 2nd".split())


def find_markdowns(marked: Marked) -> None:
    """Mark every markdown phrase; names are marked before, amounts after."""
    marked.mark_where(_STARTERS, lambda index: _markdown(marked, index))


def _markdown(marked: Marked, index: int) -> tuple[BuyGet | ShareOff, int] | None:
    return (
        _buy_get(marked, index)
        or _second_for_less(marked, index)
        or _some_for_less(marked, index)
        or _share_off(marked, index)
    )


def _share_off(marked: Marked, index: int) -> tuple[ShareOff, int] | None:
    share = _share_at(marked, index)
    if share is None:
        return None
    off, at = share
    if marked.word(at) == "off":
        at += 1 + (marked.word(at + 1) in ("of", "the", "from"))
        return ShareOff(off, True), at
    if marked.word(at) == "price":
        return ShareOff(1 - off, False), at + 1
    if marked.word(at) in ("discount", "reduction", "less", "cheaper", "reduced"):
        return ShareOff(off, False), at + 1
    percent = marked.text_at(at - 1) in ("%", "percent", "pct")
    taxed = marked.word(at) in _TAX or marked.word(index - 1) in _TAX
    return (ShareOff(off, False), at) if percent and off < 1 and not taxed else None


_TAX = frozenset(("tax", "vat", "gst", "sales", "plus", "+"))


def _share_at(marked: Marked, index: int) -> tuple[Fraction, int] | None:
    if marked.word(index) in ("a", "one"):
        index += 1
    word = marked.word(index)
    if word in _SHARES:
        return _SHARES[word], index + 1
    fraction = fraction_at(marked, index)
    if fraction:
        return fraction
    number = number_at(marked, index)
    if number is None:
        return None
    value, end = number[0].value, number[1]
    if number[0].whole is not None and (singular_share := _SHARES.get(marked.word(end).removesuffix("s"))):
        return (value * singular_share, end + 1) if value * singular_share < 1 else None
    if marked.word(end) in ("%", "percent", "pct", "pc") or marked.has_phrase(end, ("per", "cent")):
        return value / 100, end + (2 if marked.word(end) == "per" else 1)
    return None


def _buy_get(marked: Marked, index: int) -> tuple[BuyGet, int] | None:
    if marked.word(index) in _ONE_FOR_ONE:
        off, end = _reward(marked, index + 1)
        return BuyGet(1, 1, off), end
    if marked.word(index) not in ("buy", "buying", "b"):
        return None
    buy = number_at(marked, index + 1)
    if buy is None or buy[0].whole is None:
        return None
    at = buy[1] + (marked.word(buy[1]) in (",", "and"))
    if marked.word(at) not in ("get", "getting", "g"):
        return None
    get = _got(marked, at + 1)
    if get is None:
        return None
    off, end = _reward(marked, get[1])
    return BuyGet(buy[0].whole, get[0], off), end


def _got(marked: Marked, index: int) -> tuple[int, int] | None:
    """How many are got: "1", "another", "the third one"."""
    number = number_at(marked, index)
    if number and number[0].whole is not None:
        return number[0].whole, number[1]
    at = index + (marked.word(index) in ("the", "a"))
    if marked.word(at) in ("another", "second", "third", "fourth", "fifth", "next", "2nd", "3rd", "4th"):
        return 1, at + 1 + (marked.word(at + 1) in ("one", "pack"))
    return None


def _second_for_less(marked: Marked, index: int) -> tuple[BuyGet, int] | None:
    """The second one half price."""
    at = index + (marked.word(index) in ("the", "every", "get"))
    if marked.word(at) not in ("second", "2nd"):
        return None
    at += 1 + (marked.word(at + 1) in ("one", "pack", "box"))
    off, end = _reward(marked, at)
    return (BuyGet(1, 1, off), end) if end > at else None


def _reward(marked: Marked, index: int) -> tuple[Fraction, int]:
    """What is taken off the ones got: everything, unless a share is named."""
    at = index
    while marked.word(at) in ("at", "for", "more", "the"):
        at += 1
    if marked.word(at) == "free":
        return Fraction(1), at + 1
    share = _share_off(marked, at)
    if share:
        return share[0].off, share[1] - (marked.text_at(share[1] - 1) in ("the", "of", "from"))
    return Fraction(1), index


def _some_for_less(marked: Marked, index: int) -> tuple[BuyGet, int] | None:
    """3 for 2, two for one: whole numbers, the second one less, no sign of money after them."""
    take = number_at(marked, index)
    if take is None or take[0].whole is None or take[0].decimals or marked.word(take[1]) != "for":
        return None
    pay = number_at(marked, take[1] + 1)
    if pay is None or pay[0].whole is None or pay[0].decimals or pay[0].whole < 1:
        return None
    if take[0].whole != pay[0].whole + 1 or marked.glued(pay[1]) or marked.word(pay[1]) in _MONEY_AFTER:
        return None
    return BuyGet(pay[0].whole, 1, Fraction(1), pay[0].whole == 1), pay[1]


_MONEY_AFTER = frozenset("dollars dollar bucks buck cents cent pounds pound quid pence euros euro p c".split())
