"""The tables of the calendar: settings said, sale windows, reminders, deal alerts, and what was posted when."""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    Boolean,
    CheckConstraint,
    Column,
    Date,
    DateTime,
    Index,
    Integer,
    Table,
    Text,
    UniqueConstraint,
)

from bot.storage.columns import Number, group, in_group, metadata, number, own, referable
from bot.storage.stock_tables import said_of

settings_said = said_of(
    "settings_said",
    Column("setting", Text, nullable=False),
    Column("value", Text, nullable=False),
)
window_rules = said_of(
    "window_rules",
    Column("name", Text, nullable=False),
    Column("starts", Text, nullable=False, comment="a rule in words: first saturday of october"),
    Column("days", Integer, CheckConstraint("days > 0", "days"), nullable=False),
    Column("ends", Text),
    Column("markdowns", Text, nullable=False, comment="days after the start, and the share off: 0:1/2 7:3/4"),
    Column("look_for", Text, nullable=False, comment="one a line"),
    Column("called", Text, nullable=False, comment="one a line"),
    Column("switched_on", Boolean, nullable=False),
)
reminders = Table(
    "reminders",
    metadata,
    number(),
    in_group(),
    Column("what", Text, nullable=False),
    Column("whom_id", Number, comment="empty for the whole group"),
    Column("entry_id", Number, nullable=False),
    Column("live", Boolean, nullable=False),
    own("whom_id", "members"),
    own("entry_id", "entries"),
    referable(),
    Index("reminders_of_entry", "group_id", "entry_id"),
)
# When a reminder comes: the newest living row counts, so that taking a change back brings the time before it back.
reminder_times = said_of(
    "reminder_times",
    Column("reminder_id", Number, nullable=False),
    Column("day", Date, nullable=False),
    Column("clock", Text, comment="of the group's own clock; empty for the morning"),
    Column("dropped", Boolean, nullable=False),
    own("reminder_id", "reminders"),
    entry_needed=True,
)
Index("reminder_times_by_day", reminder_times.c.group_id, reminder_times.c.day)
alerts = said_of(
    "alerts",
    Column("item_id", Number, nullable=False),
    Column("store_id", Number),
    Column("count", Integer, CheckConstraint("count > 0", "count"), nullable=False),
    Column("price", BigInteger, CheckConstraint("price >= 0", "price"), nullable=False),
    Column("until", Date),
    Column("pack_limit", Integer),
    Column("day", Date, nullable=False),
    Column("state", Text, nullable=False),
    own("item_id", "items"),
    own("store_id", "stores"),
    entry_needed=True,
)
Index("alerts_of_item", alerts.c.group_id, alerts.c.item_id, alerts.c.day)
Index("alerts_by_state", alerts.c.group_id, alerts.c.state)
timed_posts = Table(
    "timed_posts",
    metadata,
    number(),
    in_group(),
    Column("key", Text, nullable=False),
    Column("due", DateTime(timezone=False), nullable=False, comment="on the group's own clock"),
    Column("outcome", Text, nullable=False),
    group(),
    UniqueConstraint("group_id", "key"),
)
