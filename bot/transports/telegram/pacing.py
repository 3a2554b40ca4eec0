"""How fast the clerk may speak: the limits that the Bots FAQ states; a chat that is full holds up no other."""

from __future__ import annotations

from collections.abc import Callable, Coroutine
from typing import Any

from aiolimiter import AsyncLimiter
from telegram.ext import BaseRateLimiter

# core.telegram.org/bots/faq, "My bot is hitting limits": about 30 messages a second in all, at most 20 a minute in a
# group, about one a second in a chat with short bursts let pass.
IN_ALL = (30, 1)
IN_A_GROUP = (20, 60)
IN_A_CHAT = (5, 5)
_MANY = 5_000
_COUNTED = frozenset(("sendMessage", "sendPhoto", "sendDocument", "editMessageText"))


class Pace(BaseRateLimiter[None]):
    """Holds each message until it may go; what the server says of waiting is left to whoever sent it."""

    def __init__(self) -> None:
        self._in_all = AsyncLimiter(*IN_ALL)
        self._chats: dict[int, tuple[AsyncLimiter, ...]] = {}

    async def initialize(self) -> None:
        """Nothing to open."""

    async def shutdown(self) -> None:
        """Nothing to close."""

    async def process_request(
        self,
        callback: Callable[..., Coroutine[Any, Any, Any]],
        args: Any,
        kwargs: dict[str, Any],
        endpoint: str,
        data: dict[str, Any],
        rate_limit_args: None,
    ) -> Any:
        """Make a call when its turn has come."""
        del rate_limit_args
        if endpoint in _COUNTED:
            for limiter in (*self._of(int(data["chat_id"])), self._in_all):
                await limiter.acquire()
        return await callback(*args, **kwargs)

    def _of(self, chat: int) -> tuple[AsyncLimiter, ...]:
        if chat not in self._chats:
            if len(self._chats) >= _MANY:
                self._chats.clear()
            limits = (IN_A_CHAT, IN_A_GROUP) if chat < 0 else (IN_A_CHAT,)
            self._chats[chat] = tuple(AsyncLimiter(*limit) for limit in limits)
        return self._chats[chat]
