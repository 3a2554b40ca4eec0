"""What goes wrong with a call: one fault, or weather in which any call may meet one."""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from random import Random

from tests.telegram.envelope import ApiError
from tests.telegram.wire import Hangup, Reply

BAD_GATEWAY = b"<html>\r\n<head><title>502 Bad Gateway</title></head>\r\n<body>502 Bad Gateway</body>\r\n</html>\r\n"


@dataclass(frozen=True, slots=True)
class Fault:
    """An error answer, or a line that drops; ``takes_effect`` where only the answer is lost."""

    name: str
    code: int | None = None
    parameters: Mapping[str, int] = field(default_factory=dict)
    hangup: Hangup = Hangup.CLOSED
    takes_effect: bool = False

    @staticmethod
    def too_many(retry_after: int) -> Fault:
        """The flood limit's answer (manual: ResponseParameters)."""
        return Fault(f"Too Many Requests: retry after {retry_after}", 429, {"retry_after": retry_after})

    @staticmethod
    def broken() -> Fault:
        """The server's own trouble."""
        return Fault("Internal Server Error", 500)

    @staticmethod
    def bad_gateway() -> Fault:
        """A proxy before the server cannot reach it, and says so in HTML."""
        return Fault("Bad Gateway", 502)

    @staticmethod
    def removed() -> Fault:
        """The group has shown the bot the door."""
        return Fault("Forbidden: bot was kicked from the group chat", 403)

    @staticmethod
    def two_pollers() -> Fault:
        """Two programs ask for the updates of one bot."""
        return Fault("Conflict: terminated by other getUpdates request", 409)

    @staticmethod
    def dropped() -> Fault:
        """The line goes dead before the call takes effect."""
        return Fault("dropped")

    @staticmethod
    def reset() -> Fault:
        """The line is reset (TCP RST) before the call takes effect."""
        return Fault("reset", hangup=Hangup.RESET)

    @staticmethod
    def lost() -> Fault:
        """The call takes effect, and its answer is lost."""
        return Fault("lost", takes_effect=True)

    def reply(self) -> Reply | Hangup:
        """What the caller gets."""
        if self.code is None:
            return self.hangup
        if self.code == 502:
            return Reply(502, BAD_GATEWAY, "text/html")
        return ApiError(self.code, self.name, self.parameters).reply()


@dataclass(frozen=True, slots=True)
class Rates:
    """How often each thing goes wrong, from 0 to 1; for one call all but the last add up to at most 1."""

    too_many: float = 0.0
    bad_gateway: float = 0.0
    reset: float = 0.0
    lost: float = 0.0
    duplicated: float = 0.0
    """How often an update is delivered twice."""
    retry_after: int = 1


class Storm:
    """Faults by chance: the seed, the method and how often it was called decide, not what is called beside it."""

    def __init__(self, seed: int, rates: Rates, methods: Iterable[str]) -> None:
        self._seed = seed
        self._rates = rates
        self._methods = frozenset(methods)
        self._drawn: Counter[str] = Counter()

    def strikes(self, method: str) -> Fault | None:
        """The fault that a call meets, if any."""
        if method not in self._methods:
            return None
        rates, left = self._rates, self._draw(method)
        for rate, fault in (
            (rates.too_many, Fault.too_many(rates.retry_after)),
            (rates.bad_gateway, Fault.bad_gateway()),
            (rates.reset, Fault.reset()),
            (rates.lost, Fault.lost()),
        ):
            if left < rate:
                return fault
            left -= rate
        return None

    def doubles(self) -> bool:
        """Whether the next update is delivered twice."""
        return self._draw("an update") < self._rates.duplicated

    def _draw(self, what: str) -> float:
        self._drawn[what] += 1
        return Random(f"{self._seed} {what} {self._drawn[what]}").random()  # noqa: S311 - no secret


class Weather:
    """The faults that tests asked for, and the storm if there is one."""

    def __init__(self) -> None:
        self._single: dict[str, deque[Fault]] = {}
        self._storm: Storm | None = None

    def expect(self, method: str, fault: Fault, times: int) -> None:
        """The next calls of a method end in a fault."""
        self._single.setdefault(method, deque()).extend([fault] * times)

    def turn(self, storm: Storm) -> None:
        """From now on there is a storm."""
        self._storm = storm

    def clear_up(self) -> None:
        """Nothing goes wrong any more."""
        self._single.clear()
        self._storm = None

    def fault(self, method: str) -> Fault | None:
        """The fault that a call meets: the next one that was asked for, or the storm's."""
        if waiting := self._single.get(method):
            return waiting.popleft()
        return None if self._storm is None else self._storm.strikes(method)

    def doubles(self) -> bool:
        """Whether the next update is delivered twice."""
        return self._storm is not None and self._storm.doubles()
