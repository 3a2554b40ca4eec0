"""Errands: one at a time for a chat, and tried again until done."""

from __future__ import annotations

import asyncio
from collections.abc import Callable

import pytest

from bot.transports.telegram import errands
from bot.transports.telegram.errands import Errands

Outcome = float | None | Exception


def run(outcomes: list[Outcome], monkeypatch: pytest.MonkeyPatch) -> list[float]:
    """Wake a chat until the errand has come out in each of these ways; the waits in between."""
    waits: list[float] = []

    async def noted(_stop: asyncio.Event, seconds: float) -> None:
        waits.append(seconds)

    monkeypatch.setattr(errands, "pause", noted)
    asyncio.run(_run(_in_turn(outcomes), outcomes))
    return waits


async def _run(do: Callable[[str], float | None], outcomes: list[Outcome]) -> None:
    served = Errands(do, 2, asyncio.Event())
    while outcomes:
        served.wake("harbour")
        await asyncio.wait(served.under_way())


def _in_turn(outcomes: list[Outcome]) -> Callable[[str], float | None]:
    def do(_chat: str) -> float | None:
        outcome = outcomes.pop(0)
        if isinstance(outcome, Exception):
            raise outcome
        return outcome

    return do


def test_what_cannot_be_done_is_tried_again_ever_more_slowly(monkeypatch: pytest.MonkeyPatch) -> None:
    assert run([0, 0, 7, 0, None], monkeypatch) == [0.5, 1, 7, 2]


def test_new_trouble_is_waited_for_from_the_start(monkeypatch: pytest.MonkeyPatch) -> None:
    assert run([0, 0, None, 0, None], monkeypatch) == [0.5, 1, 0.5]


def test_an_errand_that_fails_is_tried_again(monkeypatch: pytest.MonkeyPatch) -> None:
    assert run([ZeroDivisionError(), None, None], monkeypatch) == [0.5]
