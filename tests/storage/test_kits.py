"""What is said of kits and plans, on both databases: the newest word counts until it is taken back."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time
from fractions import Fraction

import pytest

from bot.storage import entries, group, kits
from bot.storage.books import Books, Database
from core.cautions import Ages, Hazard
from core.day_rules import NAMED, DayRule, Fixed, NthWeekday
from core.group import Group, Kit, Quiet, Settings, Weekly
from core.items import Item
from core.money import currency
from core.windows import Markdown, WindowRule

AT = datetime(2026, 8, 3, 10, 15, tzinfo=UTC)
DUE = date(2026, 11, 14)
CLEARANCE = WindowRule(
    "attic sale",
    DayRule(NthWeekday(-1, 5, 9)),
    9,
    DayRule(Fixed(10, 5), -2),
    (Markdown(0, Fraction(1, 3)), Markdown(3, Fraction(3, 4))),
    ("yo-yo", "wind-up toy"),
    ("attic",),
)
CHOSEN = Settings(
    currency("EUR"),
    quiet=Quiet(time(21), time(8, 30)),
    summary=Weekly(4, time(17, 15)),
    alerts_a_day=0,
    lead_days=10,
    season_starts=(1, 2),
)
FULL = Group(
    "Quarry Street",
    CHOSEN,
    ("Mei",),
    (),
    (Item("yo-yo", hazards=frozenset((Hazard.CORDS, Hazard.SMALL_PARTS))), Item("comb")),
    (Kit("play box", 60, DUE, {"comb": 1, "yo-yo": 2}, Ages(3, 6), {"carton": 60}), Kit("wash bag")),
    ("balloon", "toy weapon"),
    60_000,
    (CLEARANCE, replace(CLEARANCE, name="Easter clearance", starts=DayRule(NAMED["Easter"], 1), ends=None, on=False)),
    ("Mei",),
)


def entry(books: Books) -> int:
    return entries.new_entry(books, "Mei", AT, "an entry")


def test_a_group_with_all_of_it_loads_as_founded(database: Database) -> None:
    database.found("quarry", FULL)

    with database.open("quarry") as books:
        assert group.load_group(books) == FULL


def test_the_newest_word_on_a_line_counts(books: Books) -> None:
    first, last = entry(books), entry(books)
    kits.set_contents(books, first, "school pouch", "pencil", 6)
    kits.set_contents(books, last, "school pouch", "pencil", 0)

    assert kits.load_kits(books)[0].contents == {"notebook": 1}
    entries.undo(books, last, "Mei", AT)
    assert kits.load_kits(books)[0].contents == {"pencil": 6, "notebook": 1}
    entries.undo(books, first, "Mei", AT)
    assert kits.load_kits(books)[0].contents == {"pencil": 4, "notebook": 1}


def test_a_new_kit_lives_as_long_as_something_said_of_it(books: Books) -> None:
    number = entry(books)
    kits.set_contents(books, number, "bath pouch", "pencil", 1)

    assert [kit.name for kit in kits.load_kits(books)] == ["school pouch", "bath pouch"]
    entries.undo(books, number, "Mei", AT)
    assert [kit.name for kit in kits.load_kits(books)] == ["school pouch"]


def test_goals_ages_and_costs_come_back_as_said(books: Books) -> None:
    number = entry(books)
    kits.set_goal(books, number, "school pouch", 150, date(2027, 11, 13))
    kits.set_ages(books, number, "school pouch", Ages(10, None))
    kits.set_cost(books, number, "school pouch", "carton", 60)
    kits.set_cost(books, number, "school pouch", "ribbon", 12)
    kits.set_cost(books, number, "school pouch", "ribbon", 0)

    [kit] = kits.load_kits(books)
    assert (kit.goal, kit.by, kit.ages, kit.costs) == (150, date(2027, 11, 13), Ages(10, None), {"carton": 60})


def test_what_is_not_packed_may_be_lifted(books: Books) -> None:
    lifted = entry(books)
    kits.bar(books, entry(books), "balloon")
    kits.bar(books, lifted, "balloon", lifted=True)

    assert kits.barred(books) == ()
    entries.undo(books, lifted, "Mei", AT)
    assert kits.barred(books) == ("balloon",)


def test_the_newest_budget_counts(books: Books) -> None:
    assert kits.budget(books) is None

    last = entry(books)
    kits.set_budget(books, entry(books), 60_000)
    kits.set_budget(books, last, 70_000)

    assert kits.budget(books) == 70_000
    entries.undo(books, last, "Mei", AT)
    assert kits.budget(books) == 60_000


def test_a_flag_stands_until_taken_back(books: Books) -> None:
    number = entry(books)
    kits.flag(books, number, "pencil", Hazard.SHARP_POINTS)

    assert kits.flagged(books) == {"pencil": frozenset((Hazard.SHARP_POINTS,))}
    entries.undo(books, number, "Mei", AT)
    assert kits.flagged(books) == {}


def test_an_item_in_a_kit_outlives_the_entry_that_brought_it(books: Books) -> None:
    brought = entry(books)
    group.add_item(books, brought, "yo-yo")
    kits.set_contents(books, entry(books), "school pouch", "yo-yo", 1)

    entries.undo(books, brought, "Mei", AT)

    assert group.load_group(books).item("yo-yo")


def test_a_group_without_quiet_or_summary_loads_so(database: Database) -> None:
    silent = replace(FULL, settings=replace(CHOSEN, quiet=None, summary=None, season_starts=None))
    database.found("quarry", silent)

    with database.open("quarry") as books:
        assert group.load_group(books) == silent


def test_every_word_changes_the_names_version(books: Books) -> None:
    before = group.names_version(books)
    kits.set_goal(books, entry(books), "school pouch", 150, DUE)

    assert group.names_version(books) > before


def test_an_unknown_item_cannot_go_into_a_kit(books: Books) -> None:
    with pytest.raises(KeyError):
        kits.set_contents(books, entry(books), "school pouch", "anvil", 1)
