"""Splits on both databases: claims, closing, calling off, what rests on what, and what is due."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from bot.storage import entries, ledger, prices, shares, stock
from bot.storage.books import Books, Database
from core.prices import Purchase
from core.shares import Case, Offer, Split, Standing, State, Wanted, parts_of

AT = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)
DAY = AT.date()
PENCILS = Case("pencil", 144, 720, "Mei", "Larkmoor Market")
FRIDAY = AT + timedelta(days=4)


def entry(books: Books, by: str = "Mei") -> int:
    return entries.new_entry(books, by, AT, "an entry")


def offered(books: Books, offer: Offer | None = None) -> Standing:
    """An open split, as the books have it."""
    number = entry(books)
    shares.add_offer(books, number, offer or Offer(PENCILS))
    found = shares.opened_in(books, number)
    assert found is not None
    return found


def claims(books: Books, standing: Standing, member: str, units: int) -> int:
    """A claim under an entry of its own; its number."""
    number = entry(books, member)
    shares.add_claim(books, number, standing.number, Wanted(member, units))
    return number


def closes(books: Books, standing: Standing) -> int:
    """Share out a split as its claims stand; the entry's number."""
    now = shares.standing(books, standing.number)
    assert now is not None
    number = entry(books)
    shares.share_out(books, number, standing.number, Split(now.case, now.parts(), DAY))
    return number


def test_an_offer_comes_back_as_it_was_made(books: Books) -> None:
    found = offered(books, Offer(PENCILS, 100, FRIDAY))

    assert found.offer == Offer(PENCILS, 100, FRIDAY)
    assert (found.by, found.taken, found.state) == ("Mei", (), State.OPEN)
    assert shares.open_splits(books) == [found]


def test_the_newest_claim_of_a_member_counts(books: Books) -> None:
    found = offered(books)
    claims(books, found, "Tobias", 24)
    claims(books, found, "Mei", 12)
    claims(books, found, "Tobias", 36)

    [standing] = shares.open_splits(books)
    assert standing.taken == (Wanted("Tobias", 36), Wanted("Mei", 12))


def test_a_member_who_let_go_joins_anew(books: Books) -> None:
    found = offered(books)
    for member, units in (("Tobias", 24), ("Mei", 12), ("Tobias", 0), ("Tobias", 6)):
        claims(books, found, member, units)

    [standing] = shares.open_splits(books)
    assert standing.taken == (Wanted("Mei", 12), Wanted("Tobias", 6))


def test_a_claim_taken_back_brings_the_one_before(books: Books) -> None:
    found = offered(books)
    claims(books, found, "Tobias", 24)
    entries.undo(books, claims(books, found, "Tobias", 36), "Tobias", AT)

    [standing] = shares.open_splits(books)
    assert standing.taken == (Wanted("Tobias", 24),)


def test_sharing_out_books_parts_and_units(books: Books) -> None:
    found = offered(books)
    claims(books, found, "Tobias", 24)
    closes(books, found)

    # 7.20 / 144 is 5 cents: 24 are 1.20
    assert ledger.balances(books) == {"Mei": 120, "Tobias": -120}
    assert stock.held(books, "pencil") == {"Mei": -24, "Tobias": 24}
    assert shares.open_splits(books) == []


def test_a_closing_taken_back_opens_it_again_without_its_time(books: Books) -> None:
    found = offered(books, Offer(PENCILS, None, FRIDAY))
    claims(books, found, "Tobias", 24)
    entries.undo(books, closes(books, found), "Mei", AT)

    [standing] = shares.open_splits(books)
    assert standing.offer == Offer(PENCILS)
    assert ledger.balances(books) == {}
    assert stock.held(books, "pencil") == {}


def test_called_off_is_open_no_more(books: Books) -> None:
    found = offered(books)
    number = entry(books)
    shares.call_off(books, number, found.number)
    assert shares.open_splits(books) == []

    entries.undo(books, number, "Mei", AT)

    assert [one.number for one in shares.open_splits(books)] == [found.number]


def test_an_offer_taken_back_is_gone(books: Books) -> None:
    found = offered(books)
    entries.undo(books, found.entry, "Mei", AT)

    assert shares.open_splits(books) == []


def test_claims_and_offer_rest_under_the_closing(books: Books) -> None:
    found = offered(books)
    claim = claims(books, found, "Tobias", 24)
    assert shares.resting_on(books, claim) is None
    closing = closes(books, found)

    assert shares.resting_on(books, claim) == closing
    assert shares.resting_on(books, found.entry) == closing
    assert shares.resting_on(books, closing) is None


def test_a_purchase_rests_under_its_split(books: Books) -> None:
    bought = entry(books)
    prices.add_purchase(books, bought, Purchase("pencil", 144, 720, DAY, "Mei", "Larkmoor Market"))
    assert not shares.is_split(books, bought, "pencil")
    number = entry(books)
    shares.add_split(books, number, Split(PENCILS, parts_of(PENCILS, [Wanted("Tobias", 24)]), DAY), bought)

    assert shares.is_split(books, bought, "pencil")
    assert shares.resting_on(books, bought) == number
    assert stock.held(books, "pencil") == {"Mei": 120, "Tobias": 24}

    entries.undo(books, number, "Mei", AT)

    assert not shares.is_split(books, bought, "pencil")
    assert shares.resting_on(books, bought) is None
    assert stock.held(books, "pencil") == {"Mei": 144}


def test_what_closed_lately_comes_with_its_entry(books: Books) -> None:
    found = offered(books)
    claims(books, found, "Tobias", 24)
    closing = closes(books, found)

    [(standing, number)] = shares.closed_since(books, AT)
    assert (standing.number, standing.state, number) == (found.number, State.SHARED, closing)
    assert shares.closed_since(books, AT + timedelta(days=1)) == []


def test_what_is_due_is_told_once_its_time_has_come(database: Database) -> None:
    with database.open("harbour") as books:
        late = offered(books, Offer(PENCILS, None, FRIDAY))
        early = offered(books, Offer(PENCILS, None, FRIDAY - timedelta(days=1)))
        offered(books, Offer(PENCILS))

    assert shares.due(database, FRIDAY - timedelta(days=2)) == []
    assert [one.number for one in shares.due(database, FRIDAY)] == [early.number, late.number]
    assert {one.chat for one in shares.due(database, FRIDAY)} == {"harbour"}

    with database.open("harbour") as books:
        shares.keep_open(books, early.number)

    assert [one.number for one in shares.due(database, FRIDAY)] == [late.number]


def test_a_new_shop_of_a_case_is_learnt(books: Books) -> None:
    assert offered(books, Offer(replace(PENCILS, store="Dunmore Depot"))).case.store == "Dunmore Depot"


def test_an_unknown_payer_is_refused(books: Books) -> None:
    with pytest.raises(KeyError, match="Rosa"):
        offered(books, Offer(replace(PENCILS, payer="Rosa")))
