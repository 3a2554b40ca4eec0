"""Pack counts and sizes against the written package sizes of a shop's product list."""

from __future__ import annotations

from decimal import Decimal

import pytest

from tests.published.listening import Row, cases, prices, table

TABLE = table("pack_forms.toml")
TWO = Decimal("2.00")


def read(written: str) -> list[tuple[int, Decimal]]:
    return prices(f"pencils {written} 2.00")


@pytest.mark.parametrize("row", cases(TABLE["counted"], "shape"))
def test_written_counts_are_read_as_counts(row: Row) -> None:
    misread = {written: read(written) for written, count in row["forms"] if read(written) != [(count, TWO)]}

    assert misread == {}


@pytest.mark.parametrize("row", cases(TABLE["measured"], "unit"))
def test_written_measures_are_no_counts(row: Row) -> None:
    """Without a count a price is for one."""
    misread = {written: read(written) for written in row["forms"] if read(written) != [(1, TWO)]}

    assert misread == {}


def test_the_list_holds_each_form_once() -> None:
    counted = [written for row in TABLE["counted"] for written, _ in row["forms"]]
    measured = [written for row in TABLE["measured"] for written in row["forms"]]

    assert len(counted) <= 400
    assert len({*counted, *measured}) == len(counted) + len(measured)
