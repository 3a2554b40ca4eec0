"""Who may change settings on Telegram: the chat's own administrators, asked for when a setting is spoken of."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from bot.assistant import Assistant
from bot.group_file import read_group
from bot.storage.books import Database
from bot.storage.group import load_group
from bot.transports.telegram.polling import Polling
from bot.transports.telegram.serving import Telegram, bot_of
from core.choices import Setting, value_of
from tests.telegram_stand_in import GROUP, OTHER_GROUP, TOKEN, Fault, TelegramStandIn
from tests.transports.running import running

HARBOUR_LANE = Path(__file__).parents[1] / "corpora" / "harbour_lane"
ASK = "getChatAdministrators"
PRICE = "12 pencils 0.47 at corner store"
SETTING = "quiet hours 9pm to 8am"
SET = "Quiet hours: 21:00 to 08:00 (was 22:00 to 07:00)."
UNKNOWN = "Only administrators of this chat can change that, and I cannot see now who they are. Try again later."
PRIVATE = 777


@pytest.fixture
def telegram(telegram: TelegramStandIn) -> TelegramStandIn:
    """The stand-in; Ines administers its groups."""
    telegram.administrators = ["Ines"]
    return telegram


@pytest.fixture(autouse=True)
def _served(telegram: TelegramStandIn, database: Database) -> Iterator[None]:
    """The transport runs in a thread; at the end it is closed, and must stop."""
    transport = Telegram(bot_of(TOKEN, telegram.url), database, Assistant(database, read_group(HARBOUR_LANE)), Polling)
    with running(transport):
        telegram.wait_for_calls("getUpdates")
        yield


def answers(telegram: TelegramStandIn, said: list[tuple[str, str]], chat: int = GROUP) -> list[str]:
    """What the clerk answers each message of a dialogue; the next is said when the one before is answered."""
    before = len(telegram.posts(chat))
    for number, (user, text) in enumerate(said, before + 1):
        telegram.says(user, text, chat)
        telegram.wait_for_posts(number, chat)
    return [post.text for post in telegram.posts(chat)[before:]]


def quiet_hours(database: Database, chat: int = GROUP) -> str:
    """The quiet hours that stand in the books."""
    with database.open(f"telegram:{chat}") as books:
        return value_of(load_group(books).settings, Setting.QUIET_HOURS)


def test_an_administrator_may_set_quiet_hours(telegram: TelegramStandIn, database: Database) -> None:
    message = telegram.says("Ines", SETTING)

    (post,) = telegram.wait_for_posts(1)

    assert (post.text, post.answers, post.buttons) == (SET, message, ["Take back"])
    assert quiet_hours(database) == "21:00-08:00"


def test_another_member_is_told_who_can(telegram: TelegramStandIn, database: Database) -> None:
    message = telegram.says("Mei", SETTING)

    (post,) = telegram.wait_for_posts(1)

    assert (post.text, post.answers, post.buttons) == ("Only Ines can change that: please ask.", message, [])
    assert quiet_hours(database) == "22:00-07:00"


def test_all_who_can_are_named(telegram: TelegramStandIn) -> None:
    telegram.administrators = ["Ines", "Amara", "Tobias"]

    refused, done = answers(telegram, [("Mei", SETTING), ("Amara", SETTING)])

    assert refused == "Only Ines, Amara or Tobias can change that: please ask."
    assert done == SET


def test_administrators_need_be_no_members(telegram: TelegramStandIn) -> None:
    telegram.administrators = ["Hester"]

    refused, done = answers(telegram, [("Ines", SETTING), ("Hester", SETTING)])

    assert refused == "Only Hester can change that: please ask."
    assert done == SET


def test_who_administers_is_asked_each_time(telegram: TelegramStandIn, database: Database) -> None:
    first = answers(telegram, [("Ines", SETTING)])
    telegram.administrators = ["Mei"]

    then = answers(telegram, [("Ines", "quiet hours 11pm to 6am"), ("Mei", "quiet hours 11pm to 6am")])

    assert first == [SET]
    assert then == ["Only Mei can change that: please ask.", "Quiet hours: 23:00 to 06:00 (was 21:00 to 08:00)."]
    assert quiet_hours(database) == "23:00-06:00"
    assert telegram.calls[ASK] == 3


@pytest.mark.parametrize("fault", [Fault.broken(), Fault.dropped()], ids=["broken", "dropped"])
def test_a_setting_is_refused_while_nobody_can_tell(
    telegram: TelegramStandIn, database: Database, fault: Fault
) -> None:
    telegram.fails(ASK, fault)

    refused, still_old, done = answers(
        telegram, [("Ines", SETTING), ("Mei", "when are your quiet hours?"), ("Ines", SETTING)]
    )

    assert refused == UNKNOWN
    assert still_old.startswith("Quiet hours: 22:00 to 07:00.")
    assert done == SET
    assert quiet_hours(database) == "21:00-08:00"


def test_refusals_go_on_as_long_as_the_fault(telegram: TelegramStandIn) -> None:
    telegram.fails(ASK, Fault.broken(), times=3)

    said = answers(telegram, [("Ines", SETTING)] * 4)

    assert said == [UNKNOWN, UNKNOWN, UNKNOWN, SET]


def test_nobody_is_asked_about_other_messages(telegram: TelegramStandIn) -> None:
    telegram.says("Mei", "see you all at the hall on friday, bring cake")
    answers(telegram, [("Mei", PRICE), ("Mei", "who owes what?"), ("Ines", "remind me tomorrow to call the hall")])

    asked_before = telegram.calls[ASK]
    answers(telegram, [("Ines", SETTING)])

    assert asked_before == 0
    assert telegram.calls[ASK] == 1


def test_each_group_has_its_own_setting(telegram: TelegramStandIn, database: Database) -> None:
    answers(telegram, [("Ines", PRICE)], OTHER_GROUP)

    answers(telegram, [("Ines", SETTING)], GROUP)

    assert quiet_hours(database, GROUP) == "21:00-08:00"
    assert quiet_hours(database, OTHER_GROUP) == "22:00-07:00"


def test_in_a_private_chat_everybody_may(telegram: TelegramStandIn, database: Database) -> None:
    (done,) = answers(telegram, [("Mei", SETTING)], PRIVATE)

    assert done == SET
    assert quiet_hours(database, PRIVATE) == "21:00-08:00"
    assert telegram.calls[ASK] == 0


def test_settings_name_who_can_change_them(telegram: TelegramStandIn) -> None:
    (settings,) = answers(telegram, [("Mei", "show settings")])

    assert settings.splitlines()[-1] == "Ines can change them, in plain words."


def test_price_beside_a_setting_is_kept_once(telegram: TelegramStandIn, database: Database) -> None:
    both, undone = answers(telegram, [("Ines", f"{PRICE}\n{SETTING}"), ("Ines", "take that back")])

    assert "Kept: 12 pencils $0.47" in both
    assert SET in both
    assert undone == "Taken back: 12 pencils $0.47, corner store; quiet hours 21:00 to 08:00."
    assert quiet_hours(database) == "22:00-07:00"


def test_another_member_cannot_take_a_setting_back(telegram: TelegramStandIn, database: Database) -> None:
    answers(telegram, [("Ines", SETTING)])

    telegram.presses("Mei", "Take back")
    telegram.wait_for_posts(2)

    assert quiet_hours(database) == "21:00-08:00"
