"""What the tables of several steps are made of; a shape stays as it is, for steps once taken do not change."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

NUMBER = sa.BigInteger().with_variant(sa.Integer(), "sqlite")


def said(name: str, *columns: Any, needed: bool = False) -> None:
    """Make a table of things said under an entry or, unless one is ``needed``, with the founding of the group."""
    op.create_table(
        name,
        sa.Column("id", NUMBER, primary_key=True),
        refers("group_id"),
        *columns,
        sa.Column("entry_id", NUMBER, nullable=not needed),
        sa.Column("live", sa.Boolean(), nullable=False),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"]),
        own("entry_id", "entries"),
    )
    op.create_index(f"{name}_of_entry", name, ["group_id", "entry_id"])


def refers(column: str) -> sa.Column[int]:
    """A column with the number of a row."""
    return sa.Column(column, NUMBER, nullable=False)


def text(column: str) -> sa.Column[str]:
    """A column with words."""
    return sa.Column(column, sa.Text(), nullable=False)


def own(column: str, table: str) -> sa.ForeignKeyConstraint:
    """What a column refers to is a row of the same group."""
    return sa.ForeignKeyConstraint(["group_id", column], [f"{table}.group_id", f"{table}.id"])
