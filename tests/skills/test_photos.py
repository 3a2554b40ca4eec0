"""Photos asked for: the one that came with an entry, the newest of an item, the newest of all, or none."""

from __future__ import annotations

from bot.messages import Incoming, Post, Sender
from tests.chat import Chat


def seen(chat: Chat, text: str, photo: str | None, at: str | None = None) -> Post:
    """The echo of a message that came with a photo."""
    if at:
        chat.clock = chat.moment(at)
    [post] = chat.hears(Incoming(chat.key, Sender("Mei"), text, chat.clock, f"ref of {text}", photo=photo))
    return post


def shown(posts: list[Post]) -> list[tuple[str, str | None]]:
    return [(post.text, post.picture) for post in posts]


def test_newest_photo_of_an_item_is_shown(chat: Chat) -> None:
    seen(chat, "12 pencils 0.47 at larkmoor", "photo:1")
    seen(chat, "bought 24 pencils 0.90", "photo:2", "2026-08-04T09:00")
    seen(chat, "10 pens 1.00", "photo:3")

    posts = chat.says("Ines", "show me the pencils", "2026-08-06T09:00")

    assert shown(posts) == [("Mei, Aug 4: bought 24 pencils $0.90, Mei.", "photo:2")]


def test_newest_photo_of_all_is_shown(chat: Chat) -> None:
    seen(chat, "12 pencils 0.47 at larkmoor", "photo:1")
    seen(chat, "10 pens 1.00", None)

    assert shown(chat.says("Ines", "show me the photo")) == [
        ("Mei, today: 12 pencils $0.47, Larkmoor Market.", "photo:1")
    ]


def test_reply_shows_the_photo_of_that_entry(chat: Chat) -> None:
    first = seen(chat, "12 pencils 0.47", "photo:1")
    seen(chat, "10 pens 1.00", "photo:2")

    for words in ("show me", "what does it look like?", "show me the photo"):
        assert shown(chat.replies("Ines", words, first)) == [("Mei, today: 12 pencils $0.47.", "photo:1")]


def test_reply_to_an_entry_without_photo_says_so(chat: Chat) -> None:
    seen(chat, "12 pencils 0.47", "photo:1")
    second = seen(chat, "10 pens 1.00", None)

    [(text, picture)] = shown(chat.replies("Ines", "show me", second))

    assert text.startswith("I have no photo yet. To add one, ")
    assert picture is None


def test_what_was_taken_back_is_not_shown(chat: Chat) -> None:
    seen(chat, "12 pencils 0.47", "photo:1")
    seen(chat, "24 pencils 0.90", "photo:2")
    chat.says("Mei", "undo")

    assert shown(chat.says("Ines", "photo of the pencils?")) == [("Mei, today: 12 pencils $0.47.", "photo:1")]


def test_bare_words_without_a_reply_are_left_to_people(chat: Chat) -> None:
    seen(chat, "12 pencils 0.47", "photo:1")

    assert [chat.says("Ines", words) for words in ("show me", "photo?", "what do they look like?")] == [[], [], []]
