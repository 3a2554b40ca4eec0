"""The stand-in for the Bot API where it delivers updates: by webhook, to one worker or several, or to a poller."""

from __future__ import annotations

import json
import socket
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from typing import Any

import pytest

from tests.telegram.asking import call, refusal
from tests.telegram.wire import Hangup, Reply, Request, Respond, Server
from tests.telegram_stand_in import GROUP, OTHER_GROUP, SECRET_HEADER, TOKEN, TelegramStandIn

HOOK = "https://clerk.example.org/hook"


class Worker:
    """A program at a webhook's address; it answers with these statuses in turn, and 200 ever after."""

    def __init__(self, *statuses: int | None) -> None:
        self.taken: list[dict[str, Any]] = []
        self.heads: list[bytes] = []
        self._statuses = list(statuses)
        self._server = Server(self._hear)
        self._server.start()
        self.url = self._server.url
        self.stop = self._server.stop

    def _hear(self, request: Request, respond: Respond) -> None:
        status = self._statuses.pop(0) if self._statuses else 200
        if status == 200:
            self.taken.append(json.loads(request.body))
            self.heads.append(request.head)
        respond(Hangup.CLOSED if status is None else Reply(status, b"{}"))

    def texts(self, chat: int) -> list[str]:
        """What was said in a chat, as it arrived."""
        messages = [update["message"] for update in self.taken]
        return [message["text"] for message in messages if message["chat"]["id"] == chat]


@pytest.fixture
def work() -> Iterator[Callable[..., Worker]]:
    """Starts workers, which are stopped at the end."""
    with ExitStack() as ending:

        def begin(*statuses: int | None) -> Worker:
            worker = Worker(*statuses)
            ending.callback(worker.stop)
            return worker

        yield begin


def outcomes(telegram: TelegramStandIn) -> list[int | str]:
    """How each attempt to deliver an update ended."""
    return [delivery.outcome for delivery in telegram.deliveries]


def test_webhook_gets_each_chat_in_order(telegram: TelegramStandIn, work: Callable[..., Worker]) -> None:
    worker = work(503, 200, None, 404)
    telegram.workers = [worker.url]
    said = [f"{number} pencils" for number in range(20)]
    telegram.says("Mei", said[0])

    call(telegram, "setWebhook", url=HOOK, secret_token="hush", max_connections=3)
    for text in said[1:]:
        telegram.says("Mei", text)
        telegram.says("Ines", text, OTHER_GROUP)
    telegram.wait_until(lambda: outcomes(telegram).count(200) == 39, "updates")

    assert worker.texts(GROUP) == said
    assert worker.texts(OTHER_GROUP) == said[1:]
    assert all(f"{SECRET_HEADER}: hush\r\n".encode() in head for head in worker.heads)
    assert all(head.startswith(b"POST /hook ") for head in worker.heads)
    assert sorted(set(map(str, outcomes(telegram)))) == ["200", "404", "503", "Connection closed"]


def test_workers_take_turns_and_stand_in_for_each_other(telegram: TelegramStandIn, work: Callable[..., Worker]) -> None:
    first, second, gone = work(), work(), work()
    gone.stop()
    telegram.workers = [first.url, gone.url, second.url]
    call(telegram, "setWebhook", url=HOOK)

    said = [str(number) for number in range(12)]
    for text in said:
        telegram.says("Mei", text)
    telegram.wait_until(lambda: outcomes(telegram).count(200) == 12, "updates")

    assert sorted(first.texts(GROUP) + second.texts(GROUP), key=int) == said
    assert first.taken
    assert second.taken


def test_webhook_and_polling_exclude_each_other(telegram: TelegramStandIn) -> None:
    call(telegram, "setWebhook", url=HOOK)
    telegram.says("Mei", "12 pencils 0.47")
    telegram.wait_until(lambda: bool(telegram.deliveries), "attempts")
    info = call(telegram, "getWebhookInfo")

    refused = refusal(telegram, "getUpdates")
    call(telegram, "deleteWebhook")
    (update,) = call(telegram, "getUpdates")

    assert (info["pending_update_count"], info["last_error_message"]) == (1, "Connection refused")
    assert refused[0] == 409
    assert update["message"]["text"] == "12 pencils 0.47"
    assert call(telegram, "getUpdates", offset=update["update_id"] + 1) == []


@pytest.mark.parametrize(
    ("setting", "sentence"),
    [
        ({"url": "http://clerk.example.org/hook"}, "bad webhook: An HTTPS URL must be provided for webhook"),
        ({"url": "https://clerk.example.org:8080/"}, "bad webhook: Webhook can be set up only on ports"),
        ({"url": HOOK, "secret_token": "hush hush"}, "secret token contains unallowed characters"),
    ],
    ids=["no https", "port", "secret"],
)
def test_bad_webhook_is_refused(telegram: TelegramStandIn, setting: dict[str, str], sentence: str) -> None:
    assert refusal(telegram, "setWebhook", **setting)[1].startswith(sentence)


def test_a_second_poller_ends_the_first(telegram: TelegramStandIn) -> None:
    with socket.create_connection(("127.0.0.1", int(telegram.url.rpartition(":")[2]))) as first:
        first.sendall(f"GET /bot{TOKEN}/getUpdates?timeout=60 HTTP/1.1\r\n\r\n".encode())
        telegram.wait_for_calls("getUpdates")

        assert call(telegram, "getUpdates") == []
        assert b"409" in first.recv(100)
