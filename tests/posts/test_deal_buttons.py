"""The buttons under a deal: buying what is short, sharing a case of it, leaving it."""

from __future__ import annotations

import pytest

from bot.messages import STAYS
from bot.storage.shares import open_splits
from tests.chat import Chat
from tests.skills.kept import first_lines, labels

PENCILS = "12 pencils 0.47 at corner store"
BUY, SHARE, LEAVE = "I'm buying", "Share a case", "Not for us"


def cases(chat: Chat) -> list[tuple[str, int, int, str]]:
    """The payer, units, cents and item of each open case."""
    with chat.books() as books:
        found = [one.case for one in open_splits(books)]
    return [(case.payer, case.count, case.total, case.item) for case in found]


def test_only_leaving_it_takes_the_buttons(chat: Chat) -> None:
    [_, post] = chat.says("Mei", PENCILS)

    stays = [button.action.startswith(STAYS) for button in post.buttons]

    assert labels(post) == [BUY, SHARE, LEAVE]
    assert stays == [True, True, False]


def test_buying_reserves_what_is_short(chat: Chat) -> None:
    chat.says("Mei", "I have 400 pencils")
    chat.says("Mei", PENCILS)

    [post] = chat.presses("Ines", BUY)

    # 480 - 400 = 80
    assert first_lines([post]) == ["Ines is buying 80 pencils; noted for a day."]


def test_a_second_buyer_hears_of_the_first(chat: Chat) -> None:
    chat.says("Mei", PENCILS)
    chat.presses("Ines", BUY)

    [post] = chat.presses("Tobias", BUY)

    assert post.text == "Ines is buying 480 pencils (said just now), and no more are needed."
    assert labels(post) == ["Buy them as well"]


@pytest.mark.parametrize("label", [BUY, LEAVE])
def test_a_second_press_of_the_same_member_does_nothing(chat: Chat, label: str) -> None:
    chat.says("Mei", PENCILS)
    chat.presses("Ines", label)

    assert chat.presses("Ines", label) == []


def test_buying_may_be_taken_back(chat: Chat) -> None:
    chat.says("Mei", PENCILS)
    chat.presses("Ines", BUY)
    chat.says("Ines", "take that back")

    [post] = chat.presses("Tobias", BUY)

    assert post.text.startswith("Tobias is buying 480 pencils")


def test_sharing_opens_a_case_of_the_need(chat: Chat) -> None:
    chat.says("Mei", "I have 400 pencils")
    chat.says("Mei", PENCILS)

    [post] = chat.presses("Tobias", SHARE)

    # 80 are short: 7 packs of 12 are 84, for 7 x 0.47 = 3.29
    assert first_lines([post]) == ["Tobias can get 84 pencils $3.29: 3.9¢ each (price point 5¢, at most 7¢)."]
    assert cases(chat) == [("Tobias", 84, 329, "pencil")]


def test_a_shared_case_takes_parts(chat: Chat) -> None:
    chat.says("Mei", PENCILS)
    chat.presses("Tobias", SHARE)

    [echo, _] = chat.says("Amara", "put me down for 24")

    # 24 of 480 at 18.80 are 0.94
    assert echo.text == "Amara: 24 pencils, about $0.94. 456 left."


def test_a_shared_case_may_be_taken_back(chat: Chat) -> None:
    chat.says("Mei", PENCILS)
    chat.presses("Tobias", SHARE)

    chat.says("Tobias", "take that back")

    assert cases(chat) == []


def test_leaving_it_is_told(chat: Chat) -> None:
    chat.says("Mei", PENCILS)

    [post] = chat.presses("Ines", LEAVE)

    assert post.text == (
        "I will not speak of pencils at corner store again for half a year, unless 12 cost less than $0.47."
    )


@pytest.mark.parametrize("label", [BUY, SHARE, LEAVE])
def test_buttons_of_a_price_taken_back(chat: Chat, label: str) -> None:
    chat.says("Mei", PENCILS)
    chat.says("Mei", "take that back")

    [post] = chat.presses("Ines", label)

    assert post.text == "That price was taken back."
    assert cases(chat) == []


def test_a_deal_of_the_morning_has_buttons(chat: Chat) -> None:
    chat.says("Mei", PENCILS, at="2026-08-03T23:00")
    chat.waits("2026-08-04T07:00")

    chat.presses("Tobias", SHARE)

    # 40 packs of 12 for 40 x 0.47 = 18.80
    assert cases(chat) == [("Tobias", 480, 1880, "pencil")]


def test_alert_goes_with_its_price(chat: Chat) -> None:
    [_, alert] = chat.says("Mei", PENCILS)

    [taken_back, gone] = chat.says("Mei", "take that back")

    assert taken_back.text == "Taken back: 12 pencils $0.47, corner store."
    assert (gone.text, gone.edits, gone.only_changes) == (taken_back.text, chat.ref_of(alert), True)


def test_alert_on_a_corrected_price_gives_way_to_the_new_one(chat: Chat) -> None:
    [_, alert] = chat.says("Mei", PENCILS)

    [corrected, *rest] = chat.says("Mei", "sorry, 0.45 not 0.47")

    assert corrected.text.startswith("Corrected; it was: 12 pencils $0.47")
    assert [post.edits for post in rest if post.only_changes] == [chat.ref_of(alert)]
    assert [labels(post) for post in rest if not post.only_changes] == [[BUY, SHARE, LEAVE]]
