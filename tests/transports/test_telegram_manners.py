"""How the clerk behaves on Telegram, as its people see it: signs, edits, photos, topics, buttons, commands."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest

from bot.assistant import Assistant
from bot.group_file import read_group
from bot.storage.books import Database
from bot.transports.telegram.polling import Polling
from bot.transports.telegram.serving import Telegram, bot_of
from tests.conftest import HARBOUR_LANE
from tests.telegram_stand_in import GROUP, SUPERGROUP, TOKEN, TelegramStandIn, person_id
from tests.transports.running import running, wait_until_noted

PRICE = "12 pencils 0.47 at corner store"
DEAR = "12 pencils 1.80 at corner store"


@pytest.fixture(autouse=True)
def _served(telegram: TelegramStandIn, database: Database) -> Iterator[None]:
    """The transport runs in a thread, for packers who want signs in place of answers; it must stop in the end."""
    group = read_group(HARBOUR_LANE)
    packers = replace(group, settings=replace(group.settings, reacts=True))
    telegram.administrators = ["Ines"]
    transport = Telegram(bot_of(TOKEN, telegram.url), database, Assistant(database, packers), Polling)
    with running(transport):
        telegram.wait_for_calls("setMyShortDescription")
        yield


def test_a_price_that_is_no_deal_gets_a_sign(telegram: TelegramStandIn) -> None:
    telegram.says("Ines", PRICE)
    telegram.wait_for_posts(1)

    message = telegram.says("Mei", DEAR.replace("1.80", "0.90"))
    telegram.wait_until(lambda: telegram.reactions(message) == ["👌"], "sign")

    assert len(telegram.posts()) == 1


def test_a_sign_is_taken_off_with_its_entry(telegram: TelegramStandIn, database: Database) -> None:
    telegram.says("Ines", PRICE)
    telegram.wait_for_posts(1)
    message = telegram.says("Mei", DEAR.replace("1.80", "0.90"))
    telegram.wait_until(lambda: telegram.reactions(message) == ["👌"], "sign")
    wait_until_noted(database)

    telegram.edits("Mei", message, "lol wrong chat")

    telegram.wait_until(lambda: telegram.reactions(message) == ["👌", ""], "no sign")
    assert telegram.wait_for_posts(2)[1].text.startswith("Taken back: 12 pencils $0.90")


def test_a_question_about_a_changed_message_becomes_the_answer(telegram: TelegramStandIn) -> None:
    with telegram.late("sendMessage"):
        message = telegram.says("Mei", "got 2 packs of pencils 1.00 at corner store")
        telegram.wait_for_posts(1)
        telegram.edits("Mei", message, "got 2 packs of 12 pencils 1.00 at corner store")
        telegram.says("Ines", "who owes what?", SUPERGROUP)
        telegram.wait_for_posts(1, SUPERGROUP)  # meanwhile the change would have been heard

    telegram.wait_until(lambda: telegram.posts()[0].text.startswith("Bought: 24 pencils"), "answer")

    assert len(telegram.posts()) == 1


def test_a_chat_without_signs_gets_words(telegram: TelegramStandIn) -> None:
    telegram.says("Ines", PRICE)
    telegram.wait_for_posts(1)
    telegram.allows_reactions(["🎉"])

    telegram.says("Mei", DEAR.replace("1.80", "0.90"))
    posts = telegram.wait_for_posts(2)

    assert "Kept: 12 pencils $0.90" in posts[1].text


def test_a_changed_message_corrects_its_entry(telegram: TelegramStandIn) -> None:
    message = telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)

    telegram.edits("Mei", message, "12 pencils 0.41 at corner store")
    corrected = telegram.wait_for_posts(2)[1]
    telegram.says("Ines", "where are pencils cheapest?")
    cheapest = telegram.wait_for_posts(3)[2]

    assert corrected.answers == message
    assert corrected.text.startswith("Corrected; it was: 12 pencils $0.47, corner store.")
    assert "Kept: 12 pencils $0.41, corner store." in corrected.text
    assert "0.47" not in cheapest.text


def test_a_change_that_says_the_same_is_passed_over(telegram: TelegramStandIn) -> None:
    message = telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)

    telegram.edits("Mei", message, "12 pencils for 0.47 at the corner store")
    telegram.says("Ines", "who owes what?")
    telegram.wait_for_posts(2)

    assert [post.text.splitlines()[0] for post in telegram.posts()][1] == "All square: nobody owes anything."


def test_a_message_changed_into_small_talk_is_taken_back(telegram: TelegramStandIn) -> None:
    message = telegram.says("Mei", PRICE)
    telegram.wait_for_posts(1)

    telegram.edits("Mei", message, "see you all on Friday")
    taken_back = telegram.wait_for_posts(2)[1]

    assert taken_back.text == "Taken back: 12 pencils $0.47, corner store."


def test_a_changed_question_is_answered_again(telegram: TelegramStandIn) -> None:
    message = telegram.says("Mei", "what do we pay for pens?")
    telegram.wait_for_posts(1)

    telegram.edits("Mei", message, "what do we pay for pencils?")
    again = telegram.wait_for_posts(2)[1]

    assert again.answers == message
    assert again.text.startswith("Pencils: price point")


def test_what_others_rest_on_is_not_changed(telegram: TelegramStandIn) -> None:
    message = telegram.says("Ines", "got 24 pens 2.40 at larkmoor")
    telegram.wait_for_posts(1)
    telegram.says("Ines", "split that with Mei")
    telegram.wait_for_posts(2)

    telegram.edits("Ines", message, "got 24 pens 2.60 at larkmoor")
    refused = telegram.wait_for_posts(3)[2]

    assert refused.text.startswith("I cannot change that entry yet. Take back what rests on it first:")
    assert refused.buttons == ["Take back"]


def test_an_answered_question_becomes_its_answer(telegram: TelegramStandIn) -> None:
    telegram.says("Mei", "2 packs of pencils 1.00 at larkmoor")
    [asked] = telegram.wait_for_posts(1)

    telegram.presses("Mei", asked.buttons[0])
    telegram.wait_until(lambda: "Kept:" in telegram.posts()[0].text, "answer in the question's place")

    assert len(telegram.posts()) == 1


def test_a_refusal_leaves_the_post_as_it_is(telegram: TelegramStandIn) -> None:
    telegram.says("Ines", "quiet hours 9pm to 8am")
    [before] = telegram.wait_for_posts(1)

    telegram.presses("Mei", "Take back")
    refused = telegram.wait_for_posts(2)[1]

    assert refused.text == "Only Ines can change that: please ask."
    assert telegram.posts()[0] == before


def test_a_photo_is_shown_again(telegram: TelegramStandIn) -> None:
    telegram.sends_photo("Mei", PRICE, ["thumb", "pencils-on-the-shelf"])
    telegram.wait_for_posts(1)

    telegram.says("Ines", "show me the pencils")
    shown = telegram.wait_for_posts(2)[1]

    assert shown.photo == "pencils-on-the-shelf"
    assert "12 pencils $0.47" in shown.text


def test_a_document_is_read_by_its_caption(telegram: TelegramStandIn) -> None:
    telegram.sends_document("Mei", PRICE, "receipt")

    [post] = telegram.wait_for_posts(1)

    assert "Kept: 12 pencils $0.47" in post.text


def test_a_reply_makes_it_another_count(telegram: TelegramStandIn) -> None:
    telegram.says("Mei", PRICE)
    [post] = telegram.wait_for_posts(1)

    telegram.says("Mei", "make it 24", reply_to=post)
    corrected = telegram.wait_for_posts(2)[1]

    assert corrected.text.startswith("Corrected; it was: 12 pencils $0.47, corner store.")
    assert "Kept: 24 pencils $0.47, corner store." in corrected.text


def test_a_reply_is_heard_once_the_post_it_answers_is_noted(telegram: TelegramStandIn) -> None:
    with telegram.late("sendMessage"):
        telegram.says("Mei", PRICE)
        [post] = telegram.wait_for_posts(1)
        telegram.says("Mei", "make it 24", reply_to=post)
        telegram.says("Ines", "who owes what?", SUPERGROUP)
        telegram.wait_for_posts(1, SUPERGROUP)  # meanwhile the reply would have been heard

    corrected = telegram.wait_for_posts(2)[1]

    assert "Kept: 24 pencils $0.47, corner store." in corrected.text


def test_an_answer_stays_in_its_topic_and_alerts_go_where_they_were_sent(telegram: TelegramStandIn) -> None:
    prices, alerts = (telegram.opens_topic("Ines", name, SUPERGROUP) for name in ("Prices", "Alerts"))
    telegram.says("Ines", "post alerts here", SUPERGROUP, topic=alerts)
    telegram.wait_for_posts(1, SUPERGROUP)
    telegram.says("Ines", "at most 5 alerts a day", SUPERGROUP, topic=prices)
    telegram.wait_for_posts(2, SUPERGROUP)
    telegram.says("Ines", "quiet hours off", SUPERGROUP, topic=prices)
    telegram.wait_for_posts(3, SUPERGROUP)

    telegram.says("Mei", PRICE, SUPERGROUP, topic=prices)
    answer, alert = telegram.wait_for_posts(5, SUPERGROUP)[3:]

    assert answer.topic == prices
    assert alert.topic == alerts
    assert "still needed" in alert.text


def test_a_topic_that_is_gone_holds_up_no_alert(telegram: TelegramStandIn) -> None:
    topic = telegram.opens_topic("Ines", "Alerts", SUPERGROUP)
    for number, said in enumerate(("post alerts here", "at most 5 alerts a day", "quiet hours off"), 1):
        telegram.says("Ines", said, SUPERGROUP, topic=topic)
        telegram.wait_for_posts(number, SUPERGROUP)
    telegram.deletes_topic(topic, SUPERGROUP)

    telegram.says("Mei", PRICE, SUPERGROUP)
    alert = telegram.wait_for_posts(5, SUPERGROUP)[4]

    assert alert.topic is None


@pytest.mark.parametrize(
    ("command", "says"),
    [
        ("/start", "Write as you would to a friend."),
        ("/needs", "Short"),
        ("/owed", "All square"),
        ("/undo", "There is nothing to take back."),
        ("/settings", "Quiet hours"),
    ],
)
def test_the_menus_commands_are_answered(telegram: TelegramStandIn, command: str, says: str) -> None:
    telegram.says("Mei", command)

    [post] = telegram.wait_for_posts(1)

    assert says.casefold() in post.text.casefold()


def test_the_menu_is_set_at_the_start(telegram: TelegramStandIn) -> None:
    commands = telegram.profile["commands"]

    assert [command["command"] for command in commands][-1] == "help"
    assert telegram.profile["short_description"]


def test_a_reminder_for_one_comes_in_their_own_chat(telegram: TelegramStandIn, database: Database) -> None:
    telegram.says("Mei", "who owes what?")
    telegram.wait_for_posts(1)
    telegram.says("Mei", "what do i owe", person_id("Mei"))
    telegram.wait_for_posts(1, person_id("Mei"))

    telegram.says("Mei", "remind me in 1 minute to call the hall", person_id("Mei"))
    telegram.wait_for_posts(2, person_id("Mei"))

    assert len(telegram.posts(GROUP)) == 1
    assert database.knows(f"telegram:{GROUP}")


def test_a_flood_is_asked_for_patience_once(telegram: TelegramStandIn) -> None:
    for _ in range(45):
        telegram.says("Mei", "see you at the hall", GROUP)
    telegram.says("Ines", "who owes what?", GROUP)
    posts = telegram.wait_for_posts(2)

    assert [post.text.split(",")[0] for post in posts] == ["That is a lot at once", "All square: nobody owes anything."]
