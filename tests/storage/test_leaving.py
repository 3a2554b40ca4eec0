"""Leaving: a forgotten member's name stands nowhere, a deleted group leaves no row, and joined names are one."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from sqlalchemy import Column, Text, UniqueConstraint, func, select

from bot.messages import Incoming, Post, Sender
from bot.storage import calendar, chats, entries, group, inbox, ledger, outbox, prices, questions, shares, stock
from bot.storage.books import Books, Database, NoBooksError
from bot.storage.columns import metadata
from bot.storage.leaving import (
    CODES,
    NAMES,
    Extent,
    both_claimed,
    erase,
    extent,
    forget,
    join,
    references_to_members,
    with_account,
)
from bot.storage.questions import Talk, set_talk, talk
from bot.storage.tables import members
from core.group import Group, Kit, Settings
from core.items import Item, Note
from core.ledger import Debt, Payment, postings_of_debt, postings_of_payment
from core.money import currency
from core.shares import Offer, Wanted
from core.stock import Held, Move, Why
from tests.added_up import added_up
from tests.rows import all_rows, group_rows, saying
from tests.storage.everything import AT, CASE, DAY, REMINDER, fill, fill_the_rest

QUARRY = Group("Quarry Street", Settings(currency("EUR")), ("Mei", "Tobias"), (), (Item("pencil"),), (Kit("bag"),))
MARKETS = Group(
    "Rowan Yard", Settings(currency("USD")), ("Mei", "Mei Lin", "Tobias"), ("Mei's Market",), (Item("pen"),)
)


@pytest.fixture
def filled(database: Database, packers: Group) -> Database:
    """Two groups with a row of everything each; in the private chat "key 1" Tobias sees the packers."""
    database.found("quarry", packers)
    for chat in ("harbour", "quarry"):
        entry, _ = fill(database, chat)
        fill_the_rest(database, chat, entry)
    database.found("key 1", replace(QUARRY, private=True))
    with database.open("key 1") as books:
        chats.show(books, chats.memberships(books, "key 1")[0])
    with database.open("key 1") as books:
        outbox.take(books, "message 11")
        outbox.queue(books, Post("Tobias is owed nothing"), AT)
    return database


def test_there_is_a_row_of_everything(filled: Database) -> None:
    assert [table for table, rows in group_rows(filled, "harbour").items() if not rows] == []


def test_a_deleted_group_leaves_no_row(filled: Database) -> None:
    others = group_rows(filled, "quarry")
    with filled.open("harbour") as books:
        number = books.group_id
        erase(books)

    rows = all_rows(filled)
    assert [name for name, found in rows.items() if any(row.get("group_id") == number for row in found)] == []
    assert [row["id"] for row in rows["groups"] if row["id"] == number] == []
    assert saying(rows, "harbour") == [("groups", "name")]  # the other group of that name
    assert group_rows(filled, "quarry") == others
    with pytest.raises(NoBooksError), filled.open("harbour"):
        pass


def test_a_private_chat_shows_its_own_books_once_the_group_is_deleted(filled: Database) -> None:
    with filled.open("harbour") as books:
        erase(books)

    with filled.open("key 1") as books:
        assert (books.home, group.load_group(books).name) == ("key 1", "Quarry Street")
        assert chats.memberships(books, "key 1")[0].group_id != books.group_id
    assert outbox.waiting(filled, "key 1") == []


def test_the_private_books_themselves_can_be_deleted(filled: Database) -> None:
    with filled.open("harbour") as books:
        forget(books, "Tobias", in_any_case=True)
    with filled.open("key 1") as books:
        erase(books)

    assert not filled.knows("key 1")


def test_a_deletion_that_fails_leaves_everything(filled: Database) -> None:
    before = all_rows(filled)
    with filled.open("harbour") as books, books.trial() as trial:
        erase(books)
        trial.drop()

    assert all_rows(filled) == before


def test_a_post_delivered_after_the_deletion_is_let_be(filled: Database) -> None:
    with filled.open("harbour") as books:
        outbox.queue(books, Post("noted"), AT)
    [queued] = outbox.waiting(filled, "harbour")
    with filled.open("harbour") as books:
        erase(books)

    outbox.delivered(filled, queued, "post 2", AT)

    assert outbox.waiting(filled, "harbour") == []


def test_how_much_there_is(filled: Database) -> None:
    with filled.open("harbour") as books:
        assert extent(books) == Extent(1, AT)
    with filled.open("key 1") as books:
        erase(books)  # they are the packers' books
    filled.found("harbour", QUARRY)
    with filled.open("harbour") as books:
        assert extent(books) == Extent(0, None)


def of_tobias(books: Books) -> None:
    """Words of everybody's that name Tobias, in every text that may."""
    entry = entries.new_entry(books, "Tobias", AT, "Tobias paid Mei $4.20; note on pencil: tobias likes them")
    prices.add_note(books, entry, Note("pencil", "TOBIAS’s hands break them", "Tobias", DAY))
    stock.move(books, entry, Move("pencil", "Tobias", 24, Why.HAD, DAY, "in Tobias's closet"))
    calendar.add_reminder(books, entry, replace(REMINDER, what="ask Tobias", whom="Mei"))
    question = questions.ask(books, "Mei", AT, '["Which, Tobias?", ["Tobias", "paid Tobias 4.20"], null, true, 7]')
    outbox.queue(books, Post('Tobias “the tall” said: "no"', to="Tobias"), AT, question=question)
    set_talk(books, Talk((question,), "Tobias"))


