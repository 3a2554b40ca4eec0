"""The webhook: who may call, with what, and what the clerk answers; health beside it."""

from __future__ import annotations

import asyncio
import json
import socket
from collections.abc import Iterator, Mapping
from http.client import HTTPConnection
from typing import Any

import pytest

from bot.assistant import Assistant
from bot.group_file import read_group
from bot.storage import inbox
from bot.storage.books import Database, DatabaseTroubleError
from bot.transports.telegram.serving import Telegram, bot_of
from bot.transports.telegram.webhook import HEALTH, LARGEST, SECRET_HEADER, Address, Webhook
from tests.conftest import HARBOUR_LANE
from tests.telegram_stand_in import PATIENCE_SECONDS, TOKEN, TelegramStandIn
from tests.transports.running import running

SECRET = "tell-nobody_7"  # noqa: S105
PATH = "/clerk"
PRICE = "12 pencils 0.47 at corner store"
KNOWN = {SECRET_HEADER: SECRET, "Content-Type": "application/json"}
NOTHING = json.dumps({"update_id": 1})


def free_port() -> int:
    """A port that nobody listens on."""
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port: int = taken.getsockname()[1]
    return port


@pytest.fixture
def port(telegram: TelegramStandIn, database: Database) -> Iterator[int]:
    """Where the clerk listens, in a thread; at the end it must stop."""
    address = Address(f"http://127.0.0.1:{(number := free_port())}{PATH}", "127.0.0.1", number, SECRET)

    def source(stop: asyncio.Event) -> Webhook:
        return Webhook(address, lambda: database.knows("telegram:-1") is not None, stop)

    assistant = Assistant(database, read_group(HARBOUR_LANE))
    transport = Telegram(bot_of(TOKEN, telegram.url), database, assistant, source)
    with running(transport):
        telegram.wait_for_calls("setWebhook")
        yield number


def called(port: int, method: str, path: str, body: str | bytes = "", headers: Mapping[str, str] = KNOWN) -> int:
    """The status with which a call is answered."""
    line = HTTPConnection("127.0.0.1", port, timeout=PATIENCE_SECONDS)
    try:
        line.request(method, path, body, dict(headers))
        return line.getresponse().status
    finally:
        line.close()


def test_updates_come_by_the_webhook(telegram: TelegramStandIn, port: int) -> None:
    assert port
    message = telegram.says("Mei", PRICE)

    [post] = telegram.wait_for_posts(1)

    assert post.answers == message
    assert telegram.calls["getUpdates"] == 0


def test_an_update_that_comes_twice_is_taken_once(telegram: TelegramStandIn, port: int) -> None:
    assert port
    telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)
    telegram.says_again()
    last = telegram.says("Ines", "who owes what?")

    posts = telegram.wait_for_posts(2)

    assert posts[1].answers == last


@pytest.mark.parametrize(
    ("call", "status"),
    [
        (("POST", PATH, NOTHING, KNOWN), 200),
        (("POST", PATH, NOTHING, KNOWN | {SECRET_HEADER: "guessed"}), 401),
        (("POST", PATH, NOTHING, {"Content-Type": "application/json"}), 401),
        (("POST", PATH, "no json", KNOWN), 400),
        (("POST", PATH, "[]", KNOWN), 400),
        (("POST", PATH, '{"update_id": 1, "message": 7}', KNOWN), 400),
        (("POST", PATH, b"\xff\xfe", KNOWN), 400),
        (("POST", PATH, "x" * (LARGEST + 1), KNOWN), 413),
        (("GET", PATH, "", KNOWN), 405),
        (("POST", "/other", NOTHING, KNOWN), 404),
        (("GET", HEALTH, "", {}), 200),
    ],
    ids="nothing_new wrong_secret no_secret no_json list odd_message not_text too_large get elsewhere health".split(),
)
def test_only_the_bot_api_is_listened_to(port: int, call: tuple[Any, ...], status: int) -> None:
    assert called(port, *call) == status


def test_what_cannot_be_written_down_is_sent_again(
    telegram: TelegramStandIn, port: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert port
    keep, failures = inbox.keep, [DatabaseTroubleError("The database is in use by another program.")] * 2

    def sometimes(*args: Any) -> None:
        if failures:
            raise failures.pop()
        keep(*args)

    monkeypatch.setattr(inbox, "keep", sometimes)
    telegram.says("Mei", PRICE)

    assert len(telegram.wait_for_posts(1)) == 1
    assert len(telegram.deliveries) == 3
