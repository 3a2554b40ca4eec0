"""The command ``telegram`` as people run it: a process of its own."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

from tests.conftest import HARBOUR_LANE
from tests.telegram_stand_in import PATIENCE_SECONDS, TOKEN

ROOT = Path(__file__).parents[2]


class Clerk:
    """The command in a process of its own; what it wrote to stderr stands in ``log``."""

    def __init__(self, folder: Path, *options: str, **settings: str) -> None:
        self.log = folder / "stderr.txt"
        given = {name: os.environ[name] for name in ("PATH", "SYSTEMROOT") if name in os.environ}
        given |= {"DATABASE_URL": f"sqlite:///{folder / 'books.db'}", "BOT_TOKEN": TOKEN}
        with self.log.open("a") as lines:
            self._process = subprocess.Popen(  # noqa: S603 - our own command
                [sys.executable, "-m", "bot", "telegram", "--group", str(HARBOUR_LANE), *options],
                cwd=ROOT,
                env=given | settings,
                stderr=lines,
            )

    def stops(self, asked_by: signal.Signals = signal.SIGTERM) -> int:
        """Told to stop, as a service is or with Ctrl-C; its exit status."""
        self._process.send_signal(asked_by)
        return self.ends()

    def dies(self) -> None:
        """Killed in the middle of whatever it does."""
        self._process.kill()
        self.ends()

    def ends(self) -> int:
        """Its exit status, once it has ended."""
        return self._process.wait(PATIENCE_SECONDS)

    def give_up(self) -> None:
        """End it in any case."""
        if self._process.poll() is None:
            self.dies()
