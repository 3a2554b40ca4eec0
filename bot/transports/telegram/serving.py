"""Serves every Telegram chat the clerk is in: hears each chat in order, and delivers what is answered."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import signal
from collections.abc import Coroutine, Sequence
from concurrent.futures import CancelledError, Future, ThreadPoolExecutor
from dataclasses import replace
from typing import Any

from telegram import Update
from telegram.error import TelegramError
from telegram.ext import AIORateLimiter, ExtBot

from bot import clock, delivery
from bot.assistant import Assistant
from bot.messages import STAYS, AdministratorsWantedError, Incoming, Queued, Sender
from bot.storage.books import Database, DatabaseTroubleError
from bot.storage.outbox import waiting
from bot.timekeeper import Timekeeper
from bot.transports.telegram.deliveries import Deliveries
from bot.transports.telegram.patience import answered, delays, pause
from bot.transports.telegram.polling import batches
from bot.transports.telegram.sending import send
from bot.transports.telegram.updates import CHAT, PRESS, incoming, sender

CHATS_AT_ONCE = 32
DUE_SECONDS = 20.0
"""How often the clerk looks whether something has fallen due."""
RATE_LIMIT_RETRIES = 3
STOP_SECONDS = 5.0
"""How long a stop waits for deliveries under way; what has not gone by then goes at the next start."""

_log = logging.getLogger(__name__)


class Telegram:
    """The transport for Telegram; all its network calls run on the one event loop of ``run``."""

    def __init__(self, token: str, api_url: str, database: Database, assistant: Assistant) -> None:
        self._bot = ExtBot(
            token,
            base_url=f"{api_url}/bot",
            base_file_url=f"{api_url}/file/bot",
            rate_limiter=AIORateLimiter(max_retries=RATE_LIMIT_RETRIES),
        )
        self._database = database
        self._assistant = assistant
        self._timekeeper = Timekeeper(database, assistant)
        self._stop = asyncio.Event()
        self._deliveries = Deliveries(self._empty, self._stop)
        self._held: set[str] = set()
        self._sendings: set[Future[str]] = set()
        self._asides: set[asyncio.Task[None]] = set()
        self._loop: asyncio.AbstractEventLoop | None = None

    def run(self) -> None:
        """Serve until SIGTERM, SIGINT or ``close``; what is in hand is finished. Raises RefusedError."""
        asyncio.run(self._serve())

    def deliver(self, queued: Queued) -> str:
        """Send a post, from any thread but the loop's own. Raises NotNowError, NeverError."""
        try:
            return self._sent(queued)
        except delivery.NotNowError:
            self._held.add(queued.chat)
            raise

    def close(self) -> None:
        """Tell ``run`` to stop, from any thread; it lets go of all it took."""
        if self._loop is not None and not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self._stop.set)

    async def _serve(self) -> None:
        self._loop = asyncio.get_running_loop()
        self._loop.set_default_executor(ThreadPoolExecutor(CHATS_AT_ONCE))
        self._stop_on_signals(self._loop)
        try:
            await answered(self._bot.initialize, self._stop)
            if self._stop.is_set():
                return
            _log.info("Serving as @%s", self._bot.username)
            await self._wake_all_waiting()
            self._aside(self._keep_time())
            async for batch in batches(self._bot, self._stop):
                await self._hear_batch(batch)
        finally:
            await self._finish()
            await self._bot.shutdown()
            _log.info("Stopped")

    def _stop_on_signals(self, loop: asyncio.AbstractEventLoop) -> None:
        for number in (signal.SIGTERM, signal.SIGINT):
            # Windows has no such thing, and a thread other than the main one may not ask for it.
            with contextlib.suppress(NotImplementedError, RuntimeError, ValueError):
                loop.add_signal_handler(number, self._stop.set)

    async def _wake_all_waiting(self) -> None:
        """Deliver what an earlier run left, chat by chat, so that one that holds up holds up no other."""
        left = await asyncio.to_thread(waiting, self._database, None)
        for chat in {queued.chat for queued in left if queued.chat.startswith(CHAT)}:
            self._deliveries.wake(chat)

    async def _keep_time(self) -> None:
        """Do what falls due, until we stop."""
        while not self._stop.is_set():
            try:
                await asyncio.to_thread(self._tick, asyncio.get_running_loop())
            except DatabaseTroubleError as trouble:
                _log.warning("%s", trouble)
            except Exception:
                _log.exception("What fell due was not done")
            await pause(self._stop, DUE_SECONDS)

    def _tick(self, loop: asyncio.AbstractEventLoop) -> None:
        """Do what has fallen due, in a thread; each chat's posts go out while others' are made."""
        for chat in self._timekeeper.served(clock.now()):
            loop.call_soon_threadsafe(self._deliveries.wake, chat)

    async def _hear_batch(self, batch: Sequence[Update]) -> None:
        chats: dict[str, list[Incoming]] = {}
        for update in batch:
            message = incoming(update, self._bot.username, clock.now())
            if message is not None:
                chats.setdefault(message.chat, []).append(message)
        await asyncio.gather(*(self._hear_in_order(messages) for messages in chats.values()))

    async def _hear_in_order(self, messages: Sequence[Incoming]) -> None:
        for message in messages:
            if message.pressed is not None:
                self._aside(self._bot.answer_callback_query(message.ref.removeprefix(PRESS)))
            await self._hear(message)
            self._deliveries.wake(message.chat)
            if message.pressed is not None and not message.pressed.startswith(STAYS):
                self._aside(self._take_buttons_away(message))

    async def _hear(self, message: Incoming) -> None:
        """Hear a message; while the database is in trouble, try again until it is heard or we stop."""
        waits = delays()
        while True:
            try:
                await asyncio.to_thread(self._assistant.hear, message)
            except AdministratorsWantedError:
                message = replace(message, administrators=await self._administrators(message.chat))
                continue
            except DatabaseTroubleError as trouble:
                _log.warning("%s", trouble)
                await pause(self._stop, next(waits))
                if not self._stop.is_set():
                    continue
            except Exception:
                _log.exception("Message %s of %s was not taken", message.ref, message.chat)
            return

    async def _administrators(self, chat: str) -> tuple[Sender, ...]:
        """Who administers a chat; nobody where the Bot API does not say."""
        try:
            found = await self._bot.get_chat_administrators(int(chat.removeprefix(CHAT)))
        except TelegramError as trouble:
            _log.warning("who administers %s is not known (%s)", chat, trouble.message)
            return ()
        return tuple(sender(one.user) for one in found if not one.user.is_bot)

    def _take_buttons_away(self, press: Incoming) -> Coroutine[Any, Any, object]:
        """A post answered by a press loses its buttons, so that nobody presses twice."""
        return self._bot.edit_message_reply_markup(
            chat_id=int(press.chat.removeprefix(CHAT)), message_id=int(press.answers or 0)
        )

    def _aside(self, call: Coroutine[Any, Any, object]) -> None:
        """Make a call that nothing hangs on, beside everything else."""
        task = asyncio.create_task(_unheeded(call))
        self._asides.add(task)
        task.add_done_callback(self._asides.discard)

    def _sent(self, queued: Queued) -> str:
        if self._loop is None:
            raise delivery.NotNowError("the transport is not running")
        sending = asyncio.run_coroutine_threadsafe(send(self._bot, queued), self._loop)
        self._sendings.add(sending)
        try:
            return sending.result()
        except CancelledError as stopped:
            raise delivery.NotNowError("the clerk is stopping") from stopped
        finally:
            self._sendings.discard(sending)

    def _empty(self, chat: str) -> bool:
        """Deliver what waits for a chat; False if some of it could not go now."""
        self._held.discard(chat)
        try:
            delivery.empty(self._database, chat, self)
        except DatabaseTroubleError as trouble:
            _log.warning("%s", trouble)
            return False
        except Exception:
            _log.exception("The posts of %s could not be delivered", chat)
            return False
        return chat not in self._held

    async def _finish(self) -> None:
        """Let what is under way come to its end, or, if that takes too long, leave it for the next start."""
        self._stop.set()
        under_way = {*self._deliveries.under_way(), *self._asides}
        if not under_way:
            return
        _, late = await asyncio.wait(under_way, timeout=STOP_SECONDS)
        self._loop = None
        for sending in tuple(self._sendings):
            sending.cancel()
        for aside in late & self._asides:
            aside.cancel()
        if late:
            await asyncio.wait(late)


async def _unheeded(call: Coroutine[Any, Any, object]) -> None:
    with contextlib.suppress(TelegramError):
        await call
