"""Posts as the Bot API gets them, on the stand-in server."""

from __future__ import annotations

import asyncio
from datetime import UTC, datetime
from functools import partial

import pytest

from bot.delivery import GoneError, NeverError, NotNowError
from bot.messages import Button, Post, Queued
from bot.transports.telegram.pacing import Pace
from bot.transports.telegram.sending import LONGEST, Sender, parts
from bot.transports.telegram.serving import bot_of
from tests.telegram_stand_in import GROUP, TOKEN, Fault, TelegramStandIn

MADE_AT = datetime(2026, 8, 3, 15, 15, tzinfo=UTC)


@pytest.fixture
def telegram(telegram: TelegramStandIn) -> TelegramStandIn:
    """The stand-in, in whose group Mei has said something."""
    telegram.says("Mei", "12 pencils 0.47")
    return telegram


def sent(telegram: TelegramStandIn, post: Post, replaces: str | None = None, follows: tuple[int, ...] = ()) -> str:
    """Send a post to the group; with numbers that may ``follow`` it, it may be there already."""

    async def once() -> str:
        async with bot_of(TOKEN, telegram.url) as bot:
            queued = Queued(1, f"telegram:{GROUP}", MADE_AT, post, replaces)
            sender = Sender(bot, Pace())
            return await sender.send(queued, post.text, is_last=True, follows=follows)

    return asyncio.run(once())


def test_ref_is_the_number_of_the_message(telegram: TelegramStandIn) -> None:
    ref = sent(telegram, Post("pencils 4¢ each"))

    assert [str(post.message_id) for post in telegram.posts()] == [ref]


def test_text_with_markup_signs_arrives_as_written(telegram: TelegramStandIn) -> None:
    text = "pencils *4¢* <each> & [so] _on_ https://example.org"

    sent(telegram, Post(text))
    (post,) = telegram.posts()

    assert (post.text, post.parse_mode, post.link_preview) == (text, None, False)


def test_buttons_stand_three_in_a_row(telegram: TelegramStandIn) -> None:
    buttons = tuple(Button(f"{count} each", f"pick:{count}") for count in (6, 8, 12, 24))

    sent(telegram, Post("How many in a pack?", buttons))
    (post,) = telegram.posts()

    assert [len(row) for row in post.rows] == [3, 1]
    assert post.action("24 each") == "pick:24"


@pytest.mark.parametrize("answers", ["424242", "press:7"], ids=["deleted", "a press"])
def test_reply_to_what_is_gone_still_goes(telegram: TelegramStandIn, answers: str) -> None:
    sent(telegram, Post("Taken back.", answers=answers))

    assert [post.answers for post in telegram.posts()] == [None]


@pytest.mark.parametrize(
    "post",
    [Post(""), Post("4" * 4097), Post("so?", (Button("Yes", "y" * 65),))],
    ids=["empty", "too long", "action too long"],
)
def test_post_past_the_limits_never_goes(telegram: TelegramStandIn, post: Post) -> None:
    with pytest.raises(NeverError):
        sent(telegram, post)


@pytest.mark.parametrize(
    "fault", [Fault.too_many(retry_after=1), Fault.broken(), Fault.dropped()], ids=["429", "500", "dropped"]
)
def test_passing_trouble_means_not_now(telegram: TelegramStandIn, fault: Fault) -> None:
    telegram.fails("sendMessage", fault)

    with pytest.raises(NotNowError):
        sent(telegram, Post("pencils 4¢ each"))


def test_removed_bot_never_gets_through(telegram: TelegramStandIn) -> None:
    telegram.fails("sendMessage", Fault.removed())

    with pytest.raises(GoneError):
        sent(telegram, Post("pencils 4¢ each"))


def test_a_post_takes_the_place_of_the_one_it_replaces(telegram: TelegramStandIn) -> None:
    ref = sent(telegram, Post("200 left", (Button("24", "+take:1:24"),)))

    again = sent(telegram, Post("176 left", (Button("24", "+take:1:24"),)), replaces=ref)

    assert again == ref
    assert [(post.text, post.buttons) for post in telegram.posts()] == [("176 left", ["24"])]


