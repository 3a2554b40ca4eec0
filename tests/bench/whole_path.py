"""From a message to its queued reply on disk, against one bare durable insert; ``python -m tests.bench.whole_path``.

An argument names the folder in which the temporary files lie; without one it is the system's own for such files.
"""

from __future__ import annotations

import cProfile
import pstats
import sqlite3
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import partial
from itertools import count
from pathlib import Path
from random import Random
from statistics import median
from tempfile import TemporaryDirectory

from bot.assistant import Assistant
from bot.messages import Incoming, Sender
from bot.storage.books import Database
from bot.storage.engines import PRAGMAS
from tests.bench import catalogue
from tests.bench.timing import Round, against, alternating, heading, ratio, times

ROUNDS = 25
MESSAGES = 40
BEFORE = 2000
"""Messages heard before the first round, so that the items have a history."""
CHAT = "bench"
AIM = 4
ROW = "CREATE TABLE heard (id INTEGER PRIMARY KEY, who TEXT NOT NULL, text TEXT NOT NULL, at TEXT NOT NULL)"
ADD = "INSERT INTO heard (who, text, at) VALUES (?, ?, ?)"


@dataclass(frozen=True, slots=True)
class Chat:
    """A group's chat: price messages about random items, each under a ref of its own."""

    assistant: Assistant
    refs: count[int]
    chance: Random

    def incoming(self) -> Incoming:
        """The next message, one minute after the one before."""
        ref = next(self.refs)
        item, cents = self.chance.choice(catalogue.ITEMS), self.chance.randint(150, 190)
        text = f"12 {catalogue.plural(item)} {cents / 100:.2f} at corner store"
        at = datetime(2026, 8, 3, 10, 15, tzinfo=UTC) + timedelta(minutes=ref)
        return Incoming(CHAT, Sender("Mei"), text, at, str(ref))

    def hear(self, messages: int) -> None:
        """Let the assistant hear so many messages."""
        for _ in range(messages):
            self.assistant.hear(self.incoming())


@contextmanager
def chat(url: str) -> Iterator[Chat]:
    """A chat of the invented group, with some history, in a database of this URL."""
    database = Database(url)
    database.migrate()
    database.found(CHAT, catalogue.group())
    talking = Chat(Assistant(database, None), count(1), Random(7))  # noqa: S311 - no secret
    talking.hear(BEFORE)
    yield talking
    database.close()


def bare(folder: Path) -> sqlite3.Connection:
    """A table of its own file under the same pragmas as the books."""
    connection = sqlite3.connect(folder / "bare.db", isolation_level=None)
    for pragma in (*PRAGMAS, "PRAGMA journal_mode = WAL"):
        connection.execute(pragma)
    connection.execute(ROW)
    return connection


def insert(connection: sqlite3.Connection, rows: int) -> None:
    """So many rows, each in a durable transaction of its own."""
    for number in range(rows):
        connection.execute("BEGIN IMMEDIATE")
        connection.execute(ADD, ("Mei", f"12 red pencils 0.{number:02} at corner store", "2026-08-03T10:15"))
        connection.execute("COMMIT")


def _round(work: Callable[[int], None]) -> Round:
    return lambda _number: work(MESSAGES)


def where_it_goes(talking: Chat) -> None:
    """Print the dozen functions that take most time of their own, and the dozen spans that take most in all."""
    profile = cProfile.Profile()
    profile.runcall(talking.hear, 10 * MESSAGES)
    for order in ("tottime", "cumulative"):
        stats = pstats.Stats(profile)
        stats.strip_dirs().sort_stats(order).print_stats(12 if order == "tottime" else 30)


def main() -> None:
    """Print the times, the ratio, and where the time goes."""
    heading("Read, judge, record and reply, durable on disk", "sqlalchemy")
    print(f"SQLite {sqlite3.sqlite_version}, WAL, synchronous FULL; {MESSAGES} messages a round\n")
    place = sys.argv[1] if len(sys.argv) > 1 else None
    with TemporaryDirectory(dir=place) as folder, chat(f"sqlite:///{folder}/books.db") as on_disk:
        with chat("sqlite://") as in_memory:
            works = {
                "hear, on disk": _round(on_disk.hear),
                "bare insert, on disk": _round(partial(insert, bare(Path(folder)))),
                "hear, in memory": _round(in_memory.hear),
            }
            taken = alternating(works, ROUNDS, MESSAGES)
        times(taken, "message")
        against("hear / bare insert", ratio(taken, "hear, on disk", "bare insert, on disk"), AIM)
        disk = median(taken["hear, on disk"]) - median(taken["hear, in memory"])
        print(f"{'of it for the disk: on disk less in memory':60} {disk:7.0f} us\n")
        where_it_goes(on_disk)


if __name__ == "__main__":
    main()
