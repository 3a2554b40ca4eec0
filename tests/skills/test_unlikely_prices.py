"""A price four or more times off is asked about before it is kept."""

from __future__ import annotations

from tests.chat import Chat
from tests.skills.kept import first_lines, labels, paid, sightings

TOO_DEAR = "12 pencils 4.70 at corner store"


def test_unlikely_price_is_asked_about(chat: Chat) -> None:
    # 470/12 is 39.2 cents, over 4 x 7
    [post] = chat.says("Mei", TOO_DEAR)

    assert post.text.startswith("40¢ for one pencil?")
    assert post.text.endswith("for one right?")
    assert labels(post) == ["Keep it"]
    assert paid(chat, "pencil") == []


def test_button_keeps_the_unlikely_price(chat: Chat) -> None:
    chat.says("Mei", TOO_DEAR)

    [post] = chat.presses("Mei", "Keep it")

    assert first_lines([post]) == ["Too dear: pencils at 40¢ each (price point 5¢, at most 7¢). Leave it."]
    assert paid(chat, "pencil") == [(12, 470)]


def test_typed_yes_keeps_it_too(chat: Chat) -> None:
    chat.says("Mei", TOO_DEAR)

    chat.says("Mei", "Yes!")

    assert paid(chat, "pencil") == [(12, 470)]


def test_typed_no_keeps_nothing(chat: Chat) -> None:
    chat.says("Mei", TOO_DEAR)

    [post] = chat.says("Mei", "no")

    assert post.text == "OK, not kept."
    assert paid(chat, "pencil") == []


def test_refused_price_cannot_be_kept_later(chat: Chat) -> None:
    chat.says("Mei", TOO_DEAR)
    chat.says("Mei", "no")

    [post] = chat.presses("Mei", "Keep it")

    assert post.text == "That question has been answered already."
    assert paid(chat, "pencil") == []


def test_price_of_one_may_be_a_packs(chat: Chat) -> None:
    [question] = chat.says("Mei", "pencils 0.47 at corner store")

    chat.presses("Mei", "It was for 12")

    assert labels(question) == ["Keep it", "It was for 10", "It was for 12", "It was for 24"]
    assert [(seen.count, seen.store) for seen in sightings(chat, "pencil")] == [(12, "corner store")]


def test_four_times_dearer_is_the_edge(chat: Chat) -> None:
    # the most for pencils is 7 cents: ten at 2.79 are 27.9 each, at 2.80 the 28 of four times
    [likely] = chat.says("Mei", "10 pencils 2.79")
    chat.says("Mei", "undo")
    [unlikely] = chat.says("Mei", "10 pencils 2.80")

    assert likely.text.startswith("Too dear:")
    assert unlikely.text.endswith("for one right?")


def test_four_times_cheaper_is_asked_about(chat: Chat) -> None:
    # the price point is 5 cents: 12 for 15 are 1.25 each, the quarter of it; for 16 they are more
    [unlikely] = chat.says("Mei", "12 pencils 0.15")
    [likely] = chat.says("Ines", "12 pencils 0.16")

    assert unlikely.text.endswith("for one right?")
    assert likely.text.startswith("Good price:")


def test_clearance_is_weighed_by_its_regular_price(chat: Chat) -> None:
    [post] = chat.says("Mei", "12 pencils was 0.60 now 0.12 at larkmoor")

    assert post.text.startswith("Good price: pencils at 1¢ each")
    assert paid(chat, "pencil") == [(12, 12)]


def test_history_tells_without_price_point(chat: Chat) -> None:
    chat.says("Mei", "8 glue sticks 1.60")
    chat.presses("Mei", "New item")

    # 160/8 is 20 cents: 32/8 is 4, a fifth of it
    [post] = chat.says("Mei", "8 glue sticks 0.32")

    assert post.text == "4¢ for one glue stick? They are usually 20¢. Is 4¢ for one right?"


def test_unlikely_purchase_is_asked_about(chat: Chat) -> None:
    chat.says("Mei", "bought 12 pencils 4.70")

    [post] = chat.presses("Mei", "Keep it")

    assert post.text.startswith("Bought: 12 pencils $4.70, Mei.")
