"""The stand-in for the Bot API itself: that it answers as tests of the clerk rely on."""

from __future__ import annotations

import json
import socket
from typing import Any

import pytest

from tests.telegram import parameters
from tests.telegram.asking import LOST, answer, call, refusal
from tests.telegram.serve import Far
from tests.telegram_stand_in import (
    BOT_ID,
    GROUP,
    OTHER_GROUP,
    SUPERGROUP,
    TOKEN,
    Fault,
    Limits,
    Person,
    Rates,
    TelegramStandIn,
    busiest,
    person_id,
)


@pytest.mark.parametrize(
    ("fault", "posted"),
    [(Fault.lost(), 1), (Fault.reset(), 0), (Fault.dropped(), 0)],
    ids=["lost", "reset", "dropped"],
)
def test_only_a_lost_answer_took_effect(telegram: TelegramStandIn, fault: Fault, posted: int) -> None:
    telegram.says("Mei", "12 pencils 0.47")
    telegram.fails("sendMessage", fault)

    with pytest.raises(LOST):
        answer(telegram, "sendMessage", chat_id=GROUP, text="4¢ each")

    assert len(telegram.posts()) == posted
    assert [(one.outcome, one.took_effect) for one in telegram.log] == [(fault.name, bool(posted))]


def test_reset_is_a_reset(telegram: TelegramStandIn) -> None:
    telegram.fails("getMe", Fault.reset())

    with socket.create_connection(("127.0.0.1", int(telegram.url.rpartition(":")[2]))) as line:
        line.sendall(f"GET /bot{TOKEN}/getMe HTTP/1.1\r\n\r\n".encode())
        with pytest.raises(ConnectionResetError):
            line.recv(1)


def test_supergroups_number_their_messages_each_for_itself(telegram: TelegramStandIn) -> None:
    chats = [GROUP, SUPERGROUP, 777, SUPERGROUP - 1, SUPERGROUP, OTHER_GROUP]

    assert [telegram.says("Mei", "hello", chat) for chat in chats] == [1, 1, 2, 1, 2, 3]


def test_flood_limits_hold(telegram: TelegramStandIn) -> None:
    telegram.says("Mei", "hello")
    telegram.says("Mei", "hello", 777)
    telegram.strict_limits(Limits(in_a_second=12, in_a_minute_in_a_group=10))

    answers = [answer(telegram, "sendMessage", chat_id=GROUP, text="hello") for _ in range(11)]
    private = [answer(telegram, "sendMessage", chat_id=777, text="hello") for _ in range(3)]

    assert [said["ok"] for said in answers] == [True] * 10 + [False]
    assert 58 <= answers[-1]["parameters"]["retry_after"] <= 60
    assert [said["ok"] for said in private] == [True, True, False]
    assert telegram.refused_for_limits == 2
    assert busiest(telegram.sent_at(GROUP), 60) == 10


@pytest.mark.parametrize(
    ("method", "params", "wrong"),
    [
        ("sendMessage", {"chat_id": GROUP, "txt": "hello", "text": "hello"}, "unknown parameter txt"),
        (
            "sendMessage",
            {"chat_id": GROUP, "text": "hello", "reply_markup": {"inline_keyboard": [[{"text": "a", "data": "b"}]]}},
            "unknown parameter reply_markup.inline_keyboard.data",
        ),
        ("sendMessage", {"chat_id": GROUP}, "text: Field required"),
        ("sendMessage", {"chat_id": GROUP, "text": "hello", "message_thread_id": "main"}, "message_thread_id: Input"),
        ("sendMesage", {}, "no such method"),
    ],
    ids=["misspelt", "misspelt inside", "missing", "of another type", "no method"],
)
def test_what_the_manual_does_not_have_is_noted(
    telegram: TelegramStandIn, method: str, params: dict[str, object], wrong: str
) -> None:
    telegram.says("Mei", "hello")

    refused = answer(telegram, method, **params)

    (noted, *_) = telegram.violations
    assert noted.startswith(f"{method}: ")
    assert wrong in noted
    assert not refused["ok"]
    assert telegram.posts() == []
    telegram.violations.clear()  # else the fixture would find them


