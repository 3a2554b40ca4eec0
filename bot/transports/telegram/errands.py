"""Errands for chats off the event loop: one at a time for a chat, chats side by side."""

from __future__ import annotations

import asyncio
import logging
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from bot.transports.telegram.patience import delays, pause

_log = logging.getLogger(__name__)


class Errands:
    """Errands of one sort under way; what cannot be done now is tried again, ever more slowly, until it is.

    ``do`` does all that there is to do for a chat, in a thread, and returns None once it is done, else the least
    number of seconds before it makes sense to try again. Errands for so many chats are under way ``at_once``.
    """

    def __init__(self, do: Callable[[str], float | None], at_once: int, stop: asyncio.Event) -> None:
        self._do = do
        self._threads = ThreadPoolExecutor(at_once)
        self._stop = stop
        self._under_way: dict[str, asyncio.Task[None]] = {}
        self._woken: set[str] = set()

    def wake(self, chat: str) -> None:
        """Do what there is to do for a chat, now or right after the errand under way."""
        self._woken.add(chat)
        if chat not in self._under_way:
            self._under_way[chat] = asyncio.create_task(self._run(chat))

    def under_way(self) -> set[asyncio.Task[None]]:
        """The errands that have not come to their end."""
        return set(self._under_way.values())

    async def _run(self, chat: str) -> None:
        waits = delays()
        while chat in self._woken and not self._stop.is_set():
            self._woken.discard(chat)
            least = await asyncio.get_running_loop().run_in_executor(self._threads, self._done, chat)
            if least is None:
                waits = delays()
            else:
                await pause(self._stop, least or next(waits))
                self._woken.add(chat)
        del self._under_way[chat]

    def _done(self, chat: str) -> float | None:
        """What comes of an errand; one that fails, which it should not, must not keep its chat from being served."""
        try:
            return self._do(chat)
        except Exception:
            _log.exception("An errand for %s failed", chat)
            return 0
