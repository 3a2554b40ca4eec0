"""What the Bot API reports, and what of it the clerk hears."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pytest
from telegram import Update

from bot.messages import Incoming, Sender
from bot.transports.telegram.updates import incoming

PRESSED_AT = datetime(2026, 8, 3, 15, 20, tzinfo=UTC)
SENT_AT = datetime(2026, 8, 3, 15, 15, tzinfo=UTC)
MEI = {"id": 77, "is_bot": False, "first_name": "Mei"}
CHAT = {"id": -1001, "type": "group", "title": "Packers"}
SAID = {"message_id": 5, "from": MEI, "chat": CHAT, "date": int(SENT_AT.timestamp())}
PRESSED = {"id": "900", "from": MEI, "chat_instance": "1", "message": SAID | {"text": "4¢"}, "data": "undo:1"}


def heard(**reported: Any) -> Incoming | None:
    return incoming(Update.de_json({"update_id": 1} | reported, None), "PackingClerkTestBot", PRESSED_AT)


def test_message_is_heard_with_its_keys() -> None:
    message = heard(message=SAID | {"text": "12 pencils 0.47", "reply_to_message": SAID | {"message_id": 3}})

    assert message == Incoming(
        chat="telegram:-1001",
        sender=Sender("Mei", "telegram:77"),
        text="12 pencils 0.47",
        at=SENT_AT,
        ref="5",
        answers="3",
        has_administrators=True,
    )


def test_press_is_heard_with_its_action() -> None:
    press = heard(callback_query=PRESSED)

    assert press == Incoming(
        chat="telegram:-1001",
        sender=Sender("Mei", "telegram:77"),
        text="",
        at=PRESSED_AT,
        ref="press:900",
        answers="5",
        pressed="undo:1",
        has_administrators=True,
    )


def test_press_under_an_old_post_is_heard() -> None:
    no_longer_shown = {"chat": CHAT, "message_id": 5, "date": 0}

    press = heard(callback_query=PRESSED | {"message": no_longer_shown})

    assert press is not None
    assert press.answers == "5"


@pytest.mark.parametrize(
    ("said", "text"),
    [
        ({"text": "/help"}, "/help"),
        ({"text": "/help@packingclerktestbot"}, "/help"),
        ({"text": "/price@PackingClerkTestBot 12 pencils\n0.47"}, "/price 12 pencils\n0.47"),
        ({"text": "mail me at mei@PackingClerkTestBot"}, "mail me at mei@PackingClerkTestBot"),
        ({"caption": "12 pencils 0.47"}, "12 pencils 0.47"),
    ],
)
def test_words_are_heard_as_meant(said: dict[str, str], text: str) -> None:
    message = heard(message=SAID | said)

    assert message is not None
    assert message.text == text


@pytest.mark.parametrize(
    "reported",
    [
        {"message": SAID},
        {"message": SAID | {"text": "/help@SomeOtherTestBot"}},
        {"message": SAID | {"text": "12 pencils 0.47", "from": MEI | {"is_bot": True}}},
        {"edited_message": SAID | {"text": "12 pencils 0.47"}},
        {"callback_query": {name: value for name, value in PRESSED.items() if name != "message"}},
    ],
    ids=["no words", "another bot's command", "from a bot", "edited", "press without a post"],
)
def test_what_is_not_for_us_goes_unheard(reported: dict[str, Any]) -> None:
    assert heard(**reported) is None
