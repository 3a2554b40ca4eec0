"""Migrations: an empty database becomes what the tables say, once, and no newer one is touched."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest
from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import inspect, text

from bot.storage import kits, migrating, stock
from bot.storage.books import Database, DatabaseTroubleError
from bot.storage.tables import groups
from core.stock import Lot


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


BEFORE = (
    "INSERT INTO groups (id, name, currency, timezone, country, rounding) VALUES (1, 'Old', 'USD', 'UTC', 'US', 'up')",
    "INSERT INTO chats (chat, group_id) VALUES ('old', 1)",
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