def test_upgraded_group_tells_where_it_went(telegram: TelegramStandIn) -> None:
    telegram.says("Mei", "hello")

    new = telegram.upgrades()
    refused = answer(telegram, "sendMessage", chat_id=GROUP, text="hello")
    _, old_says, new_says = call(telegram, "getUpdates")

    assert refused["parameters"] == {"migrate_to_chat_id": new}
    assert old_says["message"]["migrate_to_chat_id"] == new
    assert (new_says["message"]["chat"]["id"], new_says["message"]["migrate_from_chat_id"]) == (new, GROUP)
    assert call(telegram, "sendMessage", chat_id=new, text="hello")["message_id"] == 2


def test_bot_cannot_write_where_it_is_not(telegram: TelegramStandIn) -> None:
    telegram.says("Mei", "hello")
    telegram.says("Ines", "hello", person_id("Ines"))
    telegram.removes_bot("Mei")
    telegram.removes_bot("Ines", person_id("Ines"))

    def refused(chat: int) -> tuple[int, str]:
        return refusal(telegram, "sendMessage", chat_id=chat, text="hello")

    assert refused(GROUP) == (403, "bot was kicked from the group chat")
    assert refused(person_id("Ines")) == (403, "bot was blocked by the user")
    assert refused(person_id("Mei")) == (403, "bot can't initiate conversation with a user")
    assert refused(OTHER_GROUP) == (400, "chat not found")


def test_posts_keep_to_their_topic(telegram: TelegramStandIn) -> None:
    topic = telegram.opens_topic("Mei", "Prices")
    message = telegram.says("Mei", "12 pencils 0.47", SUPERGROUP, topic=topic)
    reply = {"message_id": message}

    there = call(telegram, "sendMessage", chat_id=SUPERGROUP, text="4¢ each", reply_parameters=reply)
    telegram.closes_topic("Mei", topic)
    closed = refusal(telegram, "sendMessage", chat_id=SUPERGROUP, text="4¢ each", message_thread_id=topic)
    unknown = refusal(telegram, "sendMessage", chat_id=SUPERGROUP, text="4¢ each", message_thread_id=99)

    assert (there["message_thread_id"], there["is_topic_message"]) == (topic, True)
    assert closed == (400, "TOPIC_CLOSED")
    assert unknown == (400, "message thread not found")


def test_one_allowed_reaction_at_a_time(telegram: TelegramStandIn) -> None:
    message = telegram.says("Mei", "packed 25 pouches")

    def react(*emoji: str) -> dict[str, Any]:
        reaction = [{"type": "emoji", "emoji": one} for one in emoji]
        return answer(telegram, "setMessageReaction", chat_id=GROUP, message_id=message, reaction=reaction)

    done = [react("👀")["ok"], react("👍")["ok"], react()["ok"]]
    telegram.allows_reactions("👍")

    assert done == [True, True, True]
    assert telegram.reactions(message) == ["👀", "👍", ""]
    assert "REACTION_INVALID" in react("👀")["description"]
    assert "REACTION_INVALID" in react("📦")["description"]
    assert not react("👍", "👀")["ok"]


def test_only_own_posts_can_be_edited(telegram: TelegramStandIn) -> None:
    message = telegram.says("Mei", "hello")
    post = call(telegram, "sendMessage", chat_id=GROUP, text="hello")["message_id"]

    def edit(message_id: int, text: str) -> str:
        return refusal(telegram, "editMessageText", chat_id=GROUP, message_id=message_id, text=text)[1]

    assert edit(message, "hi") == "message can't be edited"
    assert edit(post, "hello").startswith("message is not modified")
    assert edit(99, "hi") == "message to edit not found"


def test_a_photo_goes_by_its_file(telegram: TelegramStandIn) -> None:
    telegram.sends_photo("Mei", "12 pencils 0.47", ["small", "large"])

    sent = call(telegram, "sendPhoto", chat_id=GROUP, photo="large", caption="4¢ each")

    assert sent["caption"] == "4¢ each"
    assert telegram.posts()[0].photo == "large"
    assert refusal(telegram, "sendPhoto", chat_id=GROUP, photo="huge")[0] == 400
    assert refusal(telegram, "sendPhoto", chat_id=GROUP, photo="large", caption="4" * 1025)[0] == 400


def test_storm_is_the_same_for_the_same_seed() -> None:
    outcomes = []
    for _ in range(2):
        with TelegramStandIn(validated=False) as telegram:
            telegram.says("Mei", "hello")
            telegram.stormy(7, Rates(too_many=0.2, bad_gateway=0.2, reset=0.2, lost=0.2))
            for _ in range(30):
                try:
                    answer(telegram, "sendMessage", chat_id=GROUP, text="hello")
                except (*LOST, json.JSONDecodeError):
                    continue
            outcomes.append([one.outcome for one in telegram.log])
            posts = len(telegram.posts())

    assert outcomes[0] == outcomes[1]
    assert set(outcomes[0]) == {"ok", "lost", "reset", "Bad Gateway", "Too Many Requests: retry after 1"}
    assert posts == outcomes[0].count("ok") + outcomes[0].count("lost")


