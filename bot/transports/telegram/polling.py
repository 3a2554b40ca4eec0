"""Long polling: asks the Bot API for updates, and confirms them only when they are written down."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Callable, Coroutine, Sequence
from functools import partial
from typing import Any

from telegram import Bot, Update

from bot.storage.books import DatabaseTroubleError
from bot.transports.telegram.patience import answered, delays, pause
from bot.transports.telegram.updates import HEARD

LONG_POLL_SECONDS = 20

_log = logging.getLogger(__name__)


class Polling:
    """Asks for updates, until stopped."""

    def __init__(self, stop: asyncio.Event) -> None:
        self._stop = stop

    async def run(self, bot: Bot, take: Callable[[Sequence[Update]], Coroutine[Any, Any, None]]) -> None:
        """Hand on each batch, in its order. Raises RefusedError.

        Asking for the next batch confirms the one before, so a crash in between makes the Bot API send it
        again, and nothing said meanwhile is lost.
        """
        await answered(bot.delete_webhook, self._stop)
        offset: int | None = None
        while True:
            ask = partial(bot.get_updates, offset, timeout=LONG_POLL_SECONDS, allowed_updates=HEARD)
            batch = await answered(ask, self._stop)
            if batch is None or not await self._taken(batch, take):
                return
            if batch:
                offset = batch[-1].update_id + 1

    async def _taken(
        self, batch: Sequence[Update], take: Callable[[Sequence[Update]], Coroutine[Any, Any, None]]
    ) -> bool:
        """Hand a batch on until it is taken; False once stopped before."""
        waits = delays()
        while batch:
            try:
                await take(batch)
            except DatabaseTroubleError as trouble:
                _log.warning("%s", trouble)
                await pause(self._stop, next(waits))
                if self._stop.is_set():
                    return False
            else:
                break
        return True
