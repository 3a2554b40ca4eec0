"""The stand-in as a process of its own; ``python -m tests.telegram.serve --port 0`` prints its address.

Besides the Bot API it answers ``POST /verbs``: a JSON array of ``[verb, {argument: value}]``, done in order, the
answers in an array; a verb is any method or property of the stand-in without an underscore. ``Far`` speaks it.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import threading
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from types import TracebackType
from typing import Any, Self
from urllib.request import Request as Sent
from urllib.request import urlopen

from tests.telegram.faults import Rates
from tests.telegram.limits import Limits
from tests.telegram.stand_in import TelegramStandIn
from tests.telegram.wire import Reply, Request, Respond

ROOT = Path(__file__).parents[2]
MADE = {"rates": Rates, "limits": Limits}
"""The arguments that are no plain JSON."""

Verb = tuple[str, dict[str, Any]]


class _Controlled(TelegramStandIn):
    """The stand-in, which does what it is told from afar."""

    def hear(self, request: Request, respond: Respond) -> None:
        """Do verbs, or answer a call."""
        if request.target != "/verbs":
            super().hear(request, respond)
            return
        done = [self._do(verb, arguments) for verb, arguments in json.loads(request.body)]
        respond(Reply(200, json.dumps(done, default=_plain).encode()))

    def _do(self, verb: str, arguments: dict[str, Any]) -> object:
        if verb.startswith("_"):
            raise ValueError(verb)
        given = {name: MADE[name](**value) if name in MADE else value for name, value in arguments.items()}
        found = getattr(self, verb)
        return found(**given) if callable(found) else found


class Far:
    """A stand-in in another process, checked or not; used as a context manager."""

    def __init__(self, *options: str) -> None:
        self._process = subprocess.Popen(  # noqa: S603 - our own command
            [sys.executable, "-m", "tests.telegram.serve", *options], cwd=ROOT, stdout=subprocess.PIPE, text=True
        )
        assert self._process.stdout is not None
        self.url = self._process.stdout.readline().strip()

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._process.kill()
        self._process.communicate()

    def does(self, verb: str, **arguments: object) -> Any:
        """One verb, and what it returns, records as dicts."""
        return self.does_all([(verb, arguments)])[0]

    def does_all(self, verbs: Sequence[Verb]) -> list[Any]:
        """Many verbs in one go."""
        with urlopen(Sent(f"{self.url}/verbs", json.dumps(verbs).encode())) as answer:  # noqa: S310 - our own
            return list(json.load(answer))


def _plain(value: object) -> object:
    """A record as JSON has it."""
    return asdict(value)  # type: ignore[call-overload] # all that a verb returns and JSON does not know is a record


def main() -> None:
    """Serve until killed."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--port", type=int, default=0, help="0 for one of the system's choice")
    options.add_argument("--validated", action="store_true", help="check the parameters of every call")
    chosen = options.parse_args()
    with _Controlled(chosen.port, chosen.validated) as telegram:
        print(telegram.url, flush=True)
        threading.Event().wait()


if __name__ == "__main__":
    main()
