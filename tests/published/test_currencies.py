"""Minor units of currencies against ISO 4217, and against CLDR where the two standards agree."""

from __future__ import annotations

import pytest
from babel.core import get_global
from babel.numbers import get_currency_precision, get_territory_currencies, list_currencies

from core.money import UnknownCurrencyError, currency
from tests.published.listening import table

TABLE = table("currencies.toml")
OF_ISO = {code: row["digits"] for row in TABLE["digits"] for code in row["codes"].split()}
DIFFERS = set(TABLE["differs"]["codes"].split())
TENDER = {
    code
    for territory in get_global("territory_currencies")
    for code in get_territory_currencies(territory, TABLE["tender"]["on"])
}


def digits(code: str) -> int | None:
    try:
        return currency(code).digits
    except UnknownCurrencyError:
        return None


def test_minor_units_are_those_of_iso() -> None:
    assert {code: digits(code) for code in OF_ISO} == OF_ISO


def test_minor_units_agree_with_cldr() -> None:
    known = {code: digits(code) for code in sorted(list_currencies()) if digits(code) is not None}

    by_cldr = {code: get_currency_precision(code) for code in known}

    assert {code for code in known if known[code] != by_cldr[code]} == DIFFERS


def test_every_tender_of_today_is_known() -> None:
    unknown = {code for code in TENDER if digits(code) is None}

    assert unknown == TABLE["tender"]["left_out"].keys()


@pytest.mark.parametrize("code", ["XXX", "XTS", "XAU", "USN", "DEM", "EU", "EURO", ""])
def test_no_money_is_no_currency(code: str) -> None:
    """ISO 4217 codes for gold, tests, no currency, next-day dollars, a withdrawn one; and no codes at all."""
    with pytest.raises(UnknownCurrencyError):
        currency(code)
