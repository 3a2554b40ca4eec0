"""Restating by reply: one thing of an entry is changed, all else of it stays; other replies are left alone."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import date, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bot.group_file import read_group
from bot.messages import Incoming, Sender
from bot.reading.corrections import correction
from bot.reading.marking import Listener
from bot.reading.names import names_of
from bot.skills.answering import Desk
from bot.skills.restating import restated
from bot.storage.entries import new_entry
from bot.storage.photos import newest_photo
from bot.storage.prices import add_purchase, add_sighting
from core.prices import Purchase, Sighting
from tests.chat import Chat
from tests.conftest import HARBOUR_LANE
from tests.corpora.scoring import FOLDER
from tests.examples import read
from tests.skills.kept import first_lines, labels, paid, sightings

GROUP = read_group(HARBOUR_LANE)
LISTENER = Listener(names_of(GROUP), GROUP.settings, "Mei")
PRICE = "12 pencils 0.47 at corner store"


@pytest.mark.parametrize(
    ("reply", "count", "cents", "store"),
    [
        ("make it 24", 24, 47, "corner store"),
        ("make that two dozen", 24, 47, "corner store"),
        ("24 not 12", 24, 47, "corner store"),
        ("not 12 but 24", 24, 47, "corner store"),
        ("no 24", 24, 47, "corner store"),
        ("No, 24!", 24, 47, "corner store"),
        ("sorry, 2 packs of 12", 24, 47, "corner store"),
        ("24 pencils, not 12", 24, 47, "corner store"),
        ("it was 0.57", 12, 57, "corner store"),
        ("should be 57c", 12, 57, "corner store"),
        ("sorry, 0.57 not 0.47", 12, 57, "corner store"),
        ("57 instead of 47", 12, 57, "corner store"),
        ("no, 24 for 0.88", 24, 88, "corner store"),
        ("at larkmoor", 12, 47, "Larkmoor Market"),
        ("that was at larkmoor", 12, 47, "Larkmoor Market"),
        ("it was at dunmere", 12, 47, "dunmere"),
        ("wickerby hall, not corner store", 12, 47, "Wickerby Hall"),
    ],
)
def test_reply_changes_one_thing(chat: Chat, reply: str, count: int, cents: int, store: str) -> None:
    [post] = chat.says("Mei", PRICE)

    [answer] = chat.replies("Mei", reply, post)

    [kept] = sightings(chat, "pencil")
    assert (kept.count, kept.price, kept.store) == (count, cents, store)
    assert answer.text.startswith("Corrected; it was: 12 pencils $0.47, corner store.\nGood price: ")
    assert labels(answer) == ["Take back"]


@pytest.mark.parametrize(
    "reply",
    [
        "24",
        "24?",
        "make it 24?",
        "make it 24 hours",
        "make it 7 then, i have choir",
        "24 not 30",
        "it was 24 each",
        "0.57",
        "it was 0.57 last week",
        "thats cheap",
        "no pens",
        "sorry Tobias",
        "tobias paid",
        "not at larkmoor",
        "no, at larkmoor it was 0.57",
        "make it 0",
        "should be €0.57",
        "should be 0.575",
        "make it school pouches",
        "i meant well",
        "larkmoor",
        "it was fun at larkmoor",
        "at once",
        "at noon",
        "at home",
        "at work today",
    ],
)
def test_other_replies_change_nothing(chat: Chat, reply: str) -> None:
    [post] = chat.says("Mei", PRICE)

    chat.replies("Tobias", reply, post)

    assert [(one.count, one.price, one.store) for one in sightings(chat, "pencil")] == [(12, 47, "corner store")]


def test_item_is_changed(chat: Chat) -> None:
    [post] = chat.says("Mei", PRICE)

    chat.replies("Mei", "i meant pens", post)

    assert (paid(chat, "pencil"), paid(chat, "pen")) == ([], [(12, 47)])


def test_correction_is_corrected_again(chat: Chat) -> None:
    [post] = chat.says("Mei", PRICE)
    [post] = chat.replies("Mei", "make it 24", post)

    [post] = chat.replies("Ines", "no, 36", post)

    assert first_lines([post]) == ["Corrected; it was: 24 pencils $0.47, corner store."]
    assert paid(chat, "pencil") == [(36, 47)]


def test_what_says_the_same_is_passed_over(chat: Chat) -> None:
    [post] = chat.says("Mei", PRICE)

    assert chat.replies("Mei", "it was 12", post) == []
    assert paid(chat, "pencil") == [(12, 47)]


def test_entry_taken_back_is_not_said_anew(chat: Chat) -> None:
    [post] = chat.says("Mei", PRICE)
    chat.says("Mei", "undo")

    assert chat.replies("Mei", "make it 24", post) == []
    assert paid(chat, "pencil") == []


@pytest.mark.parametrize("said", ["12 pencils 0.47, 10 pens 1.00", "bought 12 pencils 0.47\nI have 40 combs"])
def test_entry_of_several_things_stays(chat: Chat, said: str) -> None:
    post = chat.says("Mei", said)[-1]

    chat.replies("Mei", "make it 24", post)

    assert paid(chat, "pencil") == [(12, 47)]


def test_buyer_and_count_of_a_purchase_are_changed(chat: Chat) -> None:
    [post] = chat.says("Mei", "bought 12 pencils half off 0.94 at corner store")
    [post] = chat.replies("Mei", "make it 24", post)

    [post] = chat.replies("Mei", "tobias paid", post)

    assert post.text.splitlines()[:2] == [
        "Corrected; it was: bought 24 pencils $0.47, corner store, Mei.",
        "Bought: 24 pencils $0.47, corner store, Tobias.",
    ]
    [kept] = sightings(chat, "pencil")
    assert (kept.count, kept.price, kept.regular) == (24, 47, 94)


def test_price_at_or_above_the_one_before_the_markdown_is_left(chat: Chat) -> None:
    [post] = chat.says("Mei", "12 pencils half off 0.94")

    assert chat.replies("Mei", "it was 0.94", post) == []
    assert paid(chat, "pencil") == [(12, 47)]


@pytest.mark.parametrize(
    "reply",
    ["paid Mei 0.40", "paid Mei", "Mei, 24", "Tobias has 24", "sorry, paid Tobias", "12 pencils 0.40 at larkmoor"],
)
def test_payments_and_reports_are_heard_as_ever(chat: Chat, reply: str) -> None:
    [post] = chat.says("Mei", "bought 12 pencils 0.47 at larkmoor")

    posts = chat.replies("Ines", reply, post)

    assert not any(one.text.startswith("Corrected") for one in posts)
    assert (12, 47) in paid(chat, "pencil")


def test_kits_promised_are_no_kits_packed(chat: Chat) -> None:
    for item in ("soaps", "washcloths", "combs", "toothbrushes"):
        chat.says("Mei", f"I have 40 {item}")
    [post] = chat.says("Mei", "packed 14 wash bags")

    posts = chat.replies("Mei", "make it 90 wash bags", post)

    assert not any(one.text.startswith("Corrected") for one in posts)


@pytest.mark.parametrize(
    "folder", sorted(path.parent for path in FOLDER.glob("*/group.toml")), ids=lambda path: path.name
)
def test_talk_between_people_corrects_nothing(folder: Path) -> None:
    group = read_group(folder)
    listener = Listener(names_of(group), group.settings, "")
    lines = [json.loads(line) for file in folder.glob("tuned/*.jsonl") for line in file.read_text("utf-8").splitlines()]
    talk = [line for line in lines if line["expect"][0]["kind"] == "chatter"]

    taken = [line["text"] for line in talk if correction(line["text"], datetime.fromisoformat(line["at"]), listener)]

    assert talk
    assert taken == []


@pytest.mark.parametrize(
    ("said", "reply", "echo"),
    [
        ("I have 40 notebooks in my hall closet", "make it 44", "In: 44 notebooks, at Mei’s (hall closet). 44 in all."),
        ("I have 40 notebooks", "it was Tobias", "In: 40 notebooks, at Tobias’s. 40 in all."),
        ("I have 40 notebooks", "combs, not notebooks", "In: 40 combs, at Mei’s. 40 in all."),
        ("the school donated 30 soaps", "33 not 30", "In: 33 bar soaps, given to us, at Mei’s. 33 in all."),
        ("I count 38 combs", "make it 36", "Counted: 36 combs at Mei’s, 36 more than the books had. 36 in all."),
    ],
)
def test_stock_is_changed(chat: Chat, said: str, reply: str, echo: str) -> None:
    [post] = chat.says("Mei", said)

    [post] = chat.replies("Mei", reply, post)

    assert post.text.splitlines()[1] == echo


def test_packed_kits_are_changed(chat: Chat) -> None:
    for item in ("soaps", "washcloths", "combs", "toothbrushes"):
        chat.says("Mei", f"I have 40 {item}")
    [post] = chat.says("Mei", "packed 14 wash bags")

    [post] = chat.replies("Mei", "make it 15", post)

    assert first_lines([post]) == ["Corrected; it was: packed 14 wash bags, Mei."]
    assert "15 of 80 done" in post.text
    assert "40 in all" not in post.text


def test_what_units_were_taken_from_is_not_changed(chat: Chat) -> None:
    [post] = chat.says("Mei", "I have 40 combs")
    chat.says("Mei", "5 combs broke")

    [answer] = chat.replies("Mei", "make it 44", post)

    assert answer.text.startswith("I cannot change that entry yet. Take back what rests on it first: ")


def test_open_case_hears_it_as_a_claim(chat: Chat) -> None:
    posts = chat.says("Mei", "can get 144 pencils for 7.20 at larkmoor, who wants some?")
    chat.says("Tobias", "put me down for 24")

    answers = chat.replies("Tobias", "make that 36", posts[-1])

    assert "36" in answers[-1].text
    assert not any("Corrected" in post.text for post in answers)


def test_item_that_the_entry_brought_stays_known(chat: Chat) -> None:
    chat.says("Mei", "8 glue sticks 1.60 at copper kettle")
    [post] = chat.presses("Mei", "New item")

    [post] = chat.replies("Mei", "make it 10", post)

    assert first_lines([post]) == ["Corrected; it was: 8 glue sticks $1.60, copper kettle (new shop)."]
    assert paid(chat, "glue stick") == [(10, 160)]


def test_photo_stays_with_what_is_said_anew(chat: Chat) -> None:
    [post] = chat.hears(Incoming(chat.key, Sender("Mei"), PRICE, chat.clock, "with photo", photo="photo:1"))

    chat.replies("Mei", "make it 24", post)

    with chat.books() as books:
        found = newest_photo(books, "pencil")
    assert found is not None
    assert found[1] == "photo:1"


def test_changed_correction_is_heard_as_one(chat: Chat) -> None:
    [post] = chat.says("Mei", PRICE)
    ref = "correction"
    answers = chat.ref_of(post)
    chat.hears(Incoming(chat.key, Sender("Mei"), "make it 24", chat.clock, ref, answers=answers))

    [post] = chat.hears(Incoming(chat.key, Sender("Mei"), "make it 36", chat.clock, "edit", corrects=ref))

    assert first_lines([post]) == ["Corrected; it was: 24 pencils $0.47, corner store."]
    assert paid(chat, "pencil") == [(36, 47)]


TODAY = date(2026, 8, 3)
ITEMS = st.sampled_from([item.name for item in GROUP.items])
STORES = st.sampled_from(GROUP.stores)
DAYS = st.integers(0, 90).map(timedelta)


@st.composite
def prices(draw: st.DrawFn) -> Sighting:
    """Prices of known items, some of them marked down."""
    price = draw(st.integers(1, 50_000))
    return Sighting(
        draw(ITEMS),
        draw(st.integers(1, 5_000)),
        price,
        TODAY - draw(DAYS),
        draw(st.none() | STORES),
        draw(st.none() | st.integers(60_000, 90_000)),
        draw(st.none() | DAYS.map(lambda days: TODAY + days)),
        draw(st.none() | st.integers(1, 24)),
    )


CHANGES = st.one_of(
    st.tuples(st.sampled_from(["make it {}", "no, {}", "should be {}"]), st.just("count"), st.integers(1, 5_000)),
    st.tuples(st.sampled_from(["it was ${}", "sorry, ${}"]), st.just("price"), st.integers(1, 50_000)),
    st.tuples(st.sampled_from(["at {}", "that was at {}", "it was {}"]), st.just("store"), STORES),
    st.tuples(st.sampled_from(["i meant {}", "it was {}"]), st.just("item"), ITEMS),
)


@pytest.fixture(scope="module")
def shared() -> Iterator[Chat]:
    """A chat whose books stay empty: what a test enters is dropped."""
    with closing(Chat(GROUP)) as started:
        yield started


def said_anew(chat: Chat, reply: str, seen: Sighting, buyer: str | None) -> str | None:
    """The message that says a price, or its purchase, anew."""
    at = datetime(2026, 8, 3, 10, 15, tzinfo=GROUP.settings.zone)
    with chat.books() as books, books.trial() as trial:
        entry = new_entry(books, "Mei", at, "")
        add_sighting(books, entry, seen)
        if buyer:
            add_purchase(books, entry, Purchase(seen.item, seen.count, seen.price, seen.seen_on, buyer, seen.store))
        trial.drop()
        return restated(reply, entry, Desk(books, GROUP, "Mei", at, is_reply=True), LISTENER)


def as_read(seen: Sighting, buyer: str | None) -> dict[str, Any]:
    """What a message that says a price, or its purchase, is read as."""
    slots = {
        "item": seen.item,
        "count": seen.count,
        "price": GROUP.settings.currency.plain(Fraction(seen.price)),
        "store": seen.store,
        "on" if buyer else "seen_on": seen.seen_on.isoformat(),
    }
    if buyer:
        slots |= {"kind": "bought", "buyer": buyer}
    else:
        regular = None if seen.regular is None else GROUP.settings.currency.plain(Fraction(seen.regular))
        until = seen.until.isoformat() if seen.until else None
        slots |= {"kind": "price", "regular": regular, "until": until, "limit": seen.pack_limit}
    return {name: value for name, value in slots.items() if value is not None}


@settings(deadline=None, max_examples=300)
@given(seen=prices(), change=CHANGES, buyer=st.none() | st.sampled_from(GROUP.members))
def test_entry_said_anew_reads_as_it_was_but_for_one_thing(
    shared: Chat, seen: Sighting, change: tuple[str, str, Any], buyer: str | None
) -> None:
    words, part, value = change
    shown = GROUP.settings.currency.plain(Fraction(value)) if part == "price" else value

    message = said_anew(shared, words.format(shown), seen, buyer)

    assert message is not None
    assert read(message) == [as_read(replace(seen, **{part: value}), buyer)]
