"""How fast the clerk speaks: within the published limits, and a chat that is full holds up no other."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from bot.assistant import Assistant
from bot.group_file import read_group
from bot.storage.books import Database
from bot.transports.telegram.polling import Polling
from bot.transports.telegram.serving import Telegram, bot_of
from tests.conftest import HARBOUR_LANE
from tests.telegram_stand_in import GROUP, OTHER_GROUP, TOKEN, Fault, TelegramStandIn, busiest
from tests.transports.running import running

PRICE = "12 pencils 0.47 at corner store"


@pytest.fixture(autouse=True)
def _served(telegram: TelegramStandIn, database: Database) -> Iterator[None]:
    assistant = Assistant(database, read_group(HARBOUR_LANE))
    with running(Telegram(bot_of(TOKEN, telegram.url), database, assistant, Polling)):
        yield


def test_a_burst_keeps_within_the_limits(telegram: TelegramStandIn) -> None:
    telegram.strict_limits()
    for _ in range(7):
        for chat in (GROUP, OTHER_GROUP):
            telegram.says("Mei", PRICE, chat)

    for chat in (GROUP, OTHER_GROUP):
        telegram.wait_for_posts(7, chat)

    assert telegram.refused_for_limits == 0
    assert busiest(telegram.sent_at(GROUP), 1.0) <= 6


def test_a_full_chat_holds_up_no_other(telegram: TelegramStandIn) -> None:
    telegram.fails("sendMessage", Fault.too_many(retry_after=3600))
    telegram.says("Mei", PRICE, GROUP)
    telegram.wait_for_calls("sendMessage")

    telegram.says("Mei", PRICE, OTHER_GROUP)

    assert len(telegram.wait_for_posts(1, OTHER_GROUP)) == 1
    assert telegram.posts(GROUP) == []


def test_what_is_heard_waits_for_no_full_chats(telegram: TelegramStandIn) -> None:
    telegram.fails("sendMessage", Fault.too_many(retry_after=3600), times=40)
    for number in range(40):
        telegram.says("Mei", "who owes what?", GROUP - number)
    telegram.wait_for_calls("sendMessage", 40)

    telegram.says("Mei", PRICE, OTHER_GROUP)

    assert len(telegram.wait_for_posts(1, OTHER_GROUP)) == 1
