"""The door to the books: founding, opening, keeping, dropping, and several writers at once."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from threading import Thread

import pytest
from sqlalchemy.exc import IntegrityError

from bot.messages import Post
from bot.storage import entries, group, outbox
from bot.storage.books import Books, Database
from core.entries import Entry
from core.group import Group, Settings
from core.money import currency

AT = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)
ROOT = Path(__file__).parents[2]
WRITER = """
import sys
from datetime import UTC, datetime
from bot.storage import entries, outbox
from bot.storage.books import Database
database = Database(sys.argv[1])
for ref in range(25):
    with database.open("harbour") as books:
        if outbox.take(books, str(ref)):
            entries.new_entry(books, "Mei", datetime(2026, 8, 3, tzinfo=UTC), f"message {ref}")
"""
KILLED = """
import os, signal, sys
from datetime import UTC, datetime
from bot.messages import Post
from bot.storage import outbox
from bot.storage.books import Database
at = datetime(2026, 8, 3, tzinfo=UTC)
with Database(sys.argv[1]).open("harbour") as books:
    outbox.take(books, "7")
    outbox.queue(books, Post("kept"), at)
with Database(sys.argv[1]).open("harbour") as books:
    outbox.take(books, "8")
    outbox.queue(books, Post("not yet kept"), at)
    os.kill(os.getpid(), signal.SIGKILL)
"""


def started(script: str, address: str) -> subprocess.Popen[bytes]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.Popen([sys.executable, "-c", script, address], env=environment)  # noqa: S603 (our own)


def test_a_founded_group_loads_as_given(books: Books, packers: Group) -> None:
    assert group.load_group(books) == packers


def test_founding_a_known_chat_changes_nothing(database: Database, packers: Group) -> None:
    other = Group("Quarry Street", Settings(currency("EUR")))

    database.found("harbour", other)

    with database.open("harbour") as books:
        assert group.load_group(books) == packers


def test_founding_with_a_name_twice_fails(database: Database) -> None:
    twice = Group("Quarry Street", Settings(currency("EUR")), members=("Mei", "Mei"))

    with pytest.raises(IntegrityError):
        database.found("quarry", twice)

    assert not database.knows("quarry")


def test_only_founded_chats_are_known(database: Database) -> None:
    assert database.knows("harbour")
    assert not database.knows("quarry")


def test_an_unknown_chat_has_no_books(database: Database) -> None:
    with pytest.raises(KeyError, match="quarry"), database.open("quarry"):
        pass


def test_what_was_written_is_kept(database: Database) -> None:
    with database.open("harbour") as books:
        number = entries.new_entry(books, "Mei", AT, "12 pencils")

    with database.open("harbour") as books:
        found = entries.entry(books, number)
    assert found is not None
    assert found.summary == "12 pencils"


def test_an_exception_drops_the_transaction(database: Database) -> None:
    def fail_halfway(books: Books) -> None:
        outbox.take(books, "7")
        group.add_store(books, "Quarry Shop")
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError), database.open("harbour") as books:
        fail_halfway(books)

    with database.open("harbour") as books:
        assert outbox.take(books, "7")
        assert "Quarry Shop" not in group.load_group(books).stores


def test_books_in_memory_outlast_their_connection(packers: Group) -> None:
    database = Database("sqlite://")
    database.migrate()
    database.found("harbour", packers)

    known: list[bool] = []
    asking = Thread(target=lambda: known.append(database.knows("harbour")))
    asking.start()
    asking.join()

    assert known == [True]
    database.close()


def test_threads_take_a_message_once(database: Database) -> None:
    taken: list[str] = []

    def take_all() -> None:
        for ref in map(str, range(20)):
            with database.open("harbour") as books:
                if outbox.take(books, ref):
                    taken.append(ref)

    threads = [Thread(target=take_all) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert sorted(taken, key=int) == [str(ref) for ref in range(20)]


def test_processes_write_without_loss_or_doubles(database: Database, address: str) -> None:
    writers = [started(WRITER, address) for _ in range(2)]

    codes = [writer.wait() for writer in writers]

    assert codes == [0, 0]
    with database.open("harbour") as books:
        summaries = [entry.summary for entry in every_entry(books)]
    assert sorted(summaries) == sorted(f"message {ref}" for ref in range(25))


def every_entry(books: Books) -> Iterator[Entry]:
    last = entries.last_entry(books, None)
    for number in range(1, last.number + 1 if last else 1):
        found = entries.entry(books, number)
        if found is not None:
            yield found


def test_a_kill_loses_no_kept_post(database: Database, address: str) -> None:
    code = started(KILLED, address).wait()

    assert code == -signal.SIGKILL
    assert [queued.post.text for queued in outbox.waiting(database, "harbour")] == ["kept"]
    with database.open("harbour") as books:
        assert not outbox.take(books, "7")
        assert outbox.take(books, "8")


def test_workers_may_found_a_chat_together(database: Database, packers: Group) -> None:
    threads = [Thread(target=database.found, args=("quarry", packers)) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    with database.open("quarry") as books:
        assert group.load_group(books) == packers


def test_workers_may_migrate_together(address: str) -> None:
    databases = [Database(address) for _ in range(3)]
    troubles: list[Exception] = []

    def migrate(database: Database) -> None:
        try:
            database.migrate()
        except Exception as trouble:
            troubles.append(trouble)

    threads = [Thread(target=migrate, args=(database,)) for database in databases]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert troubles == []
    assert not databases[0].knows("harbour")
    for database in databases:
        database.close()


def test_a_waiting_post_shows_no_half_done_work(database: Database) -> None:
    with database.open("harbour") as books:
        outbox.queue(books, Post("half done"), AT)

        assert outbox.waiting(database, None) == []
