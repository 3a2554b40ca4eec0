"""The inbox: what arrives is written down once, also where two workers do so at the same moment."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from datetime import UTC, datetime
from time import sleep

from bot.messages import Incoming, Sender
from bot.storage import inbox
from bot.storage.books import Database

AT = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)
FIRST, SECOND = (Incoming("harbour", Sender("Mei"), "hello", AT, str(ref), arrival=ref) for ref in (8, 9))


def test_what_arrives_again_stays_as_it_was(database: Database) -> None:
    inbox.keep(database, [FIRST])
    inbox.keep(database, [FIRST, SECOND])

    assert inbox.arrived(database, "harbour", 9) == [FIRST, SECOND]


def test_two_workers_may_write_down_the_same_at_once(new_address: Callable[[str], str]) -> None:
    with closing(Database(new_address("postgresql"))) as database, ThreadPoolExecutor(1) as other:
        database.migrate()
        with database.transaction() as connection:
            rows = [{"under_number": 8, "in_chat": "harbour", "as_written": inbox._written(FIRST)}]
            connection.execute(inbox._KEEP, rows)
            keeping = other.submit(inbox.keep, database, [FIRST, SECOND])
            sleep(0.3)  # by now it waits for us

        keeping.result()

        assert inbox.arrived(database, "harbour", 9) == [FIRST, SECOND]
