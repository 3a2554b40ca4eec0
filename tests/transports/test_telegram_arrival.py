"""The clerk comes into a group, is removed, comes back; the group moves; members come, go, and have their own view."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial

import pytest

from bot.assistant import Assistant
from bot.group_file import default_group, read_group
from bot.storage.books import Database
from bot.storage.group import load_group
from bot.transports.telegram.polling import Polling
from bot.transports.telegram.serving import Telegram, bot_of
from core.group import Group
from tests.conftest import HARBOUR_LANE
from tests.telegram_stand_in import (
    GROUP,
    OTHER_GROUP,
    SUPERGROUP,
    TOKEN,
    Person,
    TelegramStandIn,
    person_id,
)
from tests.transports.running import running, wait_for_books

PRICE = "12 pencils 0.47 at corner store"


@contextmanager
def served(telegram: TelegramStandIn, database: Database, start: Group) -> Iterator[None]:
    """The clerk serves, and has begun to listen."""
    polls = telegram.calls["getUpdates"]
    with running(Telegram(bot_of(TOKEN, telegram.url), database, Assistant(database, start), Polling)):
        telegram.wait_for_calls("getUpdates", polls + 1)
        yield


def _says(telegram: TelegramStandIn, words: str) -> bool:
    return words in telegram.posts()[0].text


@pytest.fixture
def telegram(telegram: TelegramStandIn) -> TelegramStandIn:
    """The stand-in, in whose groups Ines administers."""
    telegram.administrators = ["Ines"]
    return telegram


@pytest.fixture
def _new(telegram: TelegramStandIn, database: Database) -> Iterator[None]:
    """A clerk whom no folder tells anything of its groups."""
    with served(telegram, database, default_group()):
        yield


@pytest.fixture
def _packers(telegram: TelegramStandIn, database: Database) -> Iterator[None]:
    """A clerk whose groups begin as Harbour Lane."""
    with served(telegram, database, read_group(HARBOUR_LANE)):
        yield


@pytest.mark.usefixtures("_new")
def test_a_new_group_is_set_up_by_three_presses(telegram: TelegramStandIn, database: Database) -> None:
    telegram.adds_bot("Ines", GROUP)
    [welcome] = telegram.wait_for_posts(1)
    assert welcome.text.startswith("Hello, I am the packing clerk.")

    for label, says in (("GBP", "Which time zone"), ("London", "Which kit"), ("wash pouch", "Ready.")):
        telegram.presses("Ines", label)
        telegram.wait_until(partial(_says, telegram, says), says)

    assert len(telegram.posts()) == 1
    with database.open(f"telegram:{GROUP}") as books:
        group = load_group(books)
    assert (group.settings.currency.code, group.settings.timezone, group.settings.country) == (
        "GBP",
        "Europe/London",
        "GB",
    )
    assert [(kit.name, kit.contents) for kit in group.kits] == [
        ("wash pouch", {"bar soap": 1, "washcloth": 1, "comb": 1})
    ]


@pytest.mark.usefixtures("_new")
def test_a_new_group_is_set_up_in_words(telegram: TelegramStandIn, database: Database) -> None:
    telegram.adds_bot("Ines", GROUP)
    [welcome] = telegram.wait_for_posts(1)
    telegram.says("Mei", "euros please")
    telegram.says("Ines", "USD", GROUP, reply_to=welcome)
    telegram.wait_for_posts(2)
    telegram.says("Ines", "we're in chicago")
    telegram.wait_for_posts(3)
    telegram.says("Ines", "school pouch")

    ready = telegram.wait_for_posts(4)[3]

    assert ready.text.splitlines()[-1].startswith("Ready.")
    with database.open(f"telegram:{GROUP}") as books:
        group = load_group(books)
    assert (group.settings.currency.code, group.settings.timezone) == ("USD", "America/Chicago")
    assert [kit.name for kit in group.kits] == ["school pouch"]


@pytest.mark.usefixtures("_new")
def test_only_administrators_set_it_up(telegram: TelegramStandIn, database: Database) -> None:
    telegram.adds_bot("Ines", GROUP)
    telegram.wait_for_posts(1)

    telegram.presses("Mei", "EUR")
    refused = telegram.wait_for_posts(2)[1]

    assert refused.text == "Only Ines can change that: please ask."
    with database.open(f"telegram:{GROUP}") as books:
        assert load_group(books).settings.currency.code == "USD"


@pytest.mark.usefixtures("_new")
def test_a_group_is_called_what_its_chat_is(telegram: TelegramStandIn, database: Database) -> None:
    telegram.adds_bot("Ines", GROUP)
    telegram.wait_for_posts(1)

    with database.open(f"telegram:{GROUP}") as books:
        assert load_group(books).name == "Packers"


@pytest.mark.usefixtures("_packers")
def test_a_group_of_a_folder_is_asked_nothing(telegram: TelegramStandIn) -> None:
    telegram.adds_bot("Ines", GROUP)

    [welcome] = telegram.wait_for_posts(1)

    assert "Harbour Lane packers: USD" in welcome.text
    assert welcome.buttons == []


def test_who_cannot_hear_says_so_and_how_to_mend_it(telegram: TelegramStandIn, database: Database) -> None:
    telegram.reads_everything = False
    with served(telegram, database, read_group(HARBOUR_LANE)):
        telegram.adds_bot("Ines", GROUP)
        [welcome] = telegram.wait_for_posts(1)
        telegram.promotes_bot("Ines", GROUP)
        thanks = telegram.wait_for_posts(2)[1]
        telegram.says("Mei", PRICE)
        answer = telegram.wait_for_posts(3)[2]

    assert "I cannot hear plain messages here" in welcome.text
    assert "/setprivacy" in welcome.text
    assert thanks.text == "Thank you: now I hear plain messages here."
    assert "Kept: 12 pencils" in answer.text


def test_who_no_longer_hears_says_so_by_itself_once(telegram: TelegramStandIn, database: Database) -> None:
    with served(telegram, database, read_group(HARBOUR_LANE)):
        telegram.says("Mei", PRICE)
        telegram.wait_for_posts(1)
    telegram.reads_everything = False

    for _ in range(2):
        with served(telegram, database, read_group(HARBOUR_LANE)):
            telegram.wait_for_posts(2)

    assert "I cannot hear plain messages here" in telegram.posts()[1].text
    assert len(telegram.posts()) == 2


@pytest.mark.usefixtures("_packers")
def test_a_removed_clerk_is_silent_until_it_is_back(telegram: TelegramStandIn, database: Database) -> None:
    telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)
    telegram.removes_bot("Ines", GROUP)

    def silent() -> bool:
        with database.open(f"telegram:{GROUP}") as books:
            return books.is_silent

    wait_for_books(silent)

    telegram.adds_bot("Ines", GROUP)
    back = telegram.wait_for_posts(2)[1]
    telegram.says("Ines", "is 0.47 for 12 pencils good?")
    checked = telegram.wait_for_posts(3)[2]

    assert back.text.startswith("I am back. The books are as I left them; the last entry is Mei’s: 12 pencils $0.47")
    assert "corner store" in checked.text


@pytest.mark.usefixtures("_packers")
def test_an_upgraded_group_keeps_its_books(telegram: TelegramStandIn) -> None:
    telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)

    supergroup = telegram.upgrades(GROUP, "Ines")
    first = telegram.says("Ines", "is 0.47 for 12 pencils good?", supergroup)
    [checked] = telegram.wait_for_posts(1, supergroup)

    assert checked.answers == first
    assert "corner store" in checked.text


@pytest.mark.usefixtures("_packers")
def test_messages_of_an_upgraded_group_are_numbered_anew(telegram: TelegramStandIn) -> None:
    for number in range(1, 4):
        telegram.says("Mei", PRICE)
        telegram.wait_for_posts(number)

    supergroup = telegram.upgrades(GROUP, "Ines")
    said = [telegram.says("Mei", PRICE, supergroup) for _ in range(3)]
    posts = telegram.wait_for_posts(3, supergroup)

    assert [post.answers for post in posts] == said


@pytest.mark.usefixtures("_packers")
def test_a_group_is_upgraded_between_two_posts(telegram: TelegramStandIn) -> None:
    with telegram.late("sendMessage"):
        telegram.says("Mei", PRICE)
        telegram.wait_for_posts(1)
        supergroup = telegram.upgrades(GROUP, "Ines")
        asked = telegram.says("Ines", "is 0.47 for 12 pencils good?", supergroup)
        telegram.says("Ines", "who owes what?", OTHER_GROUP)
        telegram.wait_for_posts(1, OTHER_GROUP)  # meanwhile the move would have been heard

    posts = telegram.wait_for_posts(1, supergroup)

    assert [post.answers for post in posts] == [asked]


@pytest.mark.usefixtures("_packers")
def test_two_of_one_name_are_told_apart(telegram: TelegramStandIn, database: Database) -> None:
    telegram.says("Mei", "hello")
    telegram.says(Person("Mei", "Okafor"), "who owes what?")
    telegram.wait_for_posts(1)

    with database.open(f"telegram:{GROUP}") as books:
        assert load_group(books).members == ("Ines", "Tobias", "Mei", "Amara", "Mei Okafor")


@pytest.mark.usefixtures("_packers")
def test_a_private_chat_shows_its_members_group(telegram: TelegramStandIn) -> None:
    own = person_id("Mei")
    telegram.says("Ines", "split 24 pens 2.40 with Mei")
    telegram.wait_for_posts(1)
    telegram.says("Mei", "who owes what?")
    telegram.wait_for_posts(2)

    telegram.says("Mei", "what do i owe", own)
    [owes] = telegram.wait_for_posts(1, own)
    telegram.says("Mei", PRICE, own)
    telegram.wait_for_posts(2, own)
    telegram.says("Ines", "where are pencils cheapest?")
    cheapest = telegram.wait_for_posts(3)[2]

    assert owes.text.endswith("Mei owes $1.20.\nTo be square: Mei pays Ines $1.20.")
    assert "corner store" in cheapest.text


@pytest.mark.usefixtures("_packers")
def test_settings_are_no_freer_in_a_private_chat(telegram: TelegramStandIn) -> None:
    own = person_id("Mei")
    telegram.says("Mei", "who owes what?")
    telegram.wait_for_posts(1)

    telegram.says("Mei", "quiet hours off", own)
    [refused] = telegram.wait_for_posts(1, own)

    assert refused.text.endswith("Only Ines can change that: please ask.")


@pytest.mark.usefixtures("_packers")
def test_who_has_left_sees_the_group_no_more(telegram: TelegramStandIn) -> None:
    own = person_id("Mei")
    telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)
    telegram.says("Mei", "where are pencils cheapest?", own)
    telegram.wait_for_posts(1, own)

    telegram.says("Mei", "", fields={"left_chat_member": {"id": own, "is_bot": False, "first_name": "Mei"}})
    telegram.says("Ines", "who owes what?")
    telegram.wait_for_posts(2)
    telegram.says("Mei", "where are pencils cheapest?", own)
    refused = telegram.wait_for_posts(2, own)[1]

    assert refused.text.startswith("You are not in that group any more")


@pytest.mark.usefixtures("_packers")
@pytest.mark.parametrize(
    "forged", ["undo:1", "pick:1:0", "setup:0:0", "buy:1", "own:1:1", "undo:999999999999", "x" * 64]
)
def test_a_forged_press_reaches_no_other_group(telegram: TelegramStandIn, forged: str) -> None:
    telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)
    telegram.says("Rosa", "who owes what?", OTHER_GROUP)
    [post] = telegram.wait_for_posts(1, OTHER_GROUP)

    telegram.forges_press("Rosa", OTHER_GROUP, post, forged)
    telegram.wait_until(lambda: len(telegram.answered_presses) == 1, "answered press")
    telegram.says("Mei", "where are pencils cheapest?")
    cheapest = telegram.wait_for_posts(2)[1]

    assert "corner store" in cheapest.text
    assert all("pencil" not in post.text for post in telegram.posts(OTHER_GROUP))


@pytest.mark.usefixtures("_packers")
def test_a_send_to_an_upgraded_chat_follows_it(telegram: TelegramStandIn) -> None:
    telegram.says("Mei", "hello")
    telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)
    supergroup = telegram.upgrades(GROUP, "Ines")
    telegram.says("Ines", "who owes what?", supergroup)

    [post] = telegram.wait_for_posts(1, supergroup)

    assert post.chat == supergroup < SUPERGROUP // 10


@pytest.mark.usefixtures("_new")
def test_all_that_waits_for_a_group_is_heard_where_it_is_picked(telegram: TelegramStandIn) -> None:
    own = person_id("Mei")
    telegram.says("Mei", "who owes what?")
    telegram.wait_for_posts(1)
    telegram.says("Mei", "what do i owe", own)
    telegram.wait_for_posts(1, own)
    telegram.says("Mei", "who owes what?", OTHER_GROUP)
    telegram.wait_for_posts(1, OTHER_GROUP)

    first = telegram.says("Mei", "what do i owe", own)
    second = telegram.says("Mei", "stock list", own)
    asked = telegram.wait_for_posts(3, own)[2]
    telegram.presses("Mei", "Packers (2)", own)
    answers = telegram.wait_for_posts(5, own)[3:]

    assert asked.text.startswith("In which group?")
    assert list(asked.buttons) == ["Packers (1)", "Packers (2)"]
    assert [post.answers for post in answers] == [first, second]
    assert all(post.text.startswith("Packers (2):") for post in answers)
