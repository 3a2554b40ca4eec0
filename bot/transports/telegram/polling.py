"""Long polling: asks the Bot API for updates, and confirms them only when they have been heard."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from functools import partial

from telegram import Bot, Update

from bot.transports.telegram.patience import answered

LONG_POLL_SECONDS = 20
HEARD = (Update.MESSAGE, Update.CALLBACK_QUERY)


async def batches(bot: Bot, stop: asyncio.Event) -> AsyncIterator[tuple[Update, ...]]:
    """Updates in their order, until stopped.

    Asking for the next batch confirms the one before, so a crash in between makes the Bot API send it
    again, and nothing said meanwhile is lost.
    """
    await answered(bot.delete_webhook, stop)
    offset: int | None = None
    while True:
        ask = partial(bot.get_updates, offset, timeout=LONG_POLL_SECONDS, allowed_updates=HEARD)
        batch = await answered(ask, stop)
        if batch is None:
            return
        if batch:
            yield batch
            offset = batch[-1].update_id + 1
