"""The transport in a thread of the test's own process."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager

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
