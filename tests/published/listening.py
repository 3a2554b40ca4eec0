"""How a small invented group hears a message, and how a published table beside the tests becomes cases."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from bot.reading.marking import Listener
from bot.reading.names import names_of
from bot.reading.reader import Reader
from bot.skills import FORMS
from core.group import Group, Settings
from core.items import Item
from core.money import currency

AT = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)
Row = Mapping[str, Any]
Slots = Mapping[str, Any]
_reader = Reader(FORMS)


@cache
def listener(code: str) -> Listener:
    """Someone of a group that packs pencils and keeps its money in this currency."""
    settings = Settings(currency(code))
    group = Group("Lantern Yard packers", settings, ("Ottilie",), (), (Item("pencil"), Item("notebook")))
    return Listener(names_of(group), settings, "Ottilie")


def heard(text: str, code: str = "USD") -> list[Slots]:
    """The readings of a message, each with its kind, as the contract prints them."""
    who = listener(code)
    readings = _reader.read(text, AT, who).readings
    return [{"kind": one.kind, **one.slots.as_json(who.settings.currency)} for one in readings]


def prices(text: str, code: str = "USD") -> list[tuple[int, Decimal]]:
    """The count and the price of every price read in a message; none where it is asked about or not read."""
    return [
        (reading["count"], Decimal(reading["price"])) for reading in heard(text, code) if reading["kind"] == "price"
    ]


def choices(text: str) -> Sequence[str] | None:
    """The choices of the question that a message brings; None where it brings none."""
    return next((reading["options"] for reading in heard(text) if reading["kind"] == "unclear"), None)


def table(name: str) -> Row:
    """The published table of this name."""
    return tomllib.loads(Path(__file__).with_name(name).read_text("utf-8"))


def cases(rows: Iterable[Row], name: str = "said") -> list[object]:
    """One case a row, under its own words; a row with a ``fault`` must fail until that is mended."""
    return [
        pytest.param(
            row,
            id=str(row[name]),
            marks=pytest.mark.xfail(reason=row["fault"], raises=AssertionError, strict=True) if "fault" in row else (),
        )
        for row in rows
    ]
