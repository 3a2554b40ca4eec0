"""The books as they began: group, prices, questions and outbox."""

from __future__ import annotations

from typing import Any

import sqlalchemy as sa
from alembic import op

from bot.storage.migrations.shapes import NUMBER, own

revision = "0001"
down_revision = None

_LIVE: dict[str, Any] = {"sqlite_where": sa.text("live = 1"), "postgresql_where": sa.text("live")}


def upgrade() -> None:
    """Take the step."""
    _groups()
    _chats()
    _kits()
    _members()
    _stores()
    _taken()
    _entries()
    _questions()
    _items()
    _outbox()
    _aliases()
    _kit_lines()
    _notes()
    _price_points()
    _purchases()
    _sightings()


def _id() -> sa.Column[int]:
    return sa.Column("id", NUMBER, primary_key=True)


def _group_id() -> sa.Column[int]:
    return sa.Column("group_id", NUMBER, nullable=False)


def _group() -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint(["group_id"], ["groups.id"])


def _referable() -> sa.UniqueConstraint:
    return sa.UniqueConstraint("group_id", "id")


def _where(condition: str) -> dict[str, Any]:
    return {"sqlite_where": sa.text(condition), "postgresql_where": sa.text(condition)}


def _groups() -> None:
    op.create_table(
        "groups",
        _id(),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("currency", sa.Text(), nullable=False),
        sa.Column("timezone", sa.Text(), nullable=False),
        sa.Column("country", sa.Text(), nullable=False),
        sa.Column("rounding", sa.Text(), nullable=False),
        sa.Column("names_version", sa.Integer(), server_default="0", nullable=False),
    )


def _chats() -> None:
    op.create_table(
        "chats",
        sa.Column("chat", sa.Text(), nullable=False),
        _group_id(),
        _group(),
        sa.PrimaryKeyConstraint("chat"),
    )


def _kits() -> None:
    op.create_table(
        "kits",
        _id(),
        _group_id(),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("goal", sa.Integer()),
        sa.Column("due", sa.Date()),
        _group(),
        _referable(),
        sa.UniqueConstraint("group_id", "name"),
    )


def _members() -> None:
    op.create_table(
        "members",
        _id(),
        _group_id(),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("key", sa.Text()),
        _group(),
        _referable(),
        sa.UniqueConstraint("group_id", "key"),
        sa.UniqueConstraint("group_id", "name"),
    )


def _stores() -> None:
    op.create_table(
        "stores",
        _id(),
        _group_id(),
        sa.Column("name", sa.Text(), nullable=False),
        _group(),
        _referable(),
        sa.UniqueConstraint("group_id", "name"),
    )


def _taken() -> None:
    op.create_table(
        "taken",
        _group_id(),
        sa.Column("ref", sa.Text(), nullable=False),
        _group(),
        sa.PrimaryKeyConstraint("group_id", "ref"),
        sqlite_with_rowid=False,
    )


