"""The Telegram transport from end to end: the real command against a Bot API server on loopback."""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator
from contextlib import ExitStack, closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import update

from bot.group_file import read_group
from bot.storage.books import Database
from bot.storage.group import load_group
from bot.storage.tables import splits
from tests.conftest import HARBOUR_LANE
from tests.telegram_stand_in import GROUP, OTHER_GROUP, TOKEN, Fault, TelegramStandIn
from tests.transports.clerk import Clerk

PRICE = "12 pencils 0.47 at corner store"


@pytest.fixture
def start(telegram: TelegramStandIn, tmp_path: Path) -> Iterator[Callable[..., Clerk]]:
    """Starts the clerk with settings of its own; afterwards no line of it may hold the token."""
    with ExitStack() as ending:

        def begin(**settings: str) -> Clerk:
            clerk = Clerk(tmp_path, **{"BOT_API_URL": telegram.url} | settings)
            ending.callback(clerk.give_up)
            return clerk

        yield begin
    assert TOKEN not in (tmp_path / "stderr.txt").read_text()


def test_price_is_answered_with_a_verdict(telegram: TelegramStandIn, start: Callable[..., Clerk]) -> None:
    start()

    message = telegram.says("Mei", PRICE)
    (post,) = telegram.wait_for_posts(1)

    assert post.answers == message
    assert "4¢" in post.text
    assert "5¢" in post.text
    assert post.buttons == ["Take back"]
    assert post.parse_mode is None
    assert not post.link_preview


def test_pressed_button_takes_the_price_back(telegram: TelegramStandIn, start: Callable[..., Clerk]) -> None:
    start()
    telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)

    telegram.presses("Mei", "Take back")
    telegram.wait_until(lambda: not telegram.posts()[0].buttons, "post without its buttons")
    [taken_back] = telegram.posts()
    telegram.says("Ines", "is 0.47 for 12 pencils good?")
    checked = telegram.wait_for_posts(2)[1]

    assert taken_back.text == "Taken back: 12 pencils $0.47, corner store."
    assert len(telegram.answered_presses) == 1
    assert "5¢" in checked.text
    assert "corner store" not in checked.text


def test_small_talk_gets_no_post(telegram: TelegramStandIn, start: Callable[..., Clerk]) -> None:
    start()

    telegram.says("Mei", "see you all at the hall on Friday, bring cake")
    price = telegram.says("Mei", PRICE)
    posts = telegram.wait_for_posts(1)

    assert [post.answers for post in posts] == [price]


def test_burst_is_answered_in_its_order(telegram: TelegramStandIn, start: Callable[..., Clerk]) -> None:
    said = [telegram.says("Mei", PRICE) for _ in range(8)]

    start()
    posts = telegram.wait_for_posts(8)

    assert [post.answers for post in posts] == said


def test_two_groups_are_kept_apart(telegram: TelegramStandIn, start: Callable[..., Clerk]) -> None:
    start()
    telegram.says("Mei", PRICE, chat=GROUP)
    telegram.wait_for_posts(1, chat=GROUP)

    telegram.says("Mei", "is 0.47 for 12 pencils good?", chat=OTHER_GROUP)
    (other,) = telegram.wait_for_posts(1, chat=OTHER_GROUP)
    telegram.says("Mei", "is 0.47 for 12 pencils good?", chat=GROUP)
    own = telegram.wait_for_posts(2, chat=GROUP)[1]

    assert "corner store" not in other.text
    assert "corner store" in own.text


def test_member_is_known_by_first_name(telegram: TelegramStandIn, start: Callable[..., Clerk], tmp_path: Path) -> None:
    clerk = start()

    telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)
    clerk.stops()

    books_of_the_run = Database(f"sqlite:///{tmp_path / 'books.db'}")
    with closing(books_of_the_run) as database, database.open(f"telegram:{GROUP}") as books:
        assert load_group(books).members == read_group(HARBOUR_LANE).members


def test_command_is_heard_without_our_name(telegram: TelegramStandIn, start: Callable[..., Clerk]) -> None:
    start()

    telegram.says("Mei", "/help@SomeOtherTestBot")
    ours = telegram.says("Mei", "/help@PackingClerkTestBot")
    posts = telegram.wait_for_posts(1)

    assert [post.answers for post in posts] == [ours]


def test_too_many_requests_is_sent_once_later(telegram: TelegramStandIn, start: Callable[..., Clerk]) -> None:
    telegram.fails("sendMessage", Fault.too_many(retry_after=1))
    start()

    first = telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)
    second = telegram.says("Ines", PRICE)
    posts = telegram.wait_for_posts(2)

    assert [post.answers for post in posts] == [first, second]
    assert telegram.calls["sendMessage"] == 3


@pytest.mark.parametrize("fault", [Fault.broken(), Fault.dropped()], ids=["broken", "dropped"])
def test_trouble_on_the_way_is_outlasted(telegram: TelegramStandIn, start: Callable[..., Clerk], fault: Fault) -> None:
    for method in ("getMe", "getUpdates", "sendMessage"):
        telegram.fails(method, fault)
    start()

    telegram.says("Mei", PRICE)
    posts = telegram.wait_for_posts(1)

    assert len(posts) == 1
    assert telegram.calls["sendMessage"] == 2


def test_refused_post_holds_up_no_other(telegram: TelegramStandIn, start: Callable[..., Clerk]) -> None:
    telegram.fails("sendMessage", Fault.removed())
    start()

    telegram.says("Mei", PRICE)
    telegram.wait_for_calls("sendMessage")
    later = telegram.says("Mei", PRICE)
    posts = telegram.wait_for_posts(1)

    assert [post.answers for post in posts] == [later]


