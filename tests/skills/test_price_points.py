"""Price points: set, changed in part, taken back, and what they judge."""

from __future__ import annotations

import pytest

from bot.messages import TAKE_BACK
from tests.chat import Chat
from tests.skills.kept import first_lines, labels

ASK = "what do we pay for pens?"


def test_setting_tells_the_old_one(chat: Chat) -> None:
    [post] = chat.says("Mei", "price point for pens 9 cents, 12 at most")

    assert post.text == "Pens: price point 9¢, at most 12¢ each from now on (was: price point 10¢)."
    assert labels(post) == [TAKE_BACK]


def test_answer_names_the_most_for_packs(chat: Chat) -> None:
    chat.says("Mei", "price point for pens 9 cents, 12 at most")

    [post] = chat.says("Ines", ASK)

    # 10 x 12, 12 x 12 and 24 x 12 cents
    assert post.text == "Pens: price point 9¢, at most 12¢ each. Most to pay: 10 for $1.20, 12 for $1.44, 24 for $2.88."


def test_changed_price_point_keeps_its_limit(chat: Chat) -> None:
    chat.says("Mei", "price point for pens 9 cents, 12 at most")

    [post] = chat.says("Ines", "set pens target to 8c")

    assert post.text.startswith("Pens: price point 8¢, at most 12¢ each")


def test_price_point_over_the_limit_drops_it(chat: Chat) -> None:
    chat.says("Mei", "price point for pens 9 cents, 12 at most")

    [post] = chat.says("Mei", "price point for pens 20 cents")

    assert post.text.startswith("Pens: price point 20¢ each from now on")


def test_taking_back_restores_the_old_one(chat: Chat) -> None:
    [before] = chat.says("Mei", ASK)
    chat.says("Mei", "price point for pens 9 cents, 12 at most")

    chat.presses("Mei", TAKE_BACK)
    [after] = chat.says("Mei", ASK)

    assert after.text == before.text


def test_taking_back_twice_goes_back_twice(chat: Chat) -> None:
    chat.says("Mei", "price point for pens 9 cents")
    chat.says("Mei", "price point for pens 8 cents")

    told = []
    for _ in range(2):
        chat.says("Mei", "undo")
        told += first_lines(chat.says("Mei", ASK))

    assert [line.partition(" each")[0] for line in told] == ["Pens: price point 9¢", "Pens: price point 10¢"]


def test_older_one_taken_back_leaves_the_newer(chat: Chat) -> None:
    chat.says("Mei", "price point for pens 9 cents")
    chat.says("Ines", "price point for pens 8 cents")

    chat.says("Mei", "undo")
    [post] = chat.says("Mei", ASK)

    assert post.text.startswith("Pens: price point 8¢ each.")


def test_new_price_point_judges_from_then_on(chat: Chat) -> None:
    [before] = chat.says("Mei", "is 1.44 for 12 pens good?")
    chat.says("Mei", "price point for pens 12 cents")

    [after] = chat.says("Mei", "is 1.44 for 12 pens good?")

    assert first_lines([before, after]) == [
        "Too dear: pens at 12¢ each (price point 10¢). Leave it.",
        "Good price: pens at 12¢ each (price point 12¢). Buy.",
    ]


def test_fraction_of_a_cent_is_shown_beside_it(chat: Chat) -> None:
    chat.says("Mei", "price point for pens 4.5 cents")

    [post] = chat.says("Mei", "is 0.47 for 10 pens good?")

    assert post.text.startswith("Too dear: pens at 4.7¢ each (price point 4.5¢).")


def test_price_point_for_a_dozen_is_divided(chat: Chat) -> None:
    # 72 cents for 12
    [post] = chat.says("Mei", "price point for pens 72c a dozen")

    assert post.text.startswith("Pens: price point 6¢ each from now on")


@pytest.mark.parametrize(
    "senseless",
    ["price point for pens 0 cents", "set target for pens 12 cents, max 10 cents", "price point for pens 2000000.00"],
)
def test_senseless_price_point_changes_nothing(chat: Chat, senseless: str) -> None:
    [post] = chat.says("Mei", senseless)
    [after] = chat.says("Mei", ASK)

    assert post.text.endswith("Try: price point for pens 9 cents, 12 at most")
    assert after.text.startswith("Pens: price point 10¢ each.")
