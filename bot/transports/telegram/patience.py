"""Waiting that a stop cuts short, and asking the Bot API until it answers."""

from __future__ import annotations

import asyncio
import contextlib
import logging
from collections.abc import Awaitable, Callable, Coroutine, Iterator
from typing import Any, TypeVar

from telegram.error import Conflict, InvalidToken, TelegramError

T = TypeVar("T")

FIRST_DELAY = 0.5
LONGEST_DELAY = 30.0

_log = logging.getLogger(__name__)


class RefusedError(Exception):
    """The Bot API knows no bot of this token; ``str()`` is one sentence."""


def delays() -> Iterator[float]:
    """Seconds to wait before each new try: 0.5, 1, 2 and so on up to 30."""
    delay = FIRST_DELAY
    while True:
        yield delay
        delay = min(2 * delay, LONGEST_DELAY)


async def pause(stop: asyncio.Event, seconds: float) -> None:
    """Wait, but not past a stop."""
    with contextlib.suppress(TimeoutError):
        await asyncio.wait_for(stop.wait(), seconds)


async def answered(ask: Callable[[], Coroutine[Any, Any, T]], stop: asyncio.Event) -> T | None:
    """What the Bot API answers, however long that takes; None once stopped. Raises RefusedError.

    A trouble is told once, not at each try.
    """
    told: str | None = None
    waits = delays()
    while not stop.is_set():
        try:
            answer = await _unless(stop, ask())
        except InvalidToken:
            raise RefusedError(
                "The Bot API refuses the token: check BOT_TOKEN against what @BotFather gave you,"
                " and BOT_API_URL if you have set it"
            ) from None
        except TelegramError as trouble:
            if (saying := _in_words(trouble)) != told:
                _log.warning("%s; trying again until it works", saying)
                told = saying
            await pause(stop, next(waits))
        else:
            if told is not None:
                _log.info("The Bot API answers again")
            return answer
    return None


def _in_words(trouble: TelegramError) -> str:
    if isinstance(trouble, Conflict):
        return "Another program fetches this bot's messages, and only one may"
    return f"The Bot API does not answer ({trouble.message})"


async def _unless(stop: asyncio.Event, asking: Awaitable[T]) -> T | None:
    asked = asyncio.ensure_future(asking)
    stopped = asyncio.ensure_future(stop.wait())
    done, left = await asyncio.wait({asked, stopped}, return_when=asyncio.FIRST_COMPLETED)
    for task in left:
        task.cancel()
    await asyncio.wait({asked, stopped})
    return asked.result() if asked in done else None
