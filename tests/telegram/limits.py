"""The flood limits of the Bots FAQ, and how often something happened within a time."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Limits:
    """FAQ: about 30 messages a second in all, at most 20 a minute in one group."""

    in_a_second: int = 30
    in_a_minute_in_a_group: int = 20
    minute: float = 60.0
    """A test without a minute to spare makes it shorter."""


class FloodGate:
    """Counts what went through, and says how long the next message has to wait."""

    def __init__(self, limits: Limits) -> None:
        self._limits = limits
        self._all = _Window(limits.in_a_second, 1.0)
        self._groups: dict[int, _Window] = {}
        self.refused = 0

    def wait(self, chat: int, now: float) -> int:
        """Seconds (429's retry_after) until the chat may be sent to; 0 where it was let through now."""
        windows = [self._all]
        if chat < 0:
            one = _Window(self._limits.in_a_minute_in_a_group, self._limits.minute)
            windows.append(self._groups.setdefault(chat, one))
        longest = max(window.wait(now) for window in windows)
        if longest > 0:
            self.refused += 1
            return math.ceil(longest)
        for window in windows:
            window.times.append(now)
        return 0


class _Window:
    """The times of the latest passages; at most so many may lie within so many seconds."""

    def __init__(self, most: int, seconds: float) -> None:
        self._seconds = seconds
        self._most = most
        self.times: deque[float] = deque(maxlen=most)

    def wait(self, now: float) -> float:
        return 0 if len(self.times) < self._most else max(self.times[0] + self._seconds - now, 0)


def busiest(times: Sequence[float], seconds: float) -> int:
    """The most of these times, in order, that lie within so many seconds."""
    first = most = 0
    for number, time in enumerate(times):
        while time - times[first] >= seconds:
            first += 1
        most = max(most, number - first + 1)
    return most
