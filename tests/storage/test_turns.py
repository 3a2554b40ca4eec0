"""Turns of several workers on one server: one at a time, and each learns when another has ended."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import ExitStack, closing

import pytest

from bot.storage.books import Database
from bot.storage.turns import Turns


@pytest.fixture
def worker(new_address: Callable[[str], str]) -> Iterator[Callable[[], Turns]]:
    """Makes the turns of one worker more."""
    address = new_address("postgresql")
    with ExitStack() as ending:

        def come() -> Turns:
            database = ending.enter_context(closing(Database(address)))
            return ending.enter_context(closing(Turns(database)))

        yield come


def test_a_turn_is_for_one_worker(worker: Callable[[], Turns]) -> None:
    ours, theirs = worker(), worker()

    assert [ours.take("a"), theirs.take("a"), theirs.take("b")] == [True, False, True]
    ours.end("a")
    assert theirs.take("a")


def test_the_turns_of_a_worker_end_with_it(worker: Callable[[], Turns]) -> None:
    ours, theirs = worker(), worker()
    theirs.take("a")

    theirs.close()

    assert ours.take("a")


def test_a_worker_learns_once_that_another_has_ended(worker: Callable[[], Turns]) -> None:
    ours, theirs = worker(), worker()
    theirs.take("a")
    known = [ours.has_lost_worker(), ours.has_lost_worker()]

    theirs.close()

    assert known == [False, False]
    assert [ours.has_lost_worker(), ours.has_lost_worker()] == [True, False]


def test_nobody_is_lost_on_a_file(new_address: Callable[[str], str]) -> None:
    with closing(Database(new_address("sqlite"))) as database:
        turns = Turns(database)

        assert [turns.take("a"), turns.take("a"), turns.has_lost_worker()] == [True, False, False]