def test_the_name_and_key_of_somebody_forgotten_stand_nowhere(filled: Database) -> None:
    with filled.open("harbour") as books:
        of_tobias(books)
        inbox_of_mei = Incoming("harbour", Sender("Mei", "key 2"), "paid Tobias 4.20", AT, "message 12", arrival=99)
    inbox.keep(filled, [inbox_of_mei])
    others = group_rows(filled, "quarry")
    with filled.open("harbour") as books:
        found = forget(books, "Tobias", in_any_case=True)
        assert found.name == "Former member"
        assert found.books is books

    rows = group_rows(filled, "harbour")
    assert saying(rows, "tobias", "key 1") == []
    assert [row["chat"] for row in rows["arrivals"]] == ["harbour"]  # Mei's; his own is gone
    assert "paid Former member 4.20" in rows["arrivals"][0]["written"]
    assert group_rows(filled, "quarry") == others


def test_texts_are_as_sound_as_before(filled: Database) -> None:
    with filled.open("harbour") as books:
        of_tobias(books)
        forget(books, "Tobias", in_any_case=True)

        newest = entries.last_entry(books, "Former member")
        assert newest is not None
        assert newest.summary == "Former member paid Mei $4.20; note on pencil: Former member likes them"
        assert talk(books).only_asked == "Former member"
        waiting = questions.question(books, talk(books).awaited[0])
        assert waiting is not None
        assert waiting.payload == (
            '["Which, Former member?", ["Former member", "paid Former member 4.20"], null, true, 7]'
        )
    *_, queued = outbox.waiting(filled, "harbour")
    assert queued.post == Post('Former member “the tall” said: "no"', to="Former member")


def test_what_somebody_forgotten_owes_and_holds_stays(filled: Database) -> None:
    with filled.open("harbour") as books:
        stock.move(books, entries.new_entry(books, "Mei", AT, "more"), Move("pencil", "Tobias", 24, Why.HAD, DAY))
        before = ledger.balances(books)
        forget(books, "Tobias", in_any_case=True)

        assert before["Tobias"] != 0
        assert ledger.balances(books) == added_up(books) == {"Mei": before["Mei"], "Former member": before["Tobias"]}
        assert Held("Former member", 96, None) in stock.holdings(books)["pencil"]
        assert shares.open_splits(books)[0].units_of("Former member") == 12
        assert group.load_group(books).members == ("Mei", "Former member")


def test_their_own_reminders_end(filled: Database) -> None:
    with filled.open("harbour") as books:
        assert [one.whom for one in calendar.reminders_from(books, DAY)] == ["Tobias"]
        forget(books, "Tobias", in_any_case=True)

        assert calendar.reminders_from(books, DAY) == ()


def test_the_private_chat_of_somebody_forgotten_shows_the_group_no_more(filled: Database) -> None:
    with filled.open("key 1") as books:
        found = forget(books, "Tobias", in_any_case=True)
        outbox.queue(found.books, Post("Forgotten."), AT)

    [queued] = outbox.waiting(filled, "key 1")
    outbox.delivered(filled, queued, "post 9", AT)
    assert outbox.waiting(filled, "key 1") == []
    with filled.open("key 1") as books:
        assert books.home == "key 1"
    assert saying(group_rows(filled, "harbour"), "tobias", "key 1") == []


def test_whoever_writes_again_is_new_and_another_former_member_has_a_number(filled: Database) -> None:
    with filled.open("harbour") as books:
        forget(books, "Tobias", in_any_case=True)
        assert group.member(books, "Tobias", "key 1") == "Tobias"
        assert ledger.balances(books).get("Tobias") is None
        assert forget(books, "Tobias", in_any_case=True).name == "Former member 2"


def test_longer_names_keep_the_word(database: Database) -> None:
    database.found("rowan", MARKETS)
    with database.open("rowan") as books:
        entries.new_entry(books, "Mei", AT, "Mei saw pens at Mei's Market with Mei Lin and Meinhard, so mei says")
        forget(books, "Mei", in_any_case=True)

        newest = entries.last_entry(books, None)
        assert newest is not None
        assert newest.summary == (
            "Former member saw pens at Mei's Market with Mei Lin and Meinhard, so Former member says"
        )
        assert group.load_group(books).stores == ("Mei's Market",)


