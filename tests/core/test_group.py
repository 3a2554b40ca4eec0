"""The group: its days, its items by name, the most it would pay."""

from __future__ import annotations

from datetime import UTC, date, datetime
from fractions import Fraction

import pytest

from core.group import Group, Settings
from core.items import Item, PricePoint
from core.money import currency

CHICAGO = Settings(currency("USD"), timezone="America/Chicago")
PACKERS = Group("Packers", CHICAGO, items=(Item("pencil", ("no. 2 pencil",)), Item("pencil case")))


def test_the_day_is_the_groups_own() -> None:
    # four in the morning in Greenwich is eleven at night in Chicago, the day before
    assert CHICAGO.day(datetime(2026, 8, 4, 4, 0, tzinfo=UTC)) == date(2026, 8, 3)


def test_summer_time_moves_the_midnight() -> None:
    # 05:30 in Greenwich: half past midnight in summer (UTC-5), half past eleven in winter (UTC-6)
    assert CHICAGO.day(datetime(2026, 7, 1, 5, 30, tzinfo=UTC)) == date(2026, 7, 1)
    assert CHICAGO.day(datetime(2026, 1, 1, 5, 30, tzinfo=UTC)) == date(2025, 12, 31)


def test_moment_without_zone_is_local() -> None:
    assert CHICAGO.day(datetime.fromisoformat("2026-08-03T23:59")) == date(2026, 8, 3)


def test_item_is_found_by_exact_name() -> None:
    assert PACKERS.item("pencil") == PACKERS.items[0]
    assert PACKERS.item("no. 2 pencil") is None


@pytest.mark.parametrize(
    ("point", "most"),
    [
        (PricePoint(Fraction(5), Fraction(7)), 7),
        (PricePoint(Fraction(5)), 5),
        (PricePoint(None, Fraction(7)), 7),
        (PricePoint(), None),
    ],
)
def test_most_to_pay_is_limit_else_target(point: PricePoint, most: int | None) -> None:
    assert point.most == most
