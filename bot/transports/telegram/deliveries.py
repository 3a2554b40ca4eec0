"""Empties each chat's outbox off the event loop: one delivery at a time in a chat, chats side by side."""

from __future__ import annotations

import asyncio
from collections.abc import Callable

from bot.transports.telegram.patience import delays, pause


class Deliveries:
    """Deliveries under way; what cannot go now is tried again, ever more slowly, until it goes.

    ``empty`` delivers what waits for a chat, and says whether all of it could go; it runs in a thread.
    """

    def __init__(self, empty: Callable[[str], bool], stop: asyncio.Event) -> None:
        self._empty = empty
        self._stop = stop
        self._under_way: dict[str, asyncio.Task[None]] = {}
        self._woken: set[str] = set()

    def wake(self, chat: str) -> None:
        """Deliver what waits for a chat, now or right after the delivery under way."""
        self._woken.add(chat)
        if chat not in self._under_way:
            self._under_way[chat] = asyncio.create_task(self._deliver(chat))

    def under_way(self) -> set[asyncio.Task[None]]:
        """The deliveries that have not come to their end."""
        return set(self._under_way.values())

    async def _deliver(self, chat: str) -> None:
        waits = delays()
        while chat in self._woken:
            self._woken.discard(chat)
            if await asyncio.to_thread(self._empty, chat):
                continue
            await pause(self._stop, next(waits))
            if not self._stop.is_set():
                self._woken.add(chat)
        del self._under_way[chat]
