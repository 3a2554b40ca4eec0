"""Serves every Telegram chat the clerk is in: hears each chat in order, and delivers what is answered."""

from __future__ import annotations

import asyncio
import contextlib
import logging
import signal
from collections.abc import Callable, Coroutine, Sequence
from concurrent.futures import CancelledError, Future
from dataclasses import replace
from itertools import islice
from typing import Any, Protocol, TypeVar

from telegram import Bot, ChatMember, Update
from telegram.error import TelegramError

from bot import clock, delivery
from bot.assistant import Assistant
from bot.messages import AdministratorsWantedError, Arrival, ChatTurn, Incoming, Queued, Turn
from bot.messages import Sender as Person
from bot.storage import inbox, numbering, outbox
from bot.storage.books import Database, DatabaseTroubleError
from bot.storage.chats import homes
from bot.storage.turns import Turns
from bot.timekeeper import Timekeeper
from bot.transports.telegram.doubts import Doubts
from bot.transports.telegram.errands import Errands
from bot.transports.telegram.http import Request
from bot.transports.telegram.menu import Menu
from bot.transports.telegram.pacing import USUAL, Limits, Pace
from bot.transports.telegram.patience import answered, pause
from bot.transports.telegram.sending import Sender, parts
from bot.transports.telegram.updates import CHAT, PRESS, Ear, chat_id, numbered_with, sender

HEARD_AT_ONCE = 8
SENT_AT_ONCE = 32
"""How many chats are heard, and how many are sent to, at one time; the two do not wait for one another."""
DUE_SECONDS = 20.0
"""How often the clerk looks whether something has fallen due, or was left by another worker."""
STOP_SECONDS = 5.0
"""How long a stop waits for what is in hand; what has not gone by then goes at the next start."""
ANOTHERS_TURN_SECONDS = 0.2
"""How soon to look again at a chat that another worker is at."""
_A_BATCH = 50
_LOOKED_AT = 10
"""How many of the messages that follow are looked at for a post that may have been sent, at most."""
_BEYOND = 8
"""How many of these beyond the last one that is known."""

_log = logging.getLogger(__name__)
T = TypeVar("T")


class Source(Protocol):
    """Where updates come from: it hands each batch on, and confirms it once that has returned."""

    async def run(self, bot: Bot, take: Callable[[Sequence[Update]], Coroutine[Any, Any, None]]) -> None:
        """Until stopped. Raises RefusedError."""


