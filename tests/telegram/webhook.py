"""The pump that posts each update to the webhook: in order within a chat, chats side by side, until it is taken."""

from __future__ import annotations

import asyncio
import re
import time
from collections import deque
from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import dataclass
from itertools import count
from urllib.parse import SplitResult, urlsplit

from tests.telegram.envelope import encoded
from tests.telegram.updates import Update, Updates, Webhook, on_this_machine
from tests.telegram.wire import HEADER_END

SECRET_HEADER = "X-Telegram-Bot-Api-Secret-Token"  # noqa: S105 - its name, not a secret
FIRST_DELAY = 0.05
LONGEST_DELAY = 1.0
ANSWER_SECONDS = 60.0
"""How long the webhook may take to answer (from memory)."""

REFUSED = "Connection refused"

_LENGTH = re.compile(rb"\r\ncontent-length:[ \t]*(\d+)", re.IGNORECASE)
_CLOSES = re.compile(rb"\r\nconnection:[ \t]*close", re.IGNORECASE)

Line = tuple[asyncio.StreamReader, asyncio.StreamWriter]


@dataclass(frozen=True, slots=True)
class Delivery:
    """One attempt to deliver an update; the outcome is the status of the answer, or why there was none."""

    update_id: int
    chat: int
    address: str
    outcome: int | str
    at: float


class Pump:
    """Runs on the server's loop, all of it; the updates are shared with other threads under the lock."""

    def __init__(
        self, updates: Updates, lock: AbstractContextManager[object], told: Callable[[Delivery], None]
    ) -> None:
        self._updates = updates
        self._lock = lock
        self._told = told
        self._queues: dict[int, deque[Update]] = {}
        self._tasks: set[asyncio.Task[None]] = set()
        self._webhook: Webhook | None = None
        self._slots = asyncio.Semaphore()
        self._turns = count()
        self._lines: dict[str, list[Line]] = {}
        self.workers: list[str] = []
        """Addresses that take turns in place of the webhook's own, as behind a load balancer."""

    def wake(self) -> None:
        """Look what there is to deliver, and whereto."""
        with self._lock:
            if self._updates.webhook is not self._webhook:
                self._turn_to(self._updates.webhook)
            while self._webhook is not None and self._updates.waiting:
                self._queue(self._updates.hand_out())

    def _turn_to(self, webhook: Webhook | None) -> None:
        """Another webhook, or none: what was on its way to the one before waits with the updates again."""
        for task in self._tasks:
            task.cancel()
        self._queues.clear()
        self._webhook = webhook
        self._slots = asyncio.Semaphore(webhook.connections if webhook else 1)

    def _queue(self, update: Update) -> None:
        queue = self._queues.setdefault(update.chat, deque())
        queue.append(update)
        if len(queue) == 1:
            task = asyncio.get_running_loop().create_task(self._empty(queue))
            self._tasks.add(task)
            task.add_done_callback(self._tasks.discard)

    async def _empty(self, queue: deque[Update]) -> None:
        while queue:
            delay = FIRST_DELAY
            while not await self._taken(queue[0]):
                await asyncio.sleep(delay)
                delay = min(2 * delay, LONGEST_DELAY)
            with self._lock:
                self._updates.handed_out.pop(queue.popleft().place, None)

    async def _taken(self, update: Update) -> bool:
        """Whether somebody answered 2xx; the addresses are tried in turn while they refuse the connection."""
        assert self._webhook is not None
        addresses = self.workers or [self._webhook.url]
        first = next(self._turns)
        outcome: int | str = REFUSED
        async with self._slots:
            for number in range(len(addresses)):
                address = addresses[(first + number) % len(addresses)]
                outcome = await self._outcome(address, update, self._webhook)
                self._told(Delivery(update.update_id, update.chat, address, outcome, time.monotonic()))
                if outcome != REFUSED:
                    break
        if isinstance(outcome, int) and 200 <= outcome < 300:
            return True
        with self._lock:
            self._updates.trouble(
                outcome if isinstance(outcome, str) else f"Wrong response from the webhook: {outcome}"
            )
        return False

    async def _outcome(self, address: str, update: Update, webhook: Webhook) -> int | str:
        try:
            return await self._post(_whole(address, webhook.url), update, webhook)
        except ConnectionRefusedError:
            return REFUSED
        except (OSError, EOFError, TimeoutError):
            return "Connection closed"

    async def _post(self, address: SplitResult, update: Update, webhook: Webhook) -> int:
        """The status of the answer. Raises OSError, EOFError, TimeoutError."""
        if not on_this_machine(address):
            raise ConnectionRefusedError
        body = encoded(update.json)
        secret = f"{SECRET_HEADER}: {webhook.secret}\r\n" if webhook.secret else ""
        head = (
            f"POST {address.path or '/'} HTTP/1.1\r\nHost: {address.netloc}\r\n{secret}"
            f"Content-Type: application/json\r\nContent-Length: {len(body)}\r\n\r\n"
        )
        line = await self._line(address)
        status = None
        try:
            line[1].write(head.encode() + body)
            async with asyncio.timeout(ANSWER_SECONDS):
                status, reusable = await _answer(line[0])
            if reusable:
                self._lines[address.netloc].append(line)
                return status
        except BaseException:
            line[1].close()
            raise
        line[1].close()
        return status

    async def _line(self, address: SplitResult) -> Line:
        """A line to the address: one that is open still, or a new one."""
        idle = self._lines.setdefault(address.netloc, [])
        while idle:
            line = idle.pop()
            if not line[0].at_eof():
                return line
            line[1].close()
        return await asyncio.open_connection(address.hostname, address.port or 80)

    def close(self) -> None:
        """Let go of every line."""
        self._turn_to(None)
        for line in (line for lines in self._lines.values() for line in lines):
            line[1].close()


async def _answer(reader: asyncio.StreamReader) -> tuple[int, bool]:
    """The status, and whether the line can be used again."""
    head = await reader.readuntil(HEADER_END)
    length = _LENGTH.search(head)
    if length:
        await reader.readexactly(int(length[1]))
    status = int(head.split(b" ", 2)[1])
    return status, bool(length or status == 204) and not _CLOSES.search(head)


def _whole(address: str, url: str) -> SplitResult:
    """A worker's address with the path of the webhook, unless it has one of its own."""
    split = urlsplit(address)
    return split if split.path.strip("/") else split._replace(path=urlsplit(url).path)
