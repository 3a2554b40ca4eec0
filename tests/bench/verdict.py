"""A verdict over 1,000, 100,000 and 1,000,000 sightings of a group; ``python -m tests.bench.verdict``.

Asked are items with the same history of their own in every book, and items over which the rest of the book is
spread evenly, so that their history grows with it. Numbers may follow, to measure other sizes; the first is the one
that the others are compared with.
"""

from __future__ import annotations

import cProfile
import pstats
import sqlite3
import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from datetime import UTC, datetime, timedelta
from functools import partial
from heapq import merge
from itertools import islice
from operator import itemgetter
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from time import perf_counter

from sqlalchemy import Connection, insert, select

from bot.skills.answering import Desk
from bot.skills.judging import verdict_on
from bot.storage.books import Database
from bot.storage.entries import new_entry
from bot.storage.prices import history
from bot.storage.tables import items, sightings, stores
from core.group import Group
from core.prices import Sighting
from tests.bench import catalogue
from tests.bench.timing import against, alternating, heading, ratio, times

SIZES = (1_000, 100_000, 1_000_000)
ROUNDS = 25
VERDICTS = 200
YEARS = 5
STEADY, SPREAD = catalogue.ITEMS[::20], tuple(item for place, item in enumerate(catalogue.ITEMS) if place % 20)
"""Items that have ``OWN`` sightings each, the same in every book; and the others."""
OWN = 20
AIM = 1.3
CHAT = "bench"
NOW = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)
_BATCH = 50_000
Row = dict[str, object]


def rows(seed: int, size: int, item_ids: Sequence[int], store_ids: Sequence[int]) -> Iterator[Row]:
    """Sightings in the order of their days, evenly over the years, the items in turn, every tenth marked down."""
    chance = Random(seed)  # noqa: S311 - no secret
    span = YEARS * 365
    for number in range(size):
        day = NOW.date() - timedelta(days=span - 1 - number * span // size)
        item, units = item_ids[number % len(item_ids)], chance.choice((1, 10, 12, 24, 48))
        price = max(1, round(units * (4 + item % 30) * chance.uniform(0.8, 1.2)))
        down = chance.random() < 0.1
        paid = max(1, price // 2) if down else price
        yield {
            "group_id": 1,
            "item_id": item,
            "store_id": chance.choice(store_ids),
            "count": units,
            "price": paid,
            "regular": price if down else None,
            "seen_on": day,
            "month": day.year * 12 + day.month - 1,
            "unit_price": paid / units,
            "marked_down": down,
            "live": True,
        }


def fill(connection: Connection, size: int, entry: int) -> None:
    """Insert so many sightings, in batches, with room in memory for the indexes."""
    connection.exec_driver_sql("PRAGMA cache_size = -400000")
    numbered = dict(connection.execute(select(items.c.name, items.c.id)).all())
    shops = list(connection.scalars(select(stores.c.id)))
    steady, spread = ([numbered[item] for item in some] for some in (STEADY, SPREAD))
    own = OWN * len(steady)
    parts = rows(0, own, steady, shops), rows(size, size - own, spread, shops)
    every = ({**row, "entry_id": entry} for row in merge(*parts, key=itemgetter("seen_on")))
    while batch := list(islice(every, _BATCH)):
        connection.execute(insert(sightings), batch)


@contextmanager
def desk(folder: Path, size: int, group: Group) -> Iterator[Desk]:
    """A desk on the books of a group with so many sightings, in a file of their own, opened anew once filled."""
    url, began = f"sqlite:///{folder / f'{size}.db'}", perf_counter()
    filling = Database(url)
    filling.migrate()
    filling.found(CHAT, group)
    with filling.open(CHAT) as books:
        fill(books.connection, size, new_entry(books, "Mei", NOW, "many"))
    filling.close()
    print(f"{size:,} sightings set up in {perf_counter() - began:.1f} s")
    database = Database(url)
    with database.open(CHAT) as books:
        yield Desk(books, group, "Mei", NOW)
    database.close()


def asked(number: int, of: Sequence[str]) -> list[Sighting]:
    """The offers of a round, the same for every size: random items of these at likely prices."""
    chance = Random(number)  # noqa: S311 - no secret
    return [
        Sighting(chance.choice(of), 12, chance.randint(40, 400), NOW.date(), "corner store") for _ in range(VERDICTS)
    ]


def judge_all(at: Desk, rounds: Sequence[Sequence[Sighting]], number: int) -> None:
    """A verdict on every offer of a round."""
    for sighting in rounds[number]:
        verdict_on(sighting, at)


def _behind(at: Desk, of: Sequence[str]) -> str:
    """How many sightings the usual price rests on, on average over these items."""
    usual = [history(at.books, item, at.today).usual for item in of]
    return f"{sum(one.sightings for one in usual if one) / len(usual):.1f}"


def where_it_goes(at: Desk, rounds: Sequence[Sequence[Sighting]]) -> None:
    """Print the functions that take most time of their own."""
    profile = cProfile.Profile()
    profile.runcall(judge_all, at, rounds, 0)
    pstats.Stats(profile).strip_dirs().sort_stats("tottime").print_stats(12)


def report(taken: Mapping[str, Sequence[float]], desks: Mapping[str, Desk], title: str, of: Sequence[str]) -> None:
    """Print the times of the questions of one title, what they rest on, and the ratios to the first size."""
    print(f"\n{title}: {len(of)} items")
    times({size: taken[f"{title}, {size}"] for size in desks}, "verdict")
    first, *others = desks
    for size in others:
        against(f"  {size} / {first} sightings", ratio(taken, f"{title}, {size}", f"{title}, {first}"), AIM)
    print("  a usual price rests on " + ", ".join(_behind(at, of) for at in desks.values()) + " sightings")


def main() -> None:
    """Print the times, the ratios to the first size, and where the time goes with the last."""
    sizes = [int(size) for size in sys.argv[1:]] or list(SIZES)
    heading("A verdict, 500 items, five years, every tenth sighting marked down", "sqlalchemy")
    print(f"SQLite {sqlite3.sqlite_version}, a file for each size; {VERDICTS} verdicts a round\n")
    group, titles = catalogue.group(), {"the same own history": STEADY, "an even spread": SPREAD}
    questions = {title: [asked(number, of) for number in range(ROUNDS + 1)] for title, of in titles.items()}
    with TemporaryDirectory() as folder, ExitStack() as stack:
        desks = {f"{size:,}": stack.enter_context(desk(Path(folder), size, group)) for size in sizes}
        works = {
            f"{title}, {size}": partial(judge_all, at, rounds)
            for title, rounds in questions.items()
            for size, at in desks.items()
        }
        taken = alternating(works, ROUNDS, VERDICTS)
        for title, of in titles.items():
            report(taken, desks, title, of)
        print(f"\nan even spread, {list(desks)[-1]} sightings")
        where_it_goes(list(desks.values())[-1], questions["an even spread"])


if __name__ == "__main__":
    main()
