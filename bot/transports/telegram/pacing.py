"""How fast the clerk may speak: the limits that the Bots FAQ states; a chat that is full holds up no other."""

from __future__ import annotations

from dataclasses import dataclass

from aiolimiter import AsyncLimiter


@dataclass(frozen=True, slots=True)
class Limits:
    """Messages and seconds, in all, in one group and in one chat.

    core.telegram.org/bots/faq, "My bot is hitting limits": about 30 messages a second in all, at most 20 a minute in a
    group, about one a second in a chat, where short bursts may pass.
    """

    in_all: tuple[float, float] = (30, 1)
    in_a_group: tuple[float, float] = (20, 60)
    in_a_chat: tuple[float, float] = (5, 5)


USUAL = Limits()
_MANY = 5_000
"""How many chats are kept in mind; beyond that their bursts are forgotten, and the server minds them."""


class Pace:
    """Tells when each message may go; nobody waits in another's place for a chat that is full."""

    def __init__(self, limits: Limits = USUAL) -> None:
        self._limits = limits
        self._in_all = AsyncLimiter(*limits.in_all)
        self._chats: dict[int, tuple[AsyncLimiter, ...]] = {}

    async def turn(self, chat: int) -> float | None:
        """None once a message to the chat may go; where the chat is full, the seconds after which to ask again."""
        own = self._of(chat)
        full = next((limiter for limiter in own if not limiter.has_capacity()), None)
        if full is not None:
            return full.time_period / full.max_rate
        for limiter in (*own, self._in_all):
            await limiter.acquire()
        return None

    def _of(self, chat: int) -> tuple[AsyncLimiter, ...]:
        if chat not in self._chats:
            if len(self._chats) >= _MANY:
                self._chats.clear()
            own = [self._limits.in_a_group] if chat < 0 else []
            self._chats[chat] = tuple(AsyncLimiter(*limit) for limit in (*own, self._limits.in_a_chat))
        return self._chats[chat]
