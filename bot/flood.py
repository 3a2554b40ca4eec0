"""How much each member has said lately: beyond a measure they are asked for patience, lest one floods the books."""

from __future__ import annotations

from collections import deque
from datetime import datetime, timedelta

from bot.messages import Incoming

MOST_A_MINUTE = 40
_WINDOW = timedelta(minutes=1)
_MANY = 10_000
"""How many people are kept in mind; beyond it those who have fallen quiet are let go."""


class Flood:
    """The last minute of each member who has a lasting key, by the time at which the messages were sent."""

    def __init__(self) -> None:
        self._lately: dict[str, deque[datetime]] = {}

    def over(self, incoming: Incoming) -> int | None:
        """How many beyond the measure this message is, 1 for the first; None while it is within."""
        if incoming.sender.key is None:
            return None
        if len(self._lately) > _MANY:
            self._let_go(incoming.at)
        said = self._lately.setdefault(incoming.sender.key, deque())
        said.append(incoming.at)
        while incoming.at - said[0] >= _WINDOW:
            said.popleft()
        beyond = len(said) - MOST_A_MINUTE
        return beyond if beyond > 0 else None

    def _let_go(self, now: datetime) -> None:
        self._lately = {key: said for key, said in self._lately.items() if now - said[-1] < _WINDOW}
