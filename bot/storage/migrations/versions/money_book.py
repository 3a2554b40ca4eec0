"""The money book: splits with their claims and parts, the ledger, and what came to whom."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

from bot.storage.migrations.shapes import NUMBER, own, refers

revision = "0002"
down_revision = "0001"

_OPEN = "shared_by IS NULL AND called_off_by IS NULL"


def upgrade() -> None:
    """Take the step."""
    op.add_column("groups", sa.Column("tax_rate", sa.Text(), comment="percent of a price"))
    comment = "the sum of the member's postings"
    op.add_column("members", sa.Column("balance", sa.BigInteger(), nullable=False, server_default="0", comment=comment))
    # SQLite takes no new constraint; a unique index lets a purchase be referred to all the same.
    op.create_index("purchases_once", "purchases", ["group_id", "id"], unique=True)
    _splits()
    _claims()
    _parts()
    _postings()
    _stock_moves()
    op.add_column("outbox", sa.Column("split_id", NUMBER, comment="the open split that the post shows"))
    where = sa.text("split_id IS NOT NULL")
    of_split: dict[str, Any] = {"sqlite_where": where, "postgresql_where": where}
    op.create_index("outbox_of_split", "outbox", ["group_id", "split_id", "id"], **of_split)


def _id() -> list[sa.Column[int]]:
    return [sa.Column("id", NUMBER, primary_key=True), sa.Column("group_id", NUMBER, nullable=False)]


def _live() -> sa.Column[bool]:
    return sa.Column("live", sa.Boolean(), nullable=False)


def _where(condition: str) -> dict[str, Any]:
    return {"sqlite_where": sa.text(f"live = 1 AND {condition}"), "postgresql_where": sa.text(f"live AND {condition}")}


def _splits() -> None:
    op.create_table(
        "splits",
        *_id(),
        refers("item_id"),
        sa.Column("store_id", NUMBER),
        refers("payer_id"),
        refers("entry_id"),
        sa.Column("count", sa.Integer(), sa.CheckConstraint("count > 0", "count"), nullable=False),
        sa.Column("total", sa.BigInteger(), sa.CheckConstraint("total >= 0", "total"), nullable=False),
        sa.Column("least", sa.Integer()),
        sa.Column("closes_at", sa.DateTime(timezone=True)),
        sa.Column("purchase_id", NUMBER, comment="the purchase it shares out"),
        sa.Column("shared_by", NUMBER, comment="the entry that booked its parts; empty while it is open"),
        sa.Column("called_off_by", NUMBER),
        _live(),
        own("item_id", "items"),
        own("store_id", "stores"),
        own("payer_id", "members"),
        own("entry_id", "entries"),
        own("purchase_id", "purchases"),
        own("shared_by", "entries"),
        own("called_off_by", "entries"),
        sa.UniqueConstraint("group_id", "id"),
    )
    op.create_index("splits_of_entry", "splits", ["group_id", "entry_id"])
    op.create_index("splits_open", "splits", ["group_id", "id"], **_where(_OPEN))
    op.create_index("splits_due", "splits", ["closes_at"], **_where(f"{_OPEN} AND closes_at IS NOT NULL"))


def _claims() -> None:
    op.create_table(
        "claims",
        *_id(),
        refers("split_id"),
        refers("member_id"),
        refers("entry_id"),
        sa.Column("units", sa.Integer(), sa.CheckConstraint("units >= 0", "units"), nullable=False),
        _live(),
        own("split_id", "splits"),
        own("member_id", "members"),
        own("entry_id", "entries"),
    )
    op.create_index("claims_of_split", "claims", ["group_id", "split_id", "id"])
    op.create_index("claims_of_entry", "claims", ["group_id", "entry_id"])


def _parts() -> None:
    op.create_table(
        "parts",
        *_id(),
        refers("split_id"),
        refers("member_id"),
        refers("entry_id"),
        sa.Column("units", sa.Integer(), sa.CheckConstraint("units > 0", "units"), nullable=False),
        sa.Column("amount", sa.BigInteger(), sa.CheckConstraint("amount >= 0", "amount"), nullable=False),
        _live(),
        own("split_id", "splits"),
        own("member_id", "members"),
        own("entry_id", "entries"),
    )
    op.create_index("parts_of_entry", "parts", ["group_id", "entry_id"])


def _postings() -> None:
    owed = "above zero is owed to the member"
    op.create_table(
        "postings",
        *_id(),
        refers("member_id"),
        refers("entry_id"),
        sa.Column("amount", sa.BigInteger(), nullable=False, comment=owed),
        sa.Column("reverses", sa.Boolean(), nullable=False, comment="made when its entry was taken back"),
        own("member_id", "members"),
        own("entry_id", "entries"),
    )
    op.create_index("postings_of_entry", "postings", ["group_id", "entry_id"])
    op.create_index("postings_of_member", "postings", ["group_id", "member_id", "id"])


def _stock_moves() -> None:
    op.create_table(
        "stock_moves",
        *_id(),
        refers("item_id"),
        refers("member_id"),
        refers("entry_id"),
        sa.Column("units", sa.Integer(), nullable=False, comment="above zero came to the member"),
        _live(),
        own("item_id", "items"),
        own("member_id", "members"),
        own("entry_id", "entries"),
    )
    op.create_index("stock_moves_of_entry", "stock_moves", ["group_id", "entry_id"])
    op.create_index("stock_moves_of_item", "stock_moves", ["group_id", "item_id", "live", "member_id"])
