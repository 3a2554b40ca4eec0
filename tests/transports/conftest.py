"""What the tests of the transports may ask for: a Bot API that stands in on loopback, and a database of one file."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from bot.storage.books import Database
from tests.telegram_stand_in import TelegramStandIn


@pytest.fixture
def telegram(monkeypatch: pytest.MonkeyPatch) -> Iterator[TelegramStandIn]:
    """The stand-in; at the end no call may have been other than the Bot API's manual has it."""
    monkeypatch.setenv("PTB_TIMEDELTA", "true")  # else the library warns of its own coming change
    with TelegramStandIn() as stand_in:
        yield stand_in
    assert stand_in.violations == []


@pytest.fixture
def database(tmp_path: Path) -> Iterator[Database]:
    """A database with its tables, and no group."""
    with closing(Database(f"sqlite:///{tmp_path / 'books.db'}")) as books:
        books.migrate()
        yield books
