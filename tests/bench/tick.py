"""One look at the clock for 10,000 groups, nothing due and many summaries at once; ``python -m tests.bench.tick``."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import perf_counter

from sqlalchemy import Connection, delete, func, select, update

from bot.assistant import Assistant
from bot.posts.schedule import come_to, made_up_to
from bot.storage import founding
from bot.storage.books import Books, Database
from bot.storage.calendar_tables import timed_posts
from bot.storage.entries import new_entry
from bot.storage.prices import add_sighting
from bot.storage.tables import groups, outbox
from bot.timekeeper import Timekeeper
from core.due import wall_clock
from core.group import Group, Kit, Settings
from core.money import currency
from core.prices import Sighting
from tests.bench import catalogue
from tests.bench.timing import Round, against, alternating, heading, per_piece, ratio, times

GROUPS = 10_000
DUE_AT_ONCE = (250, 500, 1000)
IDLE_ROUNDS, IDLE_TICKS = 25, 20
ROUNDS = 3
AIM_MILLISECONDS = 5
AIM_GROWTH = 2 * 1.1
"""Twice as many summaries should take twice as long, and a tenth more at most."""
ITEMS = catalogue.group().items[:4]
KIT = Kit("parcel", 200, date(2026, 11, 14), {item.name: 2 for item in ITEMS})
SUNDAY = datetime(2026, 8, 9, 18, tzinfo=UTC)
"""When the weekly summaries fall due: the groups' own clock is UTC."""
SEEN = SUNDAY - timedelta(days=2)
IDLE = SUNDAY - timedelta(hours=1)


def group() -> Group:
    """A group like most: four members, three shops, four items, a kit that is far from done."""
    return Group(
        "Bench packers", Settings(currency("USD")), catalogue.MEMBERS, catalogue.STORES, ITEMS, (KIT,), budget=40_000
    )


def found_all(database: Database) -> None:
    """Found the groups in one transaction, all of them watched; those whose summaries come have had a busy week."""
    own = group()
    with database.transaction() as connection:
        for number in range(GROUPS):
            founding.found(connection, f"bench:{number}", own)
        busy = connection.execute(select(groups.c.id).order_by(groups.c.id).limit(max(DUE_AT_ONCE))).scalars()
        for number, group_id in enumerate(busy.all()):
            books = Books(group_id, f"bench:{number}", f"bench:{number}", connection)
            entry = new_entry(books, "Mei", SEEN, "some prices")
            for place, item in enumerate(ITEMS):
                add_sighting(books, entry, Sighting(item.name, 12, 30 + place, SEEN.date(), "corner store"))
            come_to(books, own, made_up_to(books, own, SEEN), SEEN)
        # All groups are alike, so that what holds for one of them holds for the rest.
        watched = {"posted_to": wall_clock(SEEN, own.settings.zone), "next_at": SUNDAY}
        connection.execute(update(groups).where(groups.c.posted_to.is_(None)).values(**watched))


def make_due(connection: Connection, number: int) -> None:
    """Let the summaries of so many groups fall due on Sunday as if none had ever come, and nothing of the others."""
    connection.execute(delete(timed_posts))
    connection.execute(delete(outbox))
    before = wall_clock(IDLE, UTC)
    connection.execute(update(groups).values(posted_to=before, next_at=SUNDAY + timedelta(days=7)))
    first = select(groups.c.id).order_by(groups.c.id).limit(number)
    connection.execute(update(groups).where(groups.c.id.in_(first)).values(next_at=SUNDAY))


def ticking(timekeeper: Timekeeper, database: Database) -> dict[str, Round]:
    """Ticks with nothing due, and as many of the least that SQLAlchemy can be asked on the same connection."""

    def tick(number: int) -> None:
        del number
        for _ in range(IDLE_TICKS):
            timekeeper.tick(IDLE)

    def least(number: int) -> None:
        del number
        for _ in range(IDLE_TICKS):
            with database.reading() as connection:
                connection.execute(select(1)).scalar()

    return {"tick, nothing due": tick, "SELECT 1": least}


def summing_up(timekeeper: Timekeeper, database: Database) -> dict[str, list[float]]:
    """Microseconds a summary in every round, each number of groups first in its turn; round 0 warms up."""

    def tick(number: int) -> None:
        del number
        timekeeper.tick(SUNDAY)

    taken: dict[str, list[float]] = {f"{due} due at once": [] for due in DUE_AT_ONCE}
    for number in range(ROUNDS + 1):
        first = number % len(DUE_AT_ONCE)
        for due in DUE_AT_ONCE[first:] + DUE_AT_ONCE[:first]:
            with database.transaction() as connection:
                make_due(connection, due)
            microseconds = per_piece(tick, number, due)
            _check(database, due)
            if number:
                taken[f"{due} due at once"].append(microseconds)
    return taken


def _check(database: Database, due: int) -> None:
    """Raises ValueError where not as many posts were made as fell due."""
    with database.reading() as connection:
        made = connection.execute(select(func.count()).select_from(outbox)).scalar_one()
    if made != due:
        raise ValueError(f"{made} posts made of {due}")


def growth(taken: Mapping[str, list[float]]) -> None:
    """Print how much longer twice as many summaries take."""
    fewer, some, many = taken
    against(f"{many} over {some}", 2 * ratio(taken, many, some), AIM_GROWTH)
    against(f"{some} over {fewer}", 2 * ratio(taken, some, fewer), AIM_GROWTH)
    longest = max(DUE_AT_ONCE)
    print(f"{f'the whole tick with {longest} due':60} {median(taken[many]) * longest / 1e6:7.1f} s")


def main() -> None:
    """Measure and print."""
    heading(f"A tick for {GROUPS:,} groups in one SQLite file", "sqlalchemy")
    with TemporaryDirectory() as folder:
        database = Database(f"sqlite:///{Path(folder) / 'books.db'}")
        database.migrate()
        began = perf_counter()
        found_all(database)
        print(f"{GROUPS:,} groups set up in {perf_counter() - began:.1f} s\n")
        timekeeper = Timekeeper(database, Assistant(database, None))
        idle = alternating(ticking(timekeeper, database), IDLE_ROUNDS, IDLE_TICKS)
        times(idle, "tick")
        tick, least = idle
        against("slowest round, milliseconds a tick", max(idle[tick]) / 1000, AIM_MILLISECONDS)
        print(f"{f'{tick} / {least}':60} {ratio(idle, tick, least):7.3f}\n")
        taken = summing_up(timekeeper, database)
        times(taken, "summary")
        growth(taken)
        database.close()


if __name__ == "__main__":
    main()
