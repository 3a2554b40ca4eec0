"""The stand-in itself: the server that answers, with what a test sees of it and waits for."""

from __future__ import annotations

import asyncio
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from types import TracebackType
from typing import Self

from tests.telegram.envelope import ApiError, Asked, Params, asked, integer, result
from tests.telegram.faults import Fault, Rates, Storm
from tests.telegram.limits import FloodGate, Limits
from tests.telegram.methods import METHODS, SENDING
from tests.telegram.people import GROUP, People
from tests.telegram.shapes import Shown
from tests.telegram.updates import METHODS as UPDATE_METHODS
from tests.telegram.webhook import Delivery, Pump
from tests.telegram.wire import Request, Respond, Server

TOKEN = "123456789:AAE-stand_in_token_of_no_real_bot"  # noqa: S105 - of no real bot
PATIENCE_SECONDS = 60.0
"""How long a test waits for what should come at once; only a failing test waits so long."""


@dataclass(frozen=True, slots=True)
class Call:
    """A call of the Bot API; ``outcome`` is "ok", an error's description, or "dropped", "reset" or "lost"."""

    method: str
    params: Params
    at: float
    """On the clock of ``time.monotonic``."""
    outcome: str

    @property
    def took_effect(self) -> bool:
        """Whether it did what it should, the caller told so or not."""
        return self.outcome in ("ok", "lost")


@dataclass(frozen=True, slots=True)
class _Poll:
    """A getUpdates that waits for updates."""

    params: Params
    respond: Respond
    end: asyncio.TimerHandle


