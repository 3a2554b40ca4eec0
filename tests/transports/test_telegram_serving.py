"""The transport itself in a thread: stopping, and what goes wrong inside."""

from __future__ import annotations

from contextlib import AbstractContextManager
from datetime import UTC, datetime

import pytest

from bot.assistant import Assistant
from bot.delivery import NotNowError
from bot.group_file import default_group
from bot.messages import Incoming, Post, Queued
from bot.storage.books import Database, DatabaseTroubleError
from bot.transports.telegram import serving
from bot.transports.telegram.polling import Polling
from bot.transports.telegram.serving import Telegram, bot_of
from tests.telegram_stand_in import TOKEN, Fault, TelegramStandIn
from tests.transports.running import running

PRICE = "12 pencils 0.47 at corner store"


class Stumbling(Assistant):
    """The assistant, but the first message it hears meets a fault."""

    def __init__(self, database: Database, fault: Exception) -> None:
        super().__init__(database, default_group())
        self._faults = [fault]

    def hear(self, incoming: Incoming) -> None:
        if self._faults:
            raise self._faults.pop()
        super().hear(incoming)


def served(
    telegram: TelegramStandIn, database: Database, assistant: Assistant | None = None
) -> AbstractContextManager[None]:
    """The transport runs; at the end it is closed, and must stop."""
    return running(
        Telegram(bot_of(TOKEN, telegram.url), database, assistant or Assistant(database, default_group()), Polling)
    )


def test_close_ends_a_long_poll(telegram: TelegramStandIn, database: Database) -> None:
    with served(telegram, database):
        telegram.wait_for_calls("getUpdates")

    assert telegram.calls["sendMessage"] == 0


def test_stop_leaves_a_held_post_for_later(
    telegram: TelegramStandIn, database: Database, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(serving, "STOP_SECONDS", 0.1)
    telegram.fails("sendMessage", Fault.too_many(retry_after=3600))
    with served(telegram, database):
        telegram.says("Mei", PRICE)
        telegram.wait_for_calls("sendMessage")

    with served(telegram, database):
        posts = telegram.wait_for_posts(1)

    assert len(posts) == 1


def test_database_trouble_only_delays_a_message(telegram: TelegramStandIn, database: Database) -> None:
    trouble = DatabaseTroubleError("The database is in use by another program.")

    with served(telegram, database, Stumbling(database, trouble)):
        message = telegram.says("Mei", PRICE)
        (post,) = telegram.wait_for_posts(1)

    assert post.answers == message


def test_message_that_fails_stops_no_other(telegram: TelegramStandIn, database: Database) -> None:
    with served(telegram, database, Stumbling(database, ZeroDivisionError())):
        telegram.says("Mei", PRICE)
        second = telegram.says("Mei", PRICE)
        (post,) = telegram.wait_for_posts(1)

    assert post.answers == second


def test_post_before_the_run_has_to_wait(telegram: TelegramStandIn, database: Database) -> None:
    transport = Telegram(bot_of(TOKEN, telegram.url), database, Assistant(database, default_group()), Polling)
    queued = Queued(1, "telegram:-1001", datetime(2026, 8, 3, tzinfo=UTC), Post("pencils 4¢ each"))

    with pytest.raises(NotNowError):
        transport.deliver(queued)
