"""Migrations: an empty database becomes what the tables say, once, and no newer one is touched."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import inspect, text

from bot import clock
from bot.storage import calendar, group, kits, migrating, stock, timed
from bot.storage.books import Database, DatabaseTroubleError
from bot.storage.tables import groups
from core.day_rules import DayRule, Fixed
from core.group import Group, Settings
from core.money import currency
from core.stock import Lot
from core.windows import Markdown, WindowRule


def test_migrations_make_the_tables_as_declared(database: Database) -> None:
    with database.transaction() as connection:
        context = MigrationContext.configure(connection, opts={"compare_server_default": True})

        assert compare_metadata(context, groups.metadata) == []


def test_constraints_are_those_declared(database: Database) -> None:
    with database.transaction() as connection:
        made = {table: inspect(connection).get_check_constraints(table) for table in groups.metadata.tables}

    checked = {"sightings", "purchases", "splits", "claims", "parts"} | {
        "kit_contents",
        "kit_costs",
        "packings",
        "reservations",
        "budgets",
        "window_rules",
        "alerts",
    }
    assert {table for table, checks in made.items() if checks} == checked


def test_migrating_again_changes_nothing(database: Database) -> None:
    database.migrate()

    assert database.knows("harbour")


def test_the_newest_step_is_the_one_named(database: Database) -> None:
    with database.transaction() as connection:
        steps = ScriptDirectory.from_config(migrating.configuration(connection))

        assert steps.get_heads() == [migrating.HEAD]
        assert migrating.version(connection) == migrating.HEAD


def test_a_newer_database_is_left_alone(database: Database) -> None:
    with database.transaction() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))

    with pytest.raises(DatabaseTroubleError, match="newer version of Packing Clerk"):
        database.migrate()


def test_kits_and_stock_of_an_older_database_are_kept(address: str) -> None:
    database = Database(address)
    with database.transaction() as connection:
        command.upgrade(migrating.configuration(connection), "0002")
        for statement in BEFORE:
            connection.execute(text(statement))

    database.migrate()

    with database.open("old") as books:
        [kit] = kits.load_kits(books)
        assert (kit.name, kit.goal, kit.by, kit.contents) == ("pouch", 120, date(2026, 11, 14), {"pencil": 4})
        assert stock.held(books, "pencil") == {"Mei": 8, "Ines": 4}
        assert stock.lots(books) == {"pencil": [Lot(12, Fraction(60))]}
        assert stock.draws(books) == []
    database.close()


def test_sale_windows_of_an_older_database_become_rules(address: str) -> None:
    database = Database(address)
    with database.transaction() as connection:
        command.upgrade(migrating.configuration(connection), "0003")
        for statement in (*FOUNDED, *DATED):
            connection.execute(text(statement))

    database.migrate()

    with database.open("old") as books:
        autumn, turn = calendar.windows(books)
        assert autumn == WindowRule(
            "attic sale", DayRule(Fixed(9, 1)), 1, DayRule(Fixed(9, 20)), (Markdown(0, Fraction(3, 4)),)
        )
        assert turn == WindowRule("turn-of-year sale", DayRule(Fixed(12, 26)), 1, DayRule(Fixed(1, 8)))
        sale = turn.in_year(2027, "US")
        assert sale is not None
        assert (sale.starts, sale.ends) == (date(2027, 12, 26), date(2028, 1, 8))
        assert set(calendar.windows(books)) < set(group.load_group(books).window_rules)
    database.close()


def test_a_group_of_before_has_the_usual_settings(address: str) -> None:
    database = Database(address)
    with database.transaction() as connection:
        command.upgrade(migrating.configuration(connection), "0003")
        for statement in FOUNDED:
            connection.execute(text(statement))

    database.migrate()

    with database.open("old") as books:
        assert group.load_group(books) == Group("Old", Settings(currency("USD")))
        assert timed.watch(books).posted_to is None
    assert timed.groups_due(database, clock.now() + timedelta(minutes=1)) == ["old"]
    database.close()


FOUNDED = (
    "INSERT INTO groups (id, name, currency, timezone, country, rounding) VALUES (1, 'Old', 'USD', 'UTC', 'US', 'up')",
    "INSERT INTO chats (chat, group_id) VALUES ('old', 1)",
)
DATED = (
    "INSERT INTO sale_windows (id, group_id, name, starts, ends, off)"
    " VALUES (1, 1, 'attic sale', '2026-09-01', '2026-09-20', '3/4'),"
    " (2, 1, 'turn-of-year sale', '2025-12-26', '2026-01-08', '1/2')",
)
"""The sale windows of the version before the calendar: days of one year."""
BEFORE = (
    *FOUNDED,
    "INSERT INTO members (id, group_id, name) VALUES (1, 1, 'Mei'), (2, 1, 'Ines')",
    "INSERT INTO entries (id, group_id, member_id, made_at, summary) VALUES (1, 1, 1, '2026-08-03 10:15:00', 'bought')",
    "INSERT INTO items (id, group_id, name, live) VALUES (1, 1, 'pencil', true)",
    "INSERT INTO kits (id, group_id, name, goal, due) VALUES (1, 1, 'pouch', 120, '2026-11-14')",
    "INSERT INTO kit_lines (group_id, kit_id, item_id, count) VALUES (1, 1, 1, 4)",
    "INSERT INTO purchases (id, group_id, item_id, entry_id, buyer_id, count, price, day, live)"
    " VALUES (1, 1, 1, 1, 1, 12, 60, '2026-08-03', true)",
    "INSERT INTO stock_moves (id, group_id, item_id, member_id, entry_id, units, live)"
    " VALUES (1, 1, 1, 1, 1, 12, true), (2, 1, 1, 1, 1, -4, true), (3, 1, 1, 2, 1, 4, true)",
)
"""Rows of the version before the stock book: a kit, a purchase, and a part of it shared."""
