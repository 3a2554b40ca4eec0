"""Amounts as people write them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from copy import copy
from decimal import Decimal
from fractions import Fraction
from functools import cache, partial

from babel import Locale, UnknownLocaleError
from babel.numbers import NumberPattern, get_currency_symbol

from core.group import Settings
from core.items import PricePoint
from core.money import Currency, Rounding, half_up, shown

UnitPrice = Callable[[Fraction], str]
"""How the unit prices of a post are told."""
_NO_POINT = PricePoint()
_FINER = (10, 100, 1000)
"""Parts of the smallest coin by which unit prices are told that would else look the same."""
_MINOR_SIGNS = {"GBP": "p", "EUR": "c", "INR": "p"}
_NO_MINOR_SIGN_DIGITS = 2


@cache
def _locale(country: str) -> Locale:
    try:
        return Locale.parse(f"en_{country}")
    except (UnknownLocaleError, ValueError):
        return Locale("en")


def money(minor: Fraction | int, settings: Settings) -> str:
    """An amount in the group's currency: 47 is "$0.47"; with its ISO decimals, or more where it has them."""
    plain = settings.currency.plain(minor)
    pattern = _pattern(settings.country, len(plain.partition(".")[2]))
    code = settings.currency.code
    return str(pattern.apply(Decimal(plain), _locale(settings.country), currency=code, currency_digits=False))


@cache
def _pattern(country: str, decimals: int) -> NumberPattern:
    pattern: NumberPattern = copy(_locale(country).currency_formats["standard"])
    pattern.frac_prec = (decimals, decimals)
    return pattern


def unit_price(minor: Fraction, settings: Settings) -> str:
    """A unit price by the group's rounding: 47/12 is "4¢", or "3.9¢" to the tenth; from one dollar on "$1.01"."""
    return _small_or_whole(shown(minor, settings.rounding, settings.currency), settings)


def unit_prices(seen: Iterable[Fraction | None], settings: Settings, point: PricePoint = _NO_POINT) -> UnitPrice:
    """How unit prices that are told together are told: by the group's rounding, or more finely where that is wanted.

    That is where two that differ would look the same, or a price point would not look as it was stated: 59/12 beside
    a price point of 5 is "4.9¢", not "5¢".
    """
    stated = [price for price in (point.target, point.limit) if price is not None]
    prices = {*stated, *(price for price in seen if price is not None)}
    ways: list[UnitPrice] = [partial(unit_price, settings=settings), partial(to_the_tenth, settings=settings)]
    ways += [partial(_in_parts, parts=parts, settings=settings) for parts in _FINER]
    plain = (tell for tell in ways if all(tell(price) == exact_unit_price(price, settings) for price in stated))
    return next((tell for tell in plain if len(set(map(tell, prices))) == len(prices)), ways[-1])


def _in_parts(minor: Fraction, parts: int, settings: Settings) -> str:
    return _small_or_whole(Fraction(half_up(minor * parts), parts), settings)


def exact_unit_price(minor: Fraction, settings: Settings) -> str:
    """A unit price that was stated, such as a price point, not rounded: 9/2 is "4.5¢"."""
    return _small_or_whole(minor, settings)


def to_the_tenth(minor: Fraction, settings: Settings) -> str:
    """An exact amount to the tenth of the smallest coin: 367/20 is "18.4¢", whatever the group's rounding."""
    return _small_or_whole(shown(minor, Rounding.TENTH, settings.currency), settings)


def _small_or_whole(minor: Fraction, settings: Settings) -> str:
    sign = _minor_sign(settings.currency)
    if sign is None or minor >= 10**settings.currency.digits:
        return money(minor, settings)
    tenths = Decimal(minor.numerator) / Decimal(minor.denominator)
    return f"{tenths.quantize(Decimal('0.001')).normalize():f}{sign}"


@cache
def _minor_sign(currency: Currency) -> str | None:
    if currency.digits != _NO_MINOR_SIGN_DIGITS:
        return None
    if currency.code in _MINOR_SIGNS:
        return _MINOR_SIGNS[currency.code]
    return "¢" if get_currency_symbol(currency.code, locale="en").endswith("$") else None
