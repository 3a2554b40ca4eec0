"""Sums of money as written against dictionaries, a published specification, and the forms of CLDR by Babel."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal

import pytest
from babel.numbers import format_currency
from num2words import num2words  # type: ignore[import-untyped]

from bot.wording.amounts import money
from core.group import Settings
from core.money import currency
from tests.published.listening import Row, cases, prices, table

TABLE = table("money_forms.toml")
LOCALES = [(row["currency"], locale) for row in TABLE["written"] for locale in row["locales"]]


def below_a_thousand(code: str) -> list[int]:
    """Amounts in minor units: every one of the smallest, then some of each length."""
    end = 1000 * 10 ** currency(code).digits
    return [*range(1, 130), *range(130, end, end // 97)]


def from_a_thousand(code: str) -> range:
    """Amounts in minor units, as large as a packing group's largest."""
    whole: int = 10 ** currency(code).digits
    return range(1000 * whole, 100_000 * whole, 4321 * whole + 7)


def message(said: str) -> str:
    return f"12 pencils {said}"


def misread(code: str, locale: str, amounts: Iterable[int]) -> dict[str, object]:
    """The amounts that, written as in a locale, are read as something else; asked about counts as misread."""
    of_code = currency(code)
    wrong: dict[str, object] = {}
    for minor in amounts:
        amount = Decimal(of_code.plain(minor))
        written = format_currency(amount, code, locale=locale)
        if (read := prices(message(written), code)) != [(12, amount)]:
            wrong[written] = read
    return wrong


@pytest.mark.parametrize("row", cases(TABLE["read"]))
def test_a_sum_is_read_as_published(row: Row) -> None:
    assert prices(message(row["said"])) == [(12, Decimal(row["price"]))]


@pytest.mark.parametrize("row", cases(TABLE["left_out"]))
def test_a_sum_left_out_is_no_other(row: Row) -> None:
    assert [price for _, price in prices(message(row["said"])) if price != Decimal(row["price"])] == []


@pytest.mark.parametrize("row", cases(TABLE["differs"]))
def test_a_sum_differs_on_purpose(row: Row) -> None:
    assert prices(message(row["said"])) == [(12, Decimal(row["ours"]))]


@pytest.mark.parametrize(("said", "price"), [("a fiver", 5), ("a tenner", 10)])
def test_pounds_have_their_notes(said: str, price: int) -> None:
    """WordNet 3.0 (read) gives five and ten for dollars; for pounds from memory."""
    assert prices(message(said), "GBP") == [(12, Decimal(price))]


@pytest.mark.parametrize(("code", "locale"), LOCALES)
def test_small_amounts_of_a_locale_come_back(code: str, locale: str) -> None:
    assert misread(code, locale, below_a_thousand(code)) == {}


@pytest.mark.parametrize(("code", "locale"), LOCALES)
def test_large_amounts_of_a_locale_come_back(code: str, locale: str) -> None:
    assert misread(code, locale, from_a_thousand(code)) == {}


@pytest.mark.parametrize(
    ("code", "country"),
    [
        ("USD", "US"),
        ("GBP", "GB"),
        ("EUR", "IE"),
        ("CAD", "CA"),
        ("JPY", "JP"),
        ("KWD", "KW"),
        ("EUR", "DE"),
    ],
)
def test_the_clerk_reads_its_own_money(code: str, country: str) -> None:
    group = Settings(currency(code), country=country)
    amounts = [*below_a_thousand(code)[::5], *from_a_thousand(code)[::5]]

    came_back = {minor: prices(message(money(minor, group)), code) for minor in amounts}

    assert came_back == {minor: [(12, Decimal(group.currency.plain(minor)))] for minor in amounts}


@pytest.mark.parametrize("code", ["USD", "GBP", "EUR", "CAD"])
def test_sums_in_words_come_back(code: str) -> None:
    written = {minor: in_words(minor, code) for minor in range(101, 10_000, 101) if minor % 100}

    came_back = {minor: prices(message(words), code) for minor, words in written.items()}

    assert {minor: read for minor, read in came_back.items() if read != [(12, Decimal(minor) / 100)]} == {}


def in_words(minor: int, code: str) -> str:
    """The words of num2words as people leave out the comma and "sterling"."""
    words: str = num2words(minor / 100, to="currency", currency=code)
    return words.replace(",", "").replace(" sterling", "")
