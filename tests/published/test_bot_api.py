"""What the clerk asks of the Bot API, against what is published of it.

Sources: the Bot API manual (core.telegram.org/bots/api) and the Bots FAQ (core.telegram.org/bots/faq), as read in
check-values.md section 9; the limits as python-telegram-bot 22.8 (Bot API 10.0) carries them in ``telegram.constants``.
"""

from __future__ import annotations

import re

import pytest
from telegram.constants import (
    BotCommandLimit,
    BotDescriptionLimit,
    FloodLimit,
    InlineKeyboardButtonLimit,
    MessageLimit,
    ReactionEmoji,
)

from bot.settings import _SECRET
from bot.skills.commands import COMMANDS
from bot.skills.house import setting_up
from bot.transports.telegram import menu, pacing, sending, webhook


def test_texts_keep_within_the_limits() -> None:
    assert sending.LONGEST == int(MessageLimit.MAX_TEXT_LENGTH) == 4096
    assert sending.LONGEST_CAPTION == int(MessageLimit.CAPTION_LENGTH) == 1024


def test_the_pace_is_the_faqs() -> None:
    usual = pacing.USUAL

    assert usual.in_all == (FloodLimit.MESSAGES_PER_SECOND, 1) == (30, 1)
    assert usual.in_a_group == (FloodLimit.MESSAGES_PER_MINUTE_PER_GROUP, 60) == (20, 60)
    messages, seconds = usual.in_a_chat
    assert messages / seconds == int(FloodLimit.MESSAGES_PER_SECOND_PER_CHAT) == 1


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.name)
def test_commands_are_as_the_menu_takes_them(command: object) -> None:
    name, does = getattr(command, "name", ""), getattr(command, "does", "")

    assert re.fullmatch(r"[a-z0-9_]{1,32}", name)  # manual: BotCommand
    assert len(name) <= BotCommandLimit.MAX_COMMAND
    assert BotCommandLimit.MIN_DESCRIPTION <= len(does) <= BotCommandLimit.MAX_DESCRIPTION


def test_descriptions_fit() -> None:
    assert len(menu.DESCRIPTION) <= int(BotDescriptionLimit.MAX_DESCRIPTION_LENGTH) == 512
    assert len(menu.SHORT) <= int(BotDescriptionLimit.MAX_SHORT_DESCRIPTION_LENGTH) == 120


def test_the_sign_is_one_that_bots_may_set() -> None:
    assert "👌" in {emoji.value for emoji in ReactionEmoji}  # manual: ReactionTypeEmoji


def test_the_secret_and_its_header_are_the_manuals() -> None:
    assert webhook.SECRET_HEADER == "X-Telegram-Bot-Api-Secret-Token"  # noqa: S105 - manual: setWebhook
    assert all(_SECRET.fullmatch(secret) for secret in ("a", "Z9_-", "x" * 256))
    assert not any(_SECRET.fullmatch(secret) for secret in ("", "x" * 257, "no blanks", "é", "a.b"))
    assert 1 <= webhook.CONNECTIONS <= 100  # manual: setWebhook, max_connections


def test_a_buttons_action_fits_into_its_bytes() -> None:
    _, buttons = setting_up.first_question()
    longest = 2**63 - 1
    actions = [
        *(button.action for button in buttons),
        f"+case:{longest}",
        f"own:{longest}:{longest}",
        f"pick:{longest}:9",
    ]

    limit = InlineKeyboardButtonLimit.MAX_CALLBACK_DATA
    assert limit == 64
    assert max(len(action.encode()) for action in actions) <= limit