@pytest.mark.parametrize("ending", [Clerk.stops, Clerk.dies])
def test_restart_delivers_what_was_waiting(
    telegram: TelegramStandIn, start: Callable[..., Clerk], ending: Callable[[Clerk], object]
) -> None:
    telegram.fails("sendMessage", Fault.broken(), times=100)
    clerk = start()
    message = telegram.says("Mei", PRICE)
    telegram.wait_for_calls("sendMessage")

    ending(clerk)
    telegram.recovers()
    start()
    posts = telegram.wait_for_posts(1)

    assert [post.answers for post in posts] == [message]


def test_message_reported_again_counts_once(telegram: TelegramStandIn, start: Callable[..., Clerk]) -> None:
    clerk = start()
    first = telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)

    clerk.stops()
    telegram.says_again()
    start()
    second = telegram.says("Ines", "is 0.47 for 12 pencils good?")
    posts = telegram.wait_for_posts(2)

    assert [post.answers for post in posts] == [first, second]


@pytest.mark.parametrize("asked_by", [signal.SIGTERM, signal.SIGINT])
def test_stop_signal_ends_the_clerk_quietly(
    telegram: TelegramStandIn, start: Callable[..., Clerk], asked_by: signal.Signals
) -> None:
    clerk = start()
    telegram.wait_for_calls("getUpdates")

    status = clerk.stops(asked_by)

    assert status == 0
    assert not any(sign in clerk.log.read_text() for sign in ("Traceback", '"trace"'))


def test_log_holds_no_word_of_the_chat(telegram: TelegramStandIn, start: Callable[..., Clerk]) -> None:
    telegram.fails("sendMessage", Fault.dropped())
    clerk = start()
    telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)

    clerk.stops()
    log = clerk.log.read_text()

    assert "Serving as @PackingClerkTestBot" in log
    assert "pencil" not in log.lower()
    assert "4¢" not in log


@pytest.mark.parametrize(
    ("method", "fault", "sentence"),
    [
        ("getMe", Fault.dropped(), "The Bot API does not answer"),
        ("getUpdates", Fault.two_pollers(), "Another program fetches this bot's messages"),
    ],
    ids=["silent", "two pollers"],
)
def test_lasting_trouble_is_told_once(
    telegram: TelegramStandIn, start: Callable[..., Clerk], method: str, fault: Fault, sentence: str
) -> None:
    telegram.fails(method, fault, times=2)
    clerk = start()
    telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)

    clerk.stops()

    assert clerk.log.read_text().count(sentence) == 1


def test_refused_token_ends_with_a_sentence(telegram: TelegramStandIn, start: Callable[..., Clerk]) -> None:
    clerk = start(BOT_TOKEN="987654321:AAE-another_token")

    status = clerk.ends()

    assert status == 2
    assert telegram.calls == {"getMe": 1}
    assert "The Bot API refuses the token: check BOT_TOKEN" in clerk.log.read_text()
    assert "another_token" not in clerk.log.read_text()


OFFER = "i can get 200 bar soaps for 31.00, who wants some?"


def test_the_post_of_an_open_split_changes_in_its_place(telegram: TelegramStandIn, start: Callable[..., Clerk]) -> None:
    start()
    telegram.says("Ines", OFFER)
    telegram.wait_for_posts(1)

    telegram.presses("Tobias", "24")
    telegram.wait_until(lambda: "176 left." in telegram.posts()[0].text, "changed post")
    telegram.presses("Mei", "48")
    telegram.wait_until(lambda: "128 left." in telegram.posts()[0].text, "post changed again")

    (post,) = telegram.posts()
    assert "Tobias 24, Mei 48." in post.text
    assert post.buttons == ["12", "24", "48", "All 128 left", "Not for me", "Close"]


def test_what_fell_due_while_the_clerk_was_away_is_done_at_its_start(
    telegram: TelegramStandIn, start: Callable[..., Clerk], tmp_path: Path
) -> None:
    clerk = start()
    telegram.says("Ines", f"{OFFER} by friday 6pm")
    telegram.wait_for_posts(1)
    telegram.presses("Tobias", "24")
    telegram.wait_until(lambda: "176 left." in telegram.posts()[0].text, "changed post")
    clerk.stops()
    long_ago = datetime(2026, 8, 1, tzinfo=UTC)
    with closing(Database(f"sqlite:///{tmp_path / 'books.db'}")) as database, database.transaction() as connection:
        connection.execute(update(splits).values(closes_at=long_ago))

    start()
    live, closed = telegram.wait_for_posts(2)
    telegram.wait_until(lambda: not telegram.posts()[0].buttons, "closed post without its buttons")

    assert live.text.startswith("Ines can get") or live.text == "200 bar soaps $31.00: closed."
    assert "Tobias: 24 for $3.72" in closed.text


def test_balances_are_answered_in_a_private_chat(telegram: TelegramStandIn, start: Callable[..., Clerk]) -> None:
    start()
    telegram.says("Ines", "split 24 pens 2.40 with Mei, paid by Mei")
    telegram.wait_for_posts(1)

    telegram.says("Ines", "what do i owe", chat=777)
    (post,) = telegram.wait_for_posts(1, chat=777)

    assert post.text.startswith("Harbour Lane packers: what you write here goes into the group’s books")
    assert post.text.endswith("Ines owes $1.20.\nTo be square: Ines pays Mei $1.20.")
    assert len(telegram.posts()) == 1
