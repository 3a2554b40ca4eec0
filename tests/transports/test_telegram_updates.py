"""What the Bot API reports, and what of it the clerk hears."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pytest
from telegram import Update, User

from bot.messages import Arrival, ChatTurn, Incoming, Sender, Turn
from bot.transports.telegram.updates import Ear

PRESSED_AT = datetime(2026, 8, 3, 15, 20, tzinfo=UTC)
SENT_AT = datetime(2026, 8, 3, 15, 15, tzinfo=UTC)
MEI = {"id": 77, "is_bot": False, "first_name": "Mei"}
INES = {"id": 78, "is_bot": False, "first_name": "Ines"}
CHAT = {"id": -1001, "type": "group", "title": "Packers"}
SAID = {"message_id": 5, "from": MEI, "chat": CHAT, "date": int(SENT_AT.timestamp())}
PRESSED = {"id": "900", "from": MEI, "chat_instance": "1", "message": SAID | {"text": "4¢"}, "data": "undo:1"}


ADMINISTRATOR = (
    "can_be_edited is_anonymous can_manage_chat can_delete_messages can_manage_video_chats can_restrict_members"
    " can_promote_members can_change_info can_invite_users can_post_stories can_edit_stories can_delete_stories"
)
CLERK = User(1, "Clerk", is_bot=True, username="PackingClerkTestBot", can_read_all_group_messages=False)
CLERK_HERE = {"user": {"id": 1, "is_bot": True, "first_name": "Clerk"}}


def came(**reported: Any) -> Arrival | None:
    return Ear(CLERK).arrival(Update.de_json({"update_id": 1} | reported, None), PRESSED_AT)


def heard(**reported: Any) -> Incoming | None:
    arrival = came(**reported)
    assert not isinstance(arrival, ChatTurn)
    return arrival


def turned(was: str, now: str, chat: dict[str, Any] = CHAT) -> Turn | None:
    """What a change of the clerk's own standing in a chat is to it."""
    rights = dict.fromkeys(ADMINISTRATOR.split(), False) if now == "administrator" else {}
    change = {
        "chat": chat,
        "from": MEI,
        "date": SAID["date"],
        "old_chat_member": CLERK_HERE | {"status": was} | dict.fromkeys(ADMINISTRATOR.split(), False),
        "new_chat_member": CLERK_HERE | {"status": now} | rights | ({"until_date": 0} if now == "kicked" else {}),
    }
    arrival = came(my_chat_member=change)
    assert arrival is None or isinstance(arrival, ChatTurn)
    return arrival.turn if arrival else None


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
        title="Packers",
        arrival=1,
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
        arrival=1,
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
        ({"text": "@PackingClerkTestBot 12 pencils .50 at dunmere"}, "12 pencils .50 at dunmere"),
        ({"text": "@packingclerktestbot, what do we need?"}, "what do we need?"),
        ({"text": "12 pencils .50 at dunmere @PackingClerkTestBot"}, "12 pencils .50 at dunmere"),
        ({"text": "hey @PackingClerkTestBot: 12 pencils\n0.47"}, "hey 12 pencils\n0.47"),
        ({"text": "@PackingClerkTestBots 12 pencils"}, "@PackingClerkTestBots 12 pencils"),
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
        {"callback_query": {name: value for name, value in PRESSED.items() if name != "message"}},
    ],
    ids=["no words", "another bot's command", "from a bot", "press without a post"],
)
def test_what_is_not_for_us_goes_unheard(reported: dict[str, Any]) -> None:
    assert heard(**reported) is None


def test_a_changed_message_says_which_it_corrects() -> None:
    message = heard(edited_message=SAID | {"text": "12 pencils 0.57", "edit_date": int(SENT_AT.timestamp()) + 60})

    assert message is not None
    assert (message.corrects, message.ref, message.at) == ("5", "edit:1", SENT_AT)


def test_a_photo_comes_with_its_largest_size() -> None:
    sizes = [
        {"file_id": name, "file_unique_id": name, "width": width, "height": width}
        for name, width in (("small", 90), ("large", 800))
    ]

    message = heard(message=SAID | {"photo": sizes, "caption": "12 pencils 0.47"})

    assert message is not None
    assert (message.text, message.photo) == ("12 pencils 0.47", "large")


@pytest.mark.parametrize(("by", "photo"), [(INES, "shelf"), (CLERK_HERE["user"], None)])
def test_a_reply_brings_the_photo_that_a_person_sent(by: dict[str, Any], photo: str | None) -> None:
    size = {"file_id": "shelf", "file_unique_id": "shelf", "width": 800, "height": 800}
    answered = SAID | {"message_id": 3, "from": by, "photo": [size]}

    message = heard(message=SAID | {"text": "12 pencils 0.47", "reply_to_message": answered})

    assert message is not None
    assert (message.answers, message.photo) == ("3", photo)


def test_a_message_in_a_topic_answers_only_what_it_replies_to() -> None:
    in_topic = {"text": "hello", "message_thread_id": 3, "is_topic_message": True}

    opening = heard(message=SAID | in_topic | {"reply_to_message": SAID | {"message_id": 3}})
    reply = heard(message=SAID | in_topic | {"reply_to_message": SAID | {"message_id": 4}})

    assert opening is not None
    assert reply is not None
    assert (opening.topic, opening.answers, reply.answers) == ("3", None, "4")


@pytest.mark.parametrize(
    ("was", "now", "turn"),
    [
        ("left", "member", Turn.ADDED),
        ("left", "administrator", Turn.ADDED),
        ("member", "left", Turn.REMOVED),
        ("administrator", "kicked", Turn.REMOVED),
        ("member", "administrator", Turn.HEARING),
        ("administrator", "member", Turn.HEARING),
        ("member", "member", None),
    ],
)
def test_what_becomes_of_the_clerk_is_told(was: str, now: str, turn: Turn | None) -> None:
    assert turned(was, now) is turn


def test_an_upgraded_group_goes_on_under_its_new_key() -> None:
    left = came(message=SAID | {"migrate_to_chat_id": -1009})
    entered = came(message=SAID | {"chat": CHAT | {"id": -1009}, "migrate_from_chat_id": -1001})

    assert isinstance(left, ChatTurn)
    assert isinstance(entered, ChatTurn)
    assert (left.turn, left.chat, left.moved_to) == (Turn.MOVED, "telegram:-1001", "telegram:-1009")
    assert (entered.turn, entered.chat, entered.moved_from) == (Turn.MOVED, "telegram:-1009", "telegram:-1001")


def test_a_member_who_leaves_is_told_of() -> None:
    turn = came(message=SAID | {"left_chat_member": MEI})

    assert isinstance(turn, ChatTurn)
    assert (turn.turn, turn.sender.key) == (Turn.LEFT, "telegram:77")
