"""Exact money: integers of a currency's minor unit, and the two rules by which a unit price is shown."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction

MAX_MAJOR_UNITS = 1_000_000
"""The largest amount taken, in whole currency units; a longer number is a slip of the finger."""

_NO_DECIMALS = "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF"
_THREE_DECIMALS = "BHD IQD JOD KWD LYD OMR TND"
_FOUR_DECIMALS = "CLF UYW"
_TWO_DECIMALS = (
    "AED AFN ALL AMD AOA ARS AUD AWG AZN BAM BBD BDT BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CNY"
    " COP CRC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GTQ GYD HKD HNL HTG HUF"
    " IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR"
    " MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG"
    " SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TOP TRY TTD TWD TZS UAH USD UYU UZS VES WST XCD XCG"
    " YER ZAR ZMW ZWG"
)
_DIGITS = {
    code: digits
    for digits, codes in enumerate((_NO_DECIMALS, "", _TWO_DECIMALS, _THREE_DECIMALS, _FOUR_DECIMALS))
    for code in codes.split()
}


class UnknownCurrencyError(ValueError):
    """The code is not a currency of ISO 4217 in use."""


class TooManyDecimalsError(ValueError):
    """The amount has a fraction of the currency's smallest coin."""


class TooLargeError(ValueError):
    """The amount is beyond what a packing group can mean."""


@dataclass(frozen=True, slots=True)
class Currency:
    """A currency by its ISO 4217 code; ``digits`` decimals make one minor unit (USD 2, JPY 0, KWD 3)."""

    code: str
    digits: int

    def minor(self, amount: Fraction | Decimal) -> int:
        """Whole minor units of an amount in major units: USD 0.47 is 47.

        Raises TooManyDecimalsError for 0.475 USD, TooLargeError past a million.
        """
        exact = self.minor_exact(amount)
        if exact.denominator != 1:
            raise TooManyDecimalsError(str(amount))
        return int(exact)

    def minor_exact(self, amount: Fraction | Decimal) -> Fraction:
        """Minor units, fractions kept (a price point may be 4.5 cents). Raises TooLargeError."""
        exact = Fraction(amount)
        if abs(exact) > MAX_MAJOR_UNITS:
            raise TooLargeError(str(amount))
        return exact * int(10**self.digits)

    def plain(self, minor: Fraction | int) -> str:
        """The decimal string of an amount in minor units: 47 is "0.47", 9/2 is "0.045"."""
        exact = Fraction(minor)
        digits = self.digits
        while digits < self.digits + 6 and (exact * 10 ** (digits - self.digits)).denominator != 1:
            digits += 1
        scaled = half_up(exact * 10 ** (digits - self.digits))
        sign, whole = ("-", -scaled) if scaled < 0 else ("", scaled)
        text = str(whole).rjust(digits + 1, "0")
        return sign + (f"{text[:-digits]}.{text[-digits:]}" if digits else text)


def currency(code: str) -> Currency:
    """The currency of an ISO 4217 code, in any case. Raises UnknownCurrencyError."""
    upper = code.upper()
    if upper not in _DIGITS:
        raise UnknownCurrencyError(code)
    return Currency(upper, _DIGITS[upper])


class Rounding(StrEnum):
    """How a unit price is shown; it is always compared exactly."""

    UP = "up"
    """Up to the whole minor unit, so that a plan never comes out short (custom of packers, no source)."""
    TENTH = "tenth"
    """Below one major unit to the nearest tenth of a minor unit, else to the whole one; half up
    (N.J. Admin. Code 13:45A-14.6; SR 2004/368 art. 13)."""


def half_up(amount: Fraction) -> int:
    """The nearest integer, ties away from zero: 50.5 is 51, -50.5 is -51."""
    scaled = abs(amount) * 2 + 1
    rounded = scaled.numerator // (2 * scaled.denominator)
    return rounded if amount >= 0 else -rounded


def shown(amount: Fraction, rounding: Rounding, currency: Currency) -> Fraction:
    """A unit price in minor units as the group shows it: 47/12 is 4 (up) or 3.9 (tenth)."""
    if rounding is Rounding.UP:
        return Fraction(-(-amount.numerator // amount.denominator))
    if amount < 10**currency.digits:
        return Fraction(half_up(amount * 10), 10)
    return Fraction(half_up(amount))
