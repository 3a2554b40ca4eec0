"""Migrations: an empty database becomes what the tables say, once, and no newer one is touched."""

from __future__ import annotations

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import inspect, text

from bot.storage import migrating
from bot.storage.books import Database, DatabaseTroubleError
from bot.storage.tables import groups


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