def test_updates_come_twice_and_out_of_order(telegram: TelegramStandIn) -> None:
    telegram.stormy(7, Rates(duplicated=1))
    telegram.says("Mei", "first")
    telegram.recovers()
    telegram.holds_back()
    for number in range(5):
        telegram.says("Mei", str(number))
    before = len(call(telegram, "getUpdates"))
    telegram.lets_go(seed=1)

    ids = [update["update_id"] for update in call(telegram, "getUpdates")]

    assert before == 2
    assert ids[0] == ids[1]
    assert sorted(ids[2:]) == [ids[0] + later for later in range(1, 6)]
    assert sorted(ids[2:]) != ids[2:]


def test_privacy_mode_hears_commands_and_replies(telegram: TelegramStandIn) -> None:
    telegram.reads_everything = False
    telegram.says("Mei", "hello")
    call(telegram, "sendMessage", chat_id=GROUP, text="hello")
    telegram.says("Mei", "/help")
    telegram.says("Mei", "yes", reply_to=telegram.posts()[0])
    telegram.promotes_bot("Mei")
    telegram.says("Mei", "hello again")

    messages = [update["message"]["text"] for update in call(telegram, "getUpdates") if "message" in update]

    assert messages == ["/help", "yes", "hello again"]
    assert call(telegram, "getMe")["can_read_all_group_messages"] is False


def test_updates_are_as_published(telegram: TelegramStandIn) -> None:
    telegram.adds_bot("Mei")
    message = telegram.says(Person("Mei", "Okafor"), "/help", fields={"media_group_id": "9"})
    telegram.edits("Mei", message, "12 pencils 0.47")
    telegram.sends_photo("Mei", "a photo", ["small", "large"], reply_to=message)
    telegram.sends_document("Mei", "a list", "list")
    telegram.closes_topic("Mei", telegram.opens_topic("Mei", "Prices"))
    keys = {"inline_keyboard": [[{"text": "Take back", "callback_data": "undo:1"}]]}
    call(telegram, "sendMessage", chat_id=GROUP, text="4¢ each", reply_markup=keys)
    telegram.presses("Ines", "Take back")
    telegram.forges_press("Ines", OTHER_GROUP, telegram.posts()[0], "undo:2")
    telegram.promotes_bot("Mei")
    telegram.upgrades()
    telegram.removes_bot("Mei", OTHER_GROUP)

    updates = call(telegram, "getUpdates")

    assert len(updates) == 14
    for update in updates:
        assert list(parameters.unknown(parameters.published("Update").model_validate(update))) == []


@pytest.mark.parametrize(
    ("method", "params", "published"),
    [
        ("getMe", {}, "User"),
        ("sendMessage", {"chat_id": GROUP, "text": "hello"}, "Message"),
        ("getChatMember", {"chat_id": GROUP, "user_id": BOT_ID}, "ChatMemberMember"),
        ("getChatMember", {"chat_id": GROUP, "user_id": person_id("Ines")}, "ChatMemberAdministrator"),
        ("getWebhookInfo", {}, "WebhookInfo"),
    ],
    ids=["getMe", "sendMessage", "bot", "administrator", "getWebhookInfo"],
)
def test_results_are_as_published(
    telegram: TelegramStandIn, method: str, params: dict[str, object], published: str
) -> None:
    telegram.says("Mei", "hello")
    telegram.administrators = ["Ines"]

    result = parameters.published(published).model_validate(call(telegram, method, **params))

    assert list(parameters.unknown(result)) == []


def test_it_serves_from_another_process() -> None:
    with Far("--port", "0") as telegram:
        message, _ = telegram.does_all([("says", {"user": "Mei", "text": "hello"}), ("strict_limits", {"limits": {}})])
        call(telegram, "sendMessage", chat_id=GROUP, text="4¢ each", reply_parameters={"message_id": message})

        (post,) = telegram.does("posts")

        assert (post["text"], post["answers"]) == ("4¢ each", message)
        assert telegram.does("calls") == {"sendMessage": 1}
        assert len(telegram.does("answer_times")) == 1
