"""Errands: one at a time for a chat, tried again until done, each trouble waited for from the start."""

from __future__ import annotations

import asyncio

import pytest

from bot.transports.telegram import errands
from bot.transports.telegram.errands import Errands


class Busy:
    """A chat that is woken again during each errand but the last; they come out as told."""

    def __init__(self, *outcomes: float | Exception | None) -> None:
        self._outcomes = list(outcomes)
        self._errands: Errands

    async def run(self) -> None:
        """Until all is done."""
        self._errands = Errands(self._do, asyncio.Event())
        self._errands.wake("harbour")
        await asyncio.wait(self._errands.under_way())

    def _do(self, chat: str) -> float | None:
        outcome = self._outcomes.pop(0)
        if self._outcomes:
            self._errands.wake(chat)
        if isinstance(outcome, Exception):
            raise outcome
        return outcome


@pytest.fixture
def waits(monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """The waits between errands, which take no time."""
    waits: list[float] = []

    async def noted(_stop: asyncio.Event, seconds: float) -> None:
        waits.append(seconds)

    monkeypatch.setattr(errands, "pause", noted)
    return waits


def test_what_cannot_be_done_is_tried_again_ever_more_slowly(waits: list[float]) -> None:
    asyncio.run(Busy(0, 0, 7, 0, None).run())

    assert waits == [0.5, 1, 7, 4]


def test_new_trouble_is_waited_for_from_the_start(waits: list[float]) -> None:
    asyncio.run(Busy(0, 0, None, 0, None).run())

    assert waits == [0.5, 1, 0.5]


def test_an_errand_that_fails_is_tried_again(waits: list[float]) -> None:
    asyncio.run(Busy(ZeroDivisionError(), None).run())

    assert waits == [0.5]
