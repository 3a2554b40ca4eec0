"""The transport in a thread of the test's own process."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from bot.storage.books import Database
from bot.storage.outbox import chats_waiting
from bot.transports.telegram.serving import Telegram
from tests.telegram_stand_in import PATIENCE_SECONDS


@contextmanager
def running(transport: Telegram) -> Iterator[None]:
    """It serves meanwhile; at the end it is closed, and must stop."""
    thread = threading.Thread(target=transport.run)
    thread.start()
    try:
        yield
    finally:
        transport.close()
        thread.join(PATIENCE_SECONDS)
    assert not thread.is_alive()


def wait_for_books(holds: Callable[[], bool]) -> None:
    """Wait for a change of the books, of which the stand-in sees nothing."""
    end = time.monotonic() + PATIENCE_SECONDS
    while not holds():
        assert time.monotonic() < end
        time.sleep(0.02)


def wait_until_noted(database: Database) -> None:
    """Wait until the books know of every post that is shown."""
    wait_for_books(lambda: not chats_waiting(database))
