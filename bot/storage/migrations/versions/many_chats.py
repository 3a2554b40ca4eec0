"""Chats: several of one group, what has arrived from them and is not heard yet, what each message brought, photos."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from bot.storage.migrations.shapes import NUMBER, own, refers, text

revision = "0005"
down_revision = "0004"


def upgrade() -> None:
    """Take the step; the one chat that a group had so far is the one it speaks up in."""
    _chats()
    _taken()
    op.create_table(
        "arrivals",
        sa.Column(
            "number",
            sa.BigInteger(),
            primary_key=True,
            autoincrement=False,
            comment="the transport's own, in its order",
        ),
        text("chat"),
        text("written"),
        sa.Column("failed_at", sa.DateTime(timezone=True), comment="when the clerk could make nothing of it"),
    )
    op.create_index("arrivals_of_chat", "arrivals", ["chat", "number"])
    op.create_table(
        "photos",
        sa.Column("id", NUMBER, primary_key=True),
        refers("group_id"),
        refers("entry_id"),
        sa.Column("photo", sa.Text(), nullable=False, comment="the transport's own key of it"),
        own("entry_id", "entries"),
    )
    op.create_index("photos_of_entry", "photos", ["group_id", "entry_id"])


def _chats() -> None:
    op.add_column("groups", sa.Column("home", sa.Text(), comment="the chat in which the clerk speaks up by itself"))
    op.execute("UPDATE groups SET home = (SELECT min(chat) FROM chats WHERE chats.group_id = groups.id)")
    op.add_column("chats", sa.Column("talk", sa.Text(), comment="what a word said next may refer to"))
    op.execute("UPDATE chats SET talk = (SELECT talk FROM groups WHERE groups.id = chats.group_id)")
    op.drop_column("groups", "talk")
    op.add_column(
        "chats",
        sa.Column("silent_since", sa.DateTime(timezone=True), comment="when the clerk was removed from the chat"),
    )
    op.create_index("chats_of_group", "chats", ["group_id"])


def _taken() -> None:
    """What was taken, by chat: another chat of the same group numbers its messages anew."""
    op.create_table(
        "taken_by_chat",
        sa.Column("chat", sa.Text(), primary_key=True),
        sa.Column("ref", sa.Text(), primary_key=True),
        refers("group_id"),
        sa.Column("entry_id", NUMBER, comment="what the message put into the books"),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"]),
        own("entry_id", "entries"),
        sqlite_with_rowid=False,
    )
    op.execute(
        "INSERT INTO taken_by_chat (chat, ref, group_id)"
        " SELECT groups.home, taken.ref, taken.group_id FROM taken JOIN groups ON groups.id = taken.group_id"
    )
    op.drop_table("taken")
    op.rename_table("taken_by_chat", "taken")