@pytest.mark.parametrize(
    ("name", "said", "left"),
    [
        ("Will", "Will owes $4.20; it will do", "Former member owes $4.20; it will do"),
        ("7", "7 pens for 7", "7 pens for 7"),
        ("null", "null paid", "Former member paid"),
        ('Ann "Q"', 'Ann "Q" paid', "Former member paid"),
    ],
)
def test_names_that_are_other_words_as_well(database: Database, name: str, said: str, left: str) -> None:
    with database.open("harbour") as books:
        group.member(books, name, "key 3")
        entries.new_entry(books, "Mei", AT, said)
        question = questions.ask(books, "Mei", AT, "[null, true, 7]")
        outbox.queue(books, Post(said), AT)
        forget(books, name, in_any_case=False)

        newest, asked = entries.last_entry(books, None), questions.question(books, question)
        assert newest is not None
        assert asked is not None
        assert (newest.summary, asked.payload) == (left, "[null, true, 7]")
    assert [queued.post.text for queued in outbox.waiting(database, "harbour")] == [left]


def test_what_is_not_reworded_are_texts() -> None:
    columns = [column for table in metadata.sorted_tables for column in table.c if isinstance(column.type, Text)]

    assert all(any(column is one for one in columns) for column in (*NAMES, *CODES))


def hester(books: Books) -> None:
    """Hester, of whom others spoke, and Hes, who writes: each owes, holds, and has entered something."""
    for name, key in (("Hester", None), ("Hes", "key 4")):
        group.member(books, name, key)
    entry = entries.new_entry(books, "Hes", AT, "Hes: 24 pencils")
    stock.move(books, entry, Move("pencil", "Hes", 24, Why.HAD, DAY))
    stock.move(books, entry, Move("pencil", "Hester", 12, Why.HAD, DAY))
    ledger.post(books, entry, postings_of_payment(Payment("Mei", "Hester", 420)))
    ledger.post(books, entry, postings_of_debt(Debt("Hes", "Mei", 150)))


def test_joined_names_are_one_member(filled: Database) -> None:
    others = group_rows(filled, "quarry")
    with filled.open("harbour") as books:
        hester(books)
        before = ledger.balances(books)
        join(books, "Hester", "Hes", "Hester")

        assert ledger.balances(books) == added_up(books)
        assert ledger.balances(books)["Hester"] == before["Hester"] + before["Hes"] == -570
        assert stock.held(books, "pencil")["Hester"] == 36
        assert group.load_group(books).members == ("Mei", "Tobias", "Hester")
        assert group.member(books, "Hes", "key 4") == "Hester"
        newest = entries.last_entry(books, "Hester")
        assert newest is not None
        assert newest.summary == "Hester: 24 pencils"
    assert group_rows(filled, "quarry") == others


def test_whoever_is_joined_may_keep_their_name(filled: Database) -> None:
    with filled.open("harbour") as books:
        hester(books)
        join(books, "Hester", "Hes", "Hes")

        assert group.load_group(books).members == ("Mei", "Tobias", "Hes")
        assert "Hes" in with_account(books)


def test_every_reference_moves(filled: Database) -> None:
    with filled.open("harbour") as books:
        group.member(books, "Hes", "key 4")
        before = {column: of(books, "Mei", column) for column in references_to_members()}
        join(books, "Mei", "Hes", "Mei")

        assert len(before) >= 12
        assert {column: of(books, "Mei", column) for column in before} == before


def of(books: Books, name: str, column: Column[Any]) -> int:
    """How many rows refer to a member in a column."""
    theirs = select(members.c.id).where(members.c.group_id == books.group_id, members.c.name == name).scalar_subquery()
    return int(books.connection.execute(select(func.count()).where(column == theirs)).scalar_one())


def test_no_table_holds_one_row_for_each_member() -> None:
    """Else joining two of them would clash."""
    to_members = references_to_members()
    tables = metadata.sorted_tables
    unique = [one.columns for table in tables for one in table.constraints if isinstance(one, UniqueConstraint)]
    unique += [one.columns for table in tables for one in table.indexes if one.unique]

    assert not any(column is other for columns in unique for column in columns for other in to_members)


def test_both_have_asked_for_some(filled: Database) -> None:
    with filled.open("harbour") as books:
        hester(books)
        entry = entries.new_entry(books, "Mei", AT, "offers")
        shares.add_offer(books, entry, Offer(replace(CASE, item="notebook")))
        [of_pencils, of_notebooks] = [one.number for one in shares.open_splits(books)]
        shares.add_claim(books, entry, of_pencils, Wanted("Hes", 12))
        shares.add_claim(books, entry, of_notebooks, Wanted("Hester", 12))
        assert both_claimed(books, "Hes", "Hester") == []

        shares.add_claim(books, entry, of_notebooks, Wanted("Hes", 0))
        assert both_claimed(books, "Hes", "Hester") == ["notebook"]
        shares.call_off(books, entry, of_notebooks)
        assert both_claimed(books, "Hes", "Hester") == []
