"""All methods that the stand-in has, but for those about updates; the manual's names are case-insensitive."""

from __future__ import annotations

import re
from collections.abc import Callable

from tests.telegram.envelope import ApiError, Params, integer
from tests.telegram.messenger import Messenger
from tests.telegram.posting import (
    delete_message,
    edit_reply_markup,
    edit_text,
    send_message,
    send_photo,
    set_reaction,
)
from tests.telegram.shapes import BOT, BOT_ID, member, person, person_id

LONGEST = {"description": 512, "short_description": 120}
"""Manual, setMyDescription and setMyShortDescription."""
MOST_COMMANDS = 100
"""Manual, setMyCommands."""
COMMAND = re.compile(r"[a-z0-9_]{1,32}")
"""Manual, BotCommand: 1-32 characters, lowercase English letters, digits and underscores."""


def _get_me(messenger: Messenger, _: Params) -> object:
    return BOT | {
        "can_join_groups": True,
        "can_read_all_group_messages": messenger.reads_everything,
        "supports_inline_queries": False,
    }


def _answer_press(messenger: Messenger, params: Params) -> object:
    press = str(params.get("callback_query_id"))
    if len(str(params.get("text", ""))) > 200:  # manual, answerCallbackQuery: 0-200 characters
        raise ApiError(400, "Bad Request: MESSAGE_TOO_LONG")
    if press not in messenger.presses:
        raise ApiError(400, "Bad Request: query is too old and response timeout expired or query ID is invalid")
    messenger.presses.discard(press)
    messenger.answered_presses.append(press)
    return True


def _get_administrators(messenger: Messenger, params: Params) -> object:
    """Manual: those who "aren't bots"."""
    if messenger.reached(params).kind == "private":
        raise ApiError(400, "Bad Request: there are no administrators in the private chat")
    return [member(person(name), "administrator") for name in messenger.administrators]


def _get_member(messenger: Messenger, params: Params) -> object:
    chat, user_id = messenger.reached(params), integer(params, "user_id")
    if user_id == BOT_ID:
        return member(BOT, chat.bot)
    administrators = {person_id(name): person(name) for name in messenger.administrators}
    if user_id in administrators and chat.kind != "private":
        return member(administrators[user_id], "administrator")
    if user_id not in messenger.people:
        raise ApiError(400, "Bad Request: user not found")  # from memory
    here = any(message["from"]["id"] == user_id for message in chat.messages.values())
    return member(messenger.people[user_id], "member" if here else "left")


def _set_commands(messenger: Messenger, params: Params) -> object:
    commands = params["commands"]
    if len(commands) > MOST_COMMANDS:
        raise ApiError(400, "Bad Request: too many commands specified")  # from memory
    for command in commands:
        if not COMMAND.fullmatch(command["command"]):
            raise ApiError(400, "Bad Request: BOT_COMMAND_INVALID")  # from memory
        if not 1 <= len(command["description"]) <= 256:  # manual, BotCommand
            raise ApiError(400, "Bad Request: BOT_COMMAND_DESCRIPTION_INVALID")  # from memory
    messenger.profile["commands"] = commands
    return True


def _describe(part: str) -> Callable[[Messenger, Params], object]:
    def described(messenger: Messenger, params: Params) -> object:
        text = str(params.get(part, ""))
        if len(text) > LONGEST[part]:
            raise ApiError(400, f"Bad Request: {part.replace('_', ' ')} is too long")  # from memory
        messenger.profile[part] = text
        return True

    return described


METHODS: dict[str, Callable[[Messenger, Params], object]] = {
    "getme": _get_me,
    "sendmessage": send_message,
    "sendphoto": send_photo,
    "editmessagetext": edit_text,
    "editmessagereplymarkup": edit_reply_markup,
    "deletemessage": delete_message,
    "setmessagereaction": set_reaction,
    "answercallbackquery": _answer_press,
    "getchatadministrators": _get_administrators,
    "getchatmember": _get_member,
    "setmycommands": _set_commands,
    "setmydescription": _describe("description"),
    "setmyshortdescription": _describe("short_description"),
}
SENDING = frozenset(("sendmessage", "sendphoto"))
"""What the flood limits count."""