class TelegramStandIn(People):
    """The server, its chats and their people; used as a context manager."""

    def __init__(self, port: int = 0, validated: bool = True) -> None:
        super().__init__()
        self._server = Server(self.hear, port)
        self._poll: _Poll | None = None
        self._late: dict[str, list[Callable[[], None]]] = {}
        self._gate: FloodGate | None = None
        self._wrong: Callable[[str, Params], str | None] = _parameters_checked() if validated else lambda *_: None
        self._pump: Pump
        self.url = self._server.url
        """What BOT_API_URL should be."""
        self.calls: Counter[str] = Counter()
        self.log: list[Call] = []
        """Every call with how it went, in order."""
        self.violations: list[str] = []
        """What was wrong with the parameters of calls."""
        self.deliveries: list[Delivery] = []
        """Every attempt to deliver an update to the webhook, in the order in which they ended."""

    def __enter__(self) -> Self:
        self._pump = Pump(self._updates, self._changed, self._delivered)
        self._server.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._server.soon(self._pump.close)
        self._server.stop()

    # What a test sees

    @property
    def administrators(self) -> list[str]:
        """Who administers every group, by first name."""
        return self._messenger.administrators

    @administrators.setter
    def administrators(self, names: list[str]) -> None:
        self._messenger.administrators = names

    @property
    def reads_everything(self) -> bool:
        """Whether privacy mode is off."""
        return self._messenger.reads_everything

    @reads_everything.setter
    def reads_everything(self, off: bool) -> None:
        self._messenger.reads_everything = off

    @property
    def workers(self) -> list[str]:
        """Addresses to which updates go in turn, in place of the webhook's own."""
        return self._pump.workers

    @workers.setter
    def workers(self, addresses: list[str]) -> None:
        self._pump.workers = addresses

    @property
    def answered_presses(self) -> list[str]:
        """The presses that were answered, by id."""
        return self._messenger.answered_presses

    @property
    def profile(self) -> Params:
        """The commands and descriptions of the bot."""
        return self._messenger.profile

    @property
    def refused_for_limits(self) -> int:
        """How often the flood limits were hit."""
        return 0 if self._gate is None else self._gate.refused

    def posts(self, chat: int = GROUP) -> list[Shown]:
        """The bot's posts in a chat, oldest first."""
        with self._changed:
            return list(self._chat(chat).posts.values())

    def reactions(self, message_id: int, chat: int = GROUP) -> list[str]:
        """Every reaction the bot gave a message, in order; an empty one took the one before away."""
        with self._changed:
            return list(self._chat(chat).reactions[message_id])

    def sent_at(self, chat: int | None = None) -> list[float]:
        """When posts were sent, into one chat or into any, on the clock of ``time.monotonic``."""
        with self._changed:
            sends = [call for call in self.log if call.method.lower() in SENDING and call.took_effect]
            return [call.at for call in sends if chat is None or integer(call.params, "chat_id") == chat]

    def answer_times(self, chat: int = GROUP) -> list[float]:
        """For each post that answers a message, the seconds between the two."""
        with self._changed:
            there = self._chat(chat)
            answers = [(post.answers, post.message_id) for post in there.posts.values() if post.answers is not None]
            return [there.said_at[mine] - there.said_at[yours] for yours, mine in answers if yours in there.said_at]

    # What a test waits for

    def wait_for_posts(self, number: int, chat: int = GROUP) -> list[Shown]:
        """Wait until the bot has posted that often in the chat; return its posts."""
        self.wait_until(lambda: len(self.posts(chat)) >= number, f"{number} posts")
        return self.posts(chat)

    def wait_for_calls(self, method: str, number: int = 1) -> None:
        """Wait until a method has been called that often, well or badly."""
        self.wait_until(lambda: self.calls[method] >= number, f"{number} calls of {method}")

    def wait_until(self, holds: Callable[[], bool], what: str) -> None:
        """Wait for a change that makes ``holds`` true. Raises AssertionError after PATIENCE_SECONDS."""
        with self._changed:
            if not self._changed.wait_for(holds, PATIENCE_SECONDS):
                posts = {number: list(chat.posts.values()) for number, chat in self._messenger.chats.items()}
                raise AssertionError(f"no {what}; calls: {dict(self.calls)}; posts: {posts}")

    # What goes wrong

    def fails(self, method: str, fault: Fault, times: int = 1) -> None:
        """The next calls of a method end in a fault."""
        with self._changed:
            self._weather.expect(method, fault, times)

    @contextmanager
    def late(self, method: str) -> Iterator[None]:
        """The calls of a method take effect, and are answered when this ends."""
        with self._changed:
            self._late[method] = []
        try:
            yield
        finally:
            with self._changed:
                waiting = self._late.pop(method)
            for answer in waiting:
                self._server.soon(answer)

    def stormy(self, seed: int, rates: Rates, methods: Iterable[str] = ("sendMessage",)) -> None:
        """From now on calls of these methods, and updates, meet faults at random."""
        with self._changed:
            self._weather.turn(Storm(seed, rates, methods))

    def recovers(self) -> None:
        """Faults that have not come up yet never will, and a storm is over."""
        with self._changed:
            self._weather.clear_up()

    def strict_limits(self, limits: Limits | None = None) -> None:
        """From now on the flood limits hold."""
        with self._changed:
            self._gate = FloodGate(limits or Limits())

    # How calls are answered

    def hear(self, request: Request, respond: Respond) -> None:
        """Answer a call, on the server's loop."""
        with self._changed:
            try:
                call = asked(request)
            except (ApiError, ValueError) as error:
                self.violations.append(f"{request.target.rpartition('/')[2]}: {error}")
                respond(ApiError(400, f"Bad Request: {error}").reply())
                return
            self.calls[call.method] += 1
            self._answer(call, respond)
            self._changed.notify_all()

    def _answer(self, call: Asked, respond: Respond) -> None:
        wrong = self._wrong(call.method, call.params)
        if wrong is not None:
            self.violations.append(wrong)
        fault = self._weather.fault(call.method)
        if fault is not None and not fault.takes_effect:
            self._note(call, fault.name)
            respond(fault.reply())
            return
        try:
            value = self._result(call, wrong, respond)
        except ApiError as error:
            self._note(call, error.description)
            respond(error.reply())
            return
        self._note(call, "ok" if fault is None else fault.name)
        if fault is not None:
            respond(fault.reply())
        elif call.method in self._late:
            self._late[call.method].append(partial(respond, result(value)))
        elif value is not None:
            respond(result(value))

    def _note(self, call: Asked, outcome: str) -> None:
        self.log.append(Call(call.method, call.params, time.monotonic(), outcome))

    def _result(self, call: Asked, wrong: str | None, respond: Respond) -> object | None:
        """What the call comes to; None where it will be answered later. Raises ApiError."""
        method = call.method.lower()
        if call.token != TOKEN:
            raise ApiError(401, "Unauthorized")
        if method not in METHODS and method not in UPDATE_METHODS and method != "getupdates":
            self.violations.append(f"{call.method}: the stand-in has no such method")
            raise ApiError(404, "Not Found")
        if wrong is not None:
            raise ApiError(400, f"Bad Request: {wrong}")
        if method == "getupdates":
            return self._get_updates(call.params, respond)
        if method in UPDATE_METHODS:
            self._end_poll("Conflict: terminated by setWebhook request")  # from memory
            changed = UPDATE_METHODS[method](self._updates, call.params)
            self._pump.wake()
            return changed
        if method in SENDING and self._gate is not None:
            self._pass_gate(self._gate, integer(call.params, "chat_id"))
        return METHODS[method](self._messenger, call.params)

    def _pass_gate(self, gate: FloodGate, chat: int) -> None:
        if (retry_after := gate.wait(chat, time.monotonic())) > 0:
            too_many = f"Too Many Requests: retry after {retry_after}"
            raise ApiError(429, too_many, {"retry_after": retry_after})

    def _get_updates(self, params: Params, respond: Respond) -> object | None:
        self._end_poll("Conflict: terminated by other getUpdates request; make sure that only one bot is running")
        updates, seconds = self._updates.batch(params), integer(params, "timeout")
        if updates or seconds <= 0:
            return updates
        end = asyncio.get_running_loop().call_later(seconds, self._answer_poll, True)
        self._poll = _Poll(params, respond, end)
        return None

    def _end_poll(self, why: str) -> None:
        if self._poll is not None:
            self._poll.end.cancel()
            self._poll.respond(ApiError(409, why).reply())
            self._poll = None

    def _answer_poll(self, at_last: bool = False) -> None:
        """Give a getUpdates that waits what there is, or at last nothing; on the loop."""
        with self._changed:
            poll = self._poll
            if poll is None:
                return
            updates = self._updates.batch(poll.params)
            if updates or at_last:
                poll.end.cancel()
                self._poll = None
                poll.respond(result(updates))

    def _woken(self) -> None:
        super()._woken()
        self._server.soon(self._answer_poll if self._updates.webhook is None else self._pump.wake)

    def _delivered(self, delivery: Delivery) -> None:
        with self._changed:
            self.deliveries.append(delivery)
            self._changed.notify_all()


def _parameters_checked() -> Callable[[str, Params], str | None]:
    from tests.telegram.parameters import wrong

    return partial(wrong)
