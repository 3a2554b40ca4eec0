"""The group's names: who speaks, shops, items, aliases, price points, and when the names have changed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from fractions import Fraction

import pytest

from bot.storage import entries, group, prices
from bot.storage.books import Books
from core.group import Group
from core.items import Item, Note, PricePoint
from core.prices import Sighting

AT = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)


@pytest.fixture
def entry(books: Books) -> int:
    return entries.new_entry(books, "Mei", AT, "12 pencils")


def test_settings_are_those_of_the_group(books: Books, packers: Group) -> None:
    assert group.settings(books) == packers.settings


def test_a_speaker_joins_the_listed_member(books: Books) -> None:
    assert group.member(books, "mei", "key 1") == "Mei"

    assert group.load_group(books).members == ("Mei", "Tobias")
    assert group.member(books, "Mei of Harbour Lane", "key 1") == "Mei"


def test_a_second_speaker_of_a_name_is_numbered(books: Books) -> None:
    group.member(books, "Mei", "key 1")

    assert group.member(books, "Mei", "key 2") == "Mei 2"
    assert group.member(books, "MEI", "key 3") == "MEI 3"

    assert group.member(books, "Mei", "key 2") == "Mei 2"


def test_a_speaker_without_key_goes_by_name(books: Books) -> None:
    group.member(books, "Mei", "key 1")

    assert group.member(books, "MEI", None) == "Mei"
    assert group.member(books, "Amara", None) == "Amara"
    assert group.member(books, "amara", None) == "Amara"


def test_a_name_beyond_ascii_joins_too(books: Books) -> None:
    group.member(books, "Élodie", None)

    assert group.member(books, "ÉLODIE", "key 1") == "Élodie"


def test_a_new_member_stands_last(books: Books) -> None:
    group.member(books, "Amara", "key 1")

    assert group.load_group(books).members == ("Mei", "Tobias", "Amara")


def test_a_store_is_added_once(books: Books) -> None:
    group.add_store(books, "Quarry Shop")
    group.add_store(books, "Quarry Shop")

    assert group.load_group(books).stores == ("corner store", "Larkmoor Market", "Quarry Shop")


def test_an_item_is_added_once(books: Books, entry: int) -> None:
    group.add_item(books, entry, "glue stick")
    group.add_item(books, entry, "glue stick")

    assert [item.name for item in group.load_group(books).items] == ["pencil", "notebook", "glue stick"]


def test_an_item_taken_back_can_return(books: Books, entry: int) -> None:
    group.add_item(books, entry, "glue stick")
    entries.undo(books, entry, "Mei", AT)
    assert group.load_group(books).item("glue stick") is None

    again = entries.new_entry(books, "Mei", AT, "glue stick")
    group.add_item(books, again, "glue stick")

    assert group.load_group(books).item("glue stick") == Item("glue stick")


def test_an_alias_is_added_once(books: Books, entry: int) -> None:
    group.add_alias(books, entry, "exercise book", "notebook")
    group.add_alias(books, entry, "exercise book", "notebook")

    assert group.load_group(books).item("notebook") == Item("notebook", ("exercise book",))


def test_the_newest_price_point_counts(books: Books, entry: int) -> None:
    group.set_price_point(books, entry, "pencil", PricePoint(Fraction(5), None))
    newest = PricePoint(Fraction(13, 3), Fraction(6))
    group.set_price_point(books, entry, "pencil", newest)

    assert group.price_point(books, "pencil") == newest
    assert group.load_group(books).items[0].price_point == newest


def test_an_item_without_price_point_has_an_empty_one(books: Books) -> None:
    assert group.price_point(books, "notebook") == PricePoint()
    assert group.price_point(books, "no such item") == PricePoint()


def test_an_unknown_item_takes_no_names(books: Books, entry: int) -> None:
    with pytest.raises(KeyError, match="anvil"):
        group.add_alias(books, entry, "block", "anvil")
    with pytest.raises(KeyError, match="anvil"):
        group.set_price_point(books, entry, "anvil", PricePoint(Fraction(5)))


CHANGES: dict[str, Callable[[Books, int], object]] = {
    "new member": lambda books, _: group.member(books, "Amara", "key 1"),
    "new store": lambda books, _: group.add_store(books, "Quarry Shop"),
    "new item": lambda books, entry: group.add_item(books, entry, "glue stick"),
    "new alias": lambda books, entry: group.add_alias(books, entry, "exercise book", "notebook"),
    "price point": lambda books, entry: group.set_price_point(books, entry, "pencil", PricePoint(Fraction(5))),
    "store of a sighting": lambda books, entry: prices.add_sighting(
        books, entry, Sighting("pencil", 12, 47, AT.date(), "Quarry Shop")
    ),
}
SAME: dict[str, Callable[[Books, int], object]] = {
    "known member": lambda books, _: group.member(books, "mei", "key 1"),
    "known store": lambda books, _: group.add_store(books, "corner store"),
    "known item": lambda books, entry: group.add_item(books, entry, "pencil"),
    "known alias": lambda books, entry: group.add_alias(books, entry, "no. 2 pencil", "pencil"),
    "known store of a sighting": lambda books, entry: prices.add_sighting(
        books, entry, Sighting("pencil", 12, 47, AT.date(), "corner store")
    ),
    "note": lambda books, entry: prices.add_note(books, entry, Note("pencil", "breaks", "Mei", AT.date())),
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_the_version_grows_with_the_names(books: Books, entry: int, change: Callable[[Books, int], object]) -> None:
    before, names = group.names_version(books), group.load_group(books)

    change(books, entry)

    assert group.load_group(books) != names
    assert group.names_version(books) > before


@pytest.mark.parametrize("change", SAME.values(), ids=SAME)
def test_the_version_stays_with_the_names(books: Books, entry: int, change: Callable[[Books, int], object]) -> None:
    before, names = group.names_version(books), group.load_group(books)

    change(books, entry)

    assert group.load_group(books) == names
    assert group.names_version(books) == before


def test_undoing_an_item_grows_the_version(books: Books, entry: int) -> None:
    group.add_item(books, entry, "glue stick")
    before = group.names_version(books)

    entries.undo(books, entry, "Mei", AT)

    assert group.names_version(books) > before
