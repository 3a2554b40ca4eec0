"""The stock book: what is said of kits, why units come and go, plans to buy, hazards, budget and sale windows."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

from bot.storage.migrations.shapes import NUMBER, own, refers, said, text

revision = "0003"
down_revision = "0002"


def upgrade() -> None:
    """Take the step; what was said of kits and stock before is kept."""
    _kits()
    _stock_moves()
    _of_kits("packings", refers("member_id"), _count("count > 0"), _day("day"), own("member_id", "members"))
    _reservations()
    said("hazards", refers("item_id"), text("hazard"), own("item_id", "items"))
    said("not_packed", text("name"), sa.Column("lifted", sa.Boolean(), nullable=False))
    said("budgets", _amount())
    _sale_windows()


def _kits() -> None:
    counted = sa.Column("count", sa.Integer(), sa.CheckConstraint("count >= 0", "count"), nullable=False)
    _of_kits("kit_contents", refers("item_id"), counted, own("item_id", "items"), needed=False)
    _of_kits("kit_goals", sa.Column("goal", sa.Integer()), sa.Column("due", sa.Date()), needed=False)
    years = sa.Column("low", sa.Integer(), nullable=False, comment="years")
    _of_kits("kit_ages", years, sa.Column("high", sa.Integer(), comment="years"), needed=False)
    _of_kits("kit_costs", text("what"), _amount(), needed=False)
    op.execute(
        "INSERT INTO kit_contents (group_id, kit_id, item_id, count, live)"
        " SELECT group_id, kit_id, item_id, count, true FROM kit_lines ORDER BY kit_id, item_id"
    )
    op.execute(
        "INSERT INTO kit_goals (group_id, kit_id, goal, due, live)"
        " SELECT group_id, id, goal, due, true FROM kits ORDER BY id"
    )
    op.drop_table("kit_lines")
    op.drop_column("kits", "goal")
    op.drop_column("kits", "due")


def _stock_moves() -> None:
    """Make the table anew, for SQLite adds no references; the moves so far were purchases and shared cases."""
    op.execute("CREATE TABLE moves_before AS SELECT * FROM stock_moves")
    op.drop_table("stock_moves")
    said(
        "stock_moves",
        refers("item_id"),
        refers("member_id"),
        sa.Column("units", sa.Integer(), nullable=False, comment="above zero came to the member"),
        text("why"),
        _day("day"),
        sa.Column("place", sa.Text()),
        sa.Column("kit_id", NUMBER, comment="what the units were packed into"),
        own("item_id", "items"),
        own("member_id", "members"),
        own("kit_id", "kits"),
        needed=True,
    )
    op.create_index("stock_moves_of_item", "stock_moves", ["group_id", "item_id", "live", "member_id"])
    op.execute(
        "INSERT INTO stock_moves (group_id, item_id, member_id, entry_id, units, live, why, day)"
        " SELECT m.group_id, m.item_id, m.member_id, m.entry_id, m.units, m.live,"
        " CASE WHEN p.id IS NULL THEN 'shared' ELSE 'bought' END, COALESCE(p.day, DATE(e.made_at))"
        " FROM moves_before m"
        " JOIN entries e ON e.group_id = m.group_id AND e.id = m.entry_id"
        " LEFT JOIN purchases p ON p.group_id = m.group_id AND p.entry_id = m.entry_id AND p.item_id = m.item_id"
        " AND p.buyer_id = m.member_id AND p.count = m.units"
        " ORDER BY m.id"
    )
    op.drop_table("moves_before")


def _reservations() -> None:
    said(
        "reservations",
        refers("item_id"),
        refers("member_id"),
        sa.Column("units", sa.Integer(), sa.CheckConstraint("units >= 0", "units"), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        own("item_id", "items"),
        own("member_id", "members"),
        needed=True,
    )


def _sale_windows() -> None:
    op.create_table(
        "sale_windows",
        sa.Column("id", NUMBER, primary_key=True),
        refers("group_id"),
        text("name"),
        _day("starts"),
        _day("ends"),
        sa.Column("off", sa.Text(), nullable=False, comment="the share of the regular price it usually takes off"),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"]),
    )


def _of_kits(name: str, *columns: Any, needed: bool = True) -> None:
    said(name, refers("kit_id"), *columns, own("kit_id", "kits"), needed=needed)


def _day(column: str) -> sa.Column[Any]:
    return sa.Column(column, sa.Date(), nullable=False)


def _count(check: str) -> sa.Column[int]:
    return sa.Column("count", sa.Integer(), sa.CheckConstraint(check, "count"), nullable=False)


def _amount() -> sa.Column[int]:
    return sa.Column("amount", sa.BigInteger(), sa.CheckConstraint("amount >= 0", "amount"), nullable=False)