class Telegram:
    """The transport for Telegram; all its network calls run on the one event loop of ``run``."""

    def __init__(
        self,
        bot: Bot,
        database: Database,
        assistant: Assistant,
        source: Callable[[asyncio.Event], Source],
        limits: Limits = USUAL,
    ) -> None:
        self._bot = bot
        self._database = database
        self._assistant = assistant
        self._timekeeper = Timekeeper(database, assistant)
        self._turns = Turns(database)
        self._doubts = Doubts(database, self._turns)
        self._stop = asyncio.Event()
        self._source = source(self._stop)
        self._sender = Sender(bot, Pace(limits))
        self._hearings = Errands(self._hear_chat, HEARD_AT_ONCE, self._stop)
        self._deliveries = Errands(self._empty, SENT_AT_ONCE, self._stop)
        self._calls: set[Future[Any]] = set()
        self._asides: set[asyncio.Task[None]] = set()
        self._loop: asyncio.AbstractEventLoop | None = None
        self._ear: Ear | None = None

    def run(self) -> None:
        """Serve until SIGTERM, SIGINT or ``close``; what is in hand is finished. Raises RefusedError."""
        asyncio.run(self._serve())

    def deliver(self, queued: Queued) -> str:
        """Show a post, from any thread but the loop's own. Raises NotNowError, MovedError, NeverError."""
        texts = parts(queued.post.text)
        follows = self._following(queued) if self._doubts.may_be_there(queued) else []
        ref = ""
        for place in range(min(queued.parts, len(texts) - 1), len(texts)):
            ref = self._show(replace(queued, parts=place), texts, follows)
            follows = []
            if place + 1 < len(texts):
                outbox.shown_in_part(self._database, queued, place + 1, ref)
        return ref

    def _show(self, queued: Queued, texts: Sequence[str], follows: Sequence[int]) -> str:
        is_last = queued.parts + 1 == len(texts)
        sending = self._sender.send(queued, texts[queued.parts], is_last=is_last, follows=follows)
        try:
            return self._called(sending)
        except CancelledError as stopped:
            raise delivery.NotNowError("the clerk is stopping", is_unsure=True) from stopped

    def close(self) -> None:
        """Tell ``run`` to stop, from any thread; it lets go of all it took."""
        if self._loop is not None and not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self._stop.set)

    async def _serve(self) -> None:
        self._loop = asyncio.get_running_loop()
        self._stop_on_signals(self._loop)
        try:
            await answered(self._bot.initialize, self._stop)
            if self._stop.is_set():
                return
            self._ear = Ear(self._bot.bot)
            _log.info("Serving as @%s", self._bot.username)
            self._aside(Menu(self._bot).show(self._stop))
            await asyncio.to_thread(inbox.take_up_again, self._database)
            await asyncio.to_thread(self._doubts.look_around)
            self._aside(self._tell_if_deaf())
            self._aside(self._keep_time())
            await self._source.run(self._bot, self._take)
        finally:
            await self._finish()
            await self._bot.shutdown()
            self._turns.close()
            _log.info("Stopped")

    def _stop_on_signals(self, loop: asyncio.AbstractEventLoop) -> None:
        for number in (signal.SIGTERM, signal.SIGINT):
            # Windows has no such thing, and a thread other than the main one may not ask for it.
            with contextlib.suppress(NotImplementedError, RuntimeError, ValueError):
                loop.add_signal_handler(number, self._stop.set)

    async def _take(self, updates: Sequence[Update]) -> None:
        """Write down what has arrived, so that it may be confirmed, and go about hearing it.

        Raises DatabaseTroubleError with nothing written down.
        """
        assert self._ear is not None  # noqa: S101 - set before the source runs
        heard = [self._ear.arrival(update, clock.now()) for update in updates]
        came = [one for one in heard if one is not None]
        await asyncio.to_thread(inbox.keep, self._database, came)
        for one in came:
            if isinstance(one, Incoming) and one.pressed is not None:
                self._aside(self._bot.answer_callback_query(one.ref.removeprefix(PRESS)))
            self._hearings.wake(one.chat)

    async def _tell_if_deaf(self) -> None:
        """Tell each group, once, where plain messages do not reach us, for the time before may have been otherwise."""
        if self._bot.bot.can_read_all_group_messages:
            return
        for chat in await asyncio.to_thread(homes, self._database):
            if not chat.startswith(CHAT) or chat_id(chat) >= 0 or self._stop.is_set():
                continue
            try:
                here = await self._bot.get_chat_member(chat_id(chat), self._bot.id)
                if here.status == ChatMember.MEMBER:
                    at = clock.now()
                    deaf = ChatTurn(chat, Person(""), Turn.HEARING, at, f"start:{at.isoformat()}", hears_all=False)
                    await asyncio.to_thread(self._assistant.meet, deaf)
                    self._deliveries.wake(chat)
            except (TelegramError, DatabaseTroubleError) as trouble:
                _log.warning("whether %s is heard is not known (%s)", chat, type(trouble).__name__)

    async def _keep_time(self) -> None:
        """Do what falls due and what was left undone, until we stop."""
        while not self._stop.is_set():
            try:
                await asyncio.to_thread(self._tick, asyncio.get_running_loop())
            except DatabaseTroubleError as trouble:
                _log.warning("%s", trouble)
            except Exception:
                _log.exception("What fell due was not done")
            await pause(self._stop, DUE_SECONDS)

    def _tick(self, loop: asyncio.AbstractEventLoop) -> None:
        """Do what has fallen due, in a thread; each chat's posts go out while others' are made.

        What arrived and is not heard, what waits and is not delivered, was left by an earlier run or another worker.
        """
        for chat in inbox.chats_waiting(self._database):
            loop.call_soon_threadsafe(self._hearings.wake, chat)
        for chat in self._timekeeper.served(clock.now()):
            loop.call_soon_threadsafe(self._deliveries.wake, chat)
        for chat in outbox.chats_waiting(self._database):
            if chat.startswith(CHAT):
                loop.call_soon_threadsafe(self._deliveries.wake, chat)

    def _hear_chat(self, chat: str) -> float | None:
        """Hear what has arrived from a chat, in its order, while it is our turn; None once all of it is heard."""
        turn = f"hear {chat}"
        try:
            if not self._turns.take(turn):
                return ANOTHERS_TURN_SECONDS if inbox.arrived(self._database, chat, 1) else None
            try:
                while came := inbox.arrived(self._database, chat, _A_BATCH):
                    for one in came:
                        if self._stop.is_set():
                            return None
                        if not self._hear(one):
                            return ANOTHERS_TURN_SECONDS
            finally:
                self._turns.end(turn)
        except DatabaseTroubleError as trouble:
            _log.warning("%s", trouble)
            return 0
        except CancelledError:  # we stop
            return 0
        return None

    def _hear(self, arrival: Arrival) -> bool:
        """Hear one message, or meet what happens to the clerk; False where that must wait.

        A chat moves between two posts: one that is under way would be shown where it was, and again where it is. An
        answer is heard between two posts too, and so is a change of what was said: the post they are about may be the
        one that is under way, and its ref is not known yet.
        Raises DatabaseTroubleError, CancelledError.
        """
        posts = None
        if isinstance(arrival, ChatTurn) and arrival.turn is Turn.MOVED:
            posts = _posts(arrival.moved_from or arrival.chat)
        elif isinstance(arrival, Incoming) and (arrival.answers or arrival.corrects):
            posts = _posts(arrival.chat)
        if posts and not self._turns.take(posts):
            return False
        try:
            self._take_in(arrival)
        finally:
            if posts:
                self._turns.end(posts)
        self._deliver_what_came_of(arrival)
        return True

    def _take_in(self, arrival: Arrival) -> None:
        try:
            if not isinstance(arrival, Incoming):
                self._assistant.meet(arrival)
            else:
                self._listen(arrival)
        except (DatabaseTroubleError, CancelledError):
            raise
        except Exception:
            _log.exception("Message %s of %s was not taken", arrival.ref, arrival.chat)
            inbox.put_aside(self._database, arrival.arrival or 0, clock.now())

    def _deliver_what_came_of(self, arrival: Arrival) -> None:
        """A message of a group brings posts there; one of a member's own chat, or a turn, in others too."""
        chats = [arrival.chat]
        if not isinstance(arrival, Incoming) or arrival.private:
            chats += [chat for chat in outbox.chats_waiting(self._database) if chat.startswith(CHAT)]
        for chat in dict.fromkeys(chats):
            self._loop_call(self._deliveries.wake, chat)

    def _listen(self, message: Incoming) -> None:
        try:
            self._assistant.hear(message)
        except AdministratorsWantedError as wanted:
            administrators = self._called(self._administrators(wanted.chat))
            self._assistant.hear(replace(message, administrators=administrators))

    async def _administrators(self, chat: str) -> tuple[Person, ...]:
        """Who administers a chat; nobody where the Bot API does not say."""
        try:
            found = await self._bot.get_chat_administrators(chat_id(chat))
        except TelegramError as trouble:
            _log.warning("who administers %s is not known (%s)", chat, trouble.message)
            return ()
        return tuple(sender(one.user) for one in found if not one.user.is_bot)

    def _aside(self, call: Coroutine[Any, Any, object]) -> None:
        """Make a call that nothing hangs on, beside everything else."""
        task = asyncio.create_task(_unheeded(call))
        self._asides.add(task)
        task.add_done_callback(self._asides.discard)

    def _loop_call(self, call: Callable[[str], None], chat: str) -> None:
        if self._loop is not None:
            self._loop.call_soon_threadsafe(call, chat)

    def _called(self, call: Coroutine[Any, Any, T]) -> T:
        """What a call on the loop gives, in a thread. Raises CancelledError where we stop before."""
        if self._loop is None:
            call.close()
            raise CancelledError
        calling = asyncio.run_coroutine_threadsafe(call, self._loop)
        self._calls.add(calling)
        try:
            return calling.result()
        finally:
            self._calls.discard(calling)

    def _following(self, queued: Queued) -> list[int]:
        """The first numbers of messages after a post's place that none known has: the post itself may be one."""
        newest = numbering.newest_shown(self._database, queued.chat)
        answers = queued.post.answers or ""
        newest = max(newest, int(answers) if answers.isdecimal() else 0)
        known = numbering.known_above(self._database, newest, *numbered_with(queued.chat))
        behind = range(newest + 1, max(known, default=newest) + _BEYOND + 1)
        unknown = (number for number in behind if number not in known)
        return list(islice(unknown, _LOOKED_AT)) if newest else []

    def _empty(self, chat: str) -> float | None:
        """Deliver what waits for a chat, while it is our turn; None once all of it has gone."""
        turn = _posts(chat)
        try:
            if not self._turns.take(turn):
                return ANOTHERS_TURN_SECONDS if outbox.waiting(self._database, chat) else None
            try:
                self._doubts.look_around()
                blocked = delivery.empty(self._database, chat, self)
            finally:
                self._turns.end(turn)
        except DatabaseTroubleError as trouble:
            self._doubts.open()
            _log.warning("%s", trouble)
            return 0
        except Exception:
            self._doubts.open()
            _log.exception("The posts of %s could not be delivered", chat)
            return 0
        for other in blocked.keys() - {chat}:
            self._loop_call(self._deliveries.wake, other)
        return blocked.get(chat)

    async def _finish(self) -> None:
        """Let what is under way come to its end, or, if that takes too long, leave it for the next start."""
        self._stop.set()
        under_way = {*self._hearings.under_way(), *self._deliveries.under_way(), *self._asides}
        if not under_way:
            return
        _, late = await asyncio.wait(under_way, timeout=STOP_SECONDS)
        self._loop = None
        for call in tuple(self._calls):
            call.cancel()
        for aside in late & self._asides:
            aside.cancel()
        if late:
            await asyncio.wait(late)


def _posts(chat: str) -> str:
    """The name of the turn in which the posts of a chat are shown."""
    return f"post {chat}"


async def _unheeded(call: Coroutine[Any, Any, object]) -> None:
    with contextlib.suppress(TelegramError):
        await call


def bot_of(token: str, api_url: str) -> Bot:
    """The bot of a token, at the Bot API of an address."""
    return Bot(
        token,
        base_url=f"{api_url}/bot",
        base_file_url=f"{api_url}/file/bot",
        request=Request(),
        get_updates_request=Request(),
    )
