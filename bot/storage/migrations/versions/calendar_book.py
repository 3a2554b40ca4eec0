"""The calendar: settings said in the chat, sale windows by rule, reminders, deal alerts, each group's clock."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

from bot.storage.migrations.shapes import NUMBER, own, refers, said, text

revision = "0004"
down_revision = "0003"

_MONTHS = "january february march april may june july august september october november december".split()


def upgrade() -> None:
    """Take the step; the sale windows of before become rules for the same days of every year."""
    op.add_column("groups", sa.Column("private", sa.Boolean(), comment="nothing is said unasked there but reminders"))
    op.add_column("groups", sa.Column("talk", sa.Text(), comment="what a word said next may refer to"))
    op.add_column(
        "groups",
        sa.Column(
            "posted_to", sa.DateTime(timezone=False), comment="the group's own clock up to which posts have been made"
        ),
    )
    op.add_column("groups", sa.Column("next_at", sa.DateTime(timezone=True), comment="when the next post falls due"))
    # A group that was there before is looked at with the next tick, and watched from then on.
    op.execute("UPDATE groups SET next_at = CURRENT_TIMESTAMP")
    op.create_index("groups_due", "groups", ["next_at"])
    op.add_column(
        "members",
        sa.Column(
            "administrator", sa.Boolean(), comment="may change settings where the chat itself does not say who may"
        ),
    )
    said("settings_said", text("setting"), text("value"))
    _window_rules()
    _reminders()
    _alerts()
    op.create_table(
        "timed_posts",
        sa.Column("id", NUMBER, primary_key=True),
        refers("group_id"),
        text("key"),
        sa.Column("due", sa.DateTime(timezone=False), nullable=False, comment="on the group's own clock"),
        text("outcome"),
        sa.ForeignKeyConstraint(["group_id"], ["groups.id"]),
        sa.UniqueConstraint("group_id", "key"),
    )


def _window_rules() -> None:
    said(
        "window_rules",
        text("name"),
        sa.Column("starts", sa.Text(), nullable=False, comment="a rule in words: first saturday of october"),
        sa.Column("days", sa.Integer(), sa.CheckConstraint("days > 0", "days"), nullable=False),
        sa.Column("ends", sa.Text()),
        sa.Column(
            "markdowns", sa.Text(), nullable=False, comment="days after the start, and the share off: 0:1/2 7:3/4"
        ),
        sa.Column("look_for", sa.Text(), nullable=False, comment="one a line"),
        sa.Column("called", sa.Text(), nullable=False, comment="one a line"),
        sa.Column("switched_on", sa.Boolean(), nullable=False),
    )
    before = sa.table("sale_windows", *map(sa.column, ("id", "group_id", "name", "starts", "ends", "off")))
    rules = sa.table(
        "window_rules",
        *map(
            sa.column,
            "group_id name starts days ends markdowns look_for called switched_on live".split(),
        ),
    )
    for row in op.get_bind().execute(sa.select(before).order_by(before.c.id)).all():
        values = {
            "group_id": row.group_id,
            "name": row.name,
            "starts": _in_words(row.starts),
            "days": 1,
            "ends": _in_words(row.ends),
            "markdowns": f"0:{row.off}",
            "look_for": "",
            "called": "",
            "switched_on": True,
            "live": True,
        }
        op.get_bind().execute(sa.insert(rules).values(values))
    op.drop_table("sale_windows")


def _in_words(day: object) -> str:
    """ "september 1", of a date or of its ISO form."""
    _, month, day_of_month = str(day).split("-")
    return f"{_MONTHS[int(month) - 1]} {int(day_of_month)}"


def _reminders() -> None:
    op.create_table(
        "reminders",
        sa.Column("id", NUMBER, primary_key=True),
        refers("group_id"),
        text("what"),
        sa.Column("whom_id", NUMBER, comment="empty for the whole group"),
        refers("entry_id"),
        sa.Column("live", sa.Boolean(), nullable=False),
        own("whom_id", "members"),
        own("entry_id", "entries"),
        sa.UniqueConstraint("group_id", "id"),
    )
    op.create_index("reminders_of_entry", "reminders", ["group_id", "entry_id"])
    said(
        "reminder_times",
        refers("reminder_id"),
        sa.Column("day", sa.Date(), nullable=False),
        sa.Column("clock", sa.Text(), comment="of the group's own clock; empty for the morning"),
        sa.Column("dropped", sa.Boolean(), nullable=False),
        own("reminder_id", "reminders"),
        needed=True,
    )
    op.create_index("reminder_times_by_day", "reminder_times", ["group_id", "day"])


def _alerts() -> None:
    said(
        "alerts",
        refers("item_id"),
        sa.Column("store_id", NUMBER),
        sa.Column("count", sa.Integer(), sa.CheckConstraint("count > 0", "count"), nullable=False),
        sa.Column("price", sa.BigInteger(), sa.CheckConstraint("price >= 0", "price"), nullable=False),
        sa.Column("until", sa.Date()),
        sa.Column("pack_limit", sa.Integer()),
        sa.Column("day", sa.Date(), nullable=False),
        text("state"),
        own("item_id", "items"),
        own("store_id", "stores"),
        needed=True,
    )
    op.create_index("alerts_of_item", "alerts", ["group_id", "item_id", "day"])
    op.create_index("alerts_by_state", "alerts", ["group_id", "state"])