def _entries() -> None:
    op.create_table(
        "entries",
        _id(),
        _group_id(),
        sa.Column("member_id", NUMBER, nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("summary", sa.Text(), nullable=False),
        sa.Column("undone_by", NUMBER),
        sa.Column("undone_at", sa.DateTime(timezone=True)),
        own("member_id", "members"),
        own("undone_by", "members"),
        _referable(),
    )
    op.create_index("entries_standing", "entries", ["group_id", "member_id", "id"], **_where("undone_at IS NULL"))


def _questions() -> None:
    op.create_table(
        "questions",
        _id(),
        _group_id(),
        sa.Column("member_id", NUMBER, nullable=False),
        sa.Column("asked_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("payload", sa.Text(), nullable=False),
        sa.Column("answered", sa.Boolean(), nullable=False),
        own("member_id", "members"),
        _referable(),
    )
    op.create_index(
        "questions_open",
        "questions",
        ["group_id", "member_id", "id"],
        sqlite_where=sa.text("answered = 0"),
        postgresql_where=sa.text("NOT answered"),
    )


def _items() -> None:
    op.create_table(
        "items",
        _id(),
        _group_id(),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("live", sa.Boolean(), nullable=False),
        sa.Column("entry_id", NUMBER),
        own("entry_id", "entries"),
        _group(),
        _referable(),
        sa.UniqueConstraint("group_id", "name"),
    )


def _outbox() -> None:
    op.create_table(
        "outbox",
        _id(),
        _group_id(),
        sa.Column("chat", sa.Text(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("post", sa.Text(), nullable=False),
        sa.Column("entry_id", NUMBER),
        sa.Column("question_id", NUMBER),
        sa.Column("ref", sa.Text()),
        sa.Column("sent_at", sa.DateTime(timezone=True)),
        sa.ForeignKeyConstraint(["chat"], ["chats.chat"]),
        own("entry_id", "entries"),
        own("question_id", "questions"),
        _group(),
    )
    op.create_index("outbox_delivered", "outbox", ["group_id", "chat", "ref"], **_where("ref IS NOT NULL"))
    op.create_index("outbox_waiting", "outbox", ["chat", "id"], **_where("sent_at IS NULL"))


def _aliases() -> None:
    op.create_table(
        "aliases",
        _id(),
        _group_id(),
        sa.Column("item_id", NUMBER, nullable=False),
        sa.Column("alias", sa.Text(), nullable=False),
        sa.Column("live", sa.Boolean(), nullable=False),
        sa.Column("entry_id", NUMBER),
        own("entry_id", "entries"),
        own("item_id", "items"),
    )
    op.create_index("aliases_of_entry", "aliases", ["group_id", "entry_id"])
    op.create_index("aliases_of_item", "aliases", ["group_id", "item_id"], **_LIVE)


def _kit_lines() -> None:
    op.create_table(
        "kit_lines",
        _group_id(),
        sa.Column("kit_id", NUMBER, nullable=False),
        sa.Column("item_id", NUMBER, nullable=False),
        sa.Column("count", sa.Integer(), sa.CheckConstraint("count > 0", "count"), nullable=False),
        own("item_id", "items"),
        own("kit_id", "kits"),
        sa.PrimaryKeyConstraint("group_id", "kit_id", "item_id"),
    )


def _notes() -> None:
    op.create_table(
        "notes",
        _id(),
        _group_id(),
        sa.Column("item_id", NUMBER, nullable=False),
        sa.Column("entry_id", NUMBER, nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("live", sa.Boolean(), nullable=False),
        own("entry_id", "entries"),
        own("item_id", "items"),
    )
    op.create_index("notes_of_entry", "notes", ["group_id", "entry_id"])
    op.create_index("notes_of_item", "notes", ["group_id", "item_id", "day", "id"], **_LIVE)


def _price_points() -> None:
    op.create_table(
        "price_points",
        _id(),
        _group_id(),
        sa.Column("item_id", NUMBER, nullable=False),
        sa.Column("target", sa.Text(), comment="minor units for one unit"),
        sa.Column("limit", sa.Text(), comment="minor units for one unit"),
        sa.Column("live", sa.Boolean(), nullable=False),
        sa.Column("entry_id", NUMBER),
        own("entry_id", "entries"),
        own("item_id", "items"),
    )
    op.create_index("price_points_of_entry", "price_points", ["group_id", "entry_id"])
    op.create_index("price_points_of_item", "price_points", ["group_id", "item_id", "id"], **_LIVE)


def _purchases() -> None:
    op.create_table(
        "purchases",
        _id(),
        _group_id(),
        sa.Column("item_id", NUMBER, nullable=False),
        sa.Column("store_id", NUMBER),
        sa.Column("entry_id", NUMBER, nullable=False),
        sa.Column("buyer_id", NUMBER, nullable=False),
        sa.Column("count", sa.Integer(), sa.CheckConstraint("count > 0", "count"), nullable=False),
        sa.Column("price", sa.BigInteger(), sa.CheckConstraint("price >= 0", "price"), nullable=False),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("live", sa.Boolean(), nullable=False),
        own("buyer_id", "members"),
        own("entry_id", "entries"),
        own("item_id", "items"),
        own("store_id", "stores"),
    )
    op.create_index("purchases_of_entry", "purchases", ["group_id", "entry_id"])
    op.create_index("purchases_of_item", "purchases", ["group_id", "item_id", "live"])


def _sightings() -> None:
    op.create_table(
        "sightings",
        _id(),
        _group_id(),
        sa.Column("item_id", NUMBER, nullable=False),
        sa.Column("store_id", NUMBER),
        sa.Column("entry_id", NUMBER, nullable=False),
        sa.Column("count", sa.Integer(), sa.CheckConstraint("count > 0", "count"), nullable=False),
        sa.Column("price", sa.BigInteger(), sa.CheckConstraint("price >= 0", "price"), nullable=False),
        sa.Column("regular", sa.BigInteger()),
        sa.Column("until", sa.Date()),
        sa.Column("pack_limit", sa.Integer()),
        sa.Column("seen_on", sa.Date(), nullable=False),
        sa.Column("month", sa.Integer(), nullable=False, comment="year * 12 + month - 1 of seen_on"),
        sa.Column("unit_price", sa.Double(), nullable=False, comment="only for order"),
        sa.Column("marked_down", sa.Boolean(), nullable=False),
        sa.Column("live", sa.Boolean(), nullable=False),
        own("entry_id", "entries"),
        own("item_id", "items"),
        own("store_id", "stores"),
    )
    of_item = ["group_id", "item_id", "live"]
    lowest_first: list[str | sa.TextClause] = ["unit_price", sa.text("seen_on DESC"), sa.text("id DESC")]
    newest_last = ["seen_on", "id"]
    op.create_index("sightings_lowest", "sightings", [*of_item, *lowest_first])
    op.create_index("sightings_lowest_of_month", "sightings", [*of_item, "month", *lowest_first])
    op.create_index("sightings_newest", "sightings", [*of_item, "marked_down", *newest_last, "price", "count"])
    op.create_index("sightings_of_store", "sightings", [*of_item, "store_id", *newest_last])
    op.create_index("sightings_of_entry", "sightings", ["group_id", "entry_id"])