def test_a_post_that_is_as_it_was_is_left_so(telegram: TelegramStandIn) -> None:
    ref = sent(telegram, Post("200 left"))

    assert sent(telegram, Post("200 left"), replaces=ref) == ref
    assert len(telegram.posts()) == 1


def test_a_deleted_post_is_sent_anew(telegram: TelegramStandIn) -> None:
    ref = sent(telegram, Post("200 left"))
    telegram.deletes(telegram.posts()[0])

    assert sent(telegram, Post("176 left"), replaces=ref) != ref
    assert [post.text for post in telegram.posts()] == ["176 left"]


def test_trouble_while_changing_means_not_now(telegram: TelegramStandIn) -> None:
    ref = sent(telegram, Post("200 left"))
    telegram.fails("editMessageText", Fault.broken())

    with pytest.raises(NotNowError):
        sent(telegram, Post("176 left"), replaces=ref)


def test_the_server_says_how_long_to_wait(telegram: TelegramStandIn) -> None:
    telegram.fails("sendMessage", Fault.too_many(retry_after=7))

    with pytest.raises(NotNowError) as trouble:
        sent(telegram, Post("pencils 4¢ each"))

    assert (trouble.value.after, trouble.value.is_unsure) == (7, False)


def test_a_lost_answer_is_no_refusal(telegram: TelegramStandIn) -> None:
    telegram.fails("sendMessage", Fault.dropped())

    with pytest.raises(NotNowError) as trouble:
        sent(telegram, Post("pencils 4¢ each"))

    assert trouble.value.is_unsure


def test_a_post_that_could_not_be_looked_for_stays_in_doubt(telegram: TelegramStandIn) -> None:
    telegram.fails("editMessageText", Fault.too_many(retry_after=1))

    with pytest.raises(NotNowError) as trouble:
        sent(telegram, Post("pencils 4¢ each"), follows=(2,))

    assert trouble.value.is_unsure


def test_a_post_that_is_there_already_is_found(telegram: TelegramStandIn) -> None:
    post = Post("pencils 4¢ each", (Button("Take back", "undo:1"),))
    ref = sent(telegram, post)

    again = sent(telegram, post, follows=(int(ref) - 1, int(ref)))

    assert again == ref
    assert len(telegram.posts()) == 1


def test_a_look_that_is_broken_off_goes_on_from_there(telegram: TelegramStandIn) -> None:
    post = Post("pencils 4¢ each")
    ref = sent(telegram, post)
    follows = (424241, 424242, int(ref))

    async def looked() -> str:
        async with bot_of(TOKEN, telegram.url) as bot:
            queued = Queued(1, f"telegram:{GROUP}", MADE_AT, post)
            look = partial(Sender(bot, Pace()).send, queued, post.text, is_last=True, follows=follows)
            telegram.fails("editMessageText", Fault.too_many(retry_after=1))
            with pytest.raises(NotNowError):
                await look()
            return await look()

    assert asyncio.run(looked()) == ref
    assert telegram.calls["editMessageText"] == 4


def test_a_post_that_is_not_there_is_sent(telegram: TelegramStandIn) -> None:
    sent(telegram, Post("pencils 4¢ each"), follows=(424241, 424242))

    assert len(telegram.posts()) == 1


@pytest.mark.parametrize("text", ["4" * 5000, "12 pencils\n" * 900, "a word " * 900, "🎈" * 3000])
def test_a_long_text_goes_in_parts_that_fit(text: str) -> None:
    cut = parts(text)

    assert all(len(part.encode("utf-16-le")) // 2 <= LONGEST for part in cut)
    assert "".join("".join(cut).split()) == "".join(text.split())
    assert len(cut) == 2 + (len(text) > 2 * LONGEST)


def test_a_text_is_cut_at_the_ends_of_its_lines() -> None:
    lines = [f"• {number} pencils" for number in range(600)]

    cut = parts("\n".join(lines))

    assert [line for part in cut for line in part.splitlines()] == lines
