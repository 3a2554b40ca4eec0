"""The tables of the books, their constraints, and the indexes that keep a long history quick."""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    Boolean,
    CheckConstraint,
    Column,
    Date,
    DateTime,
    Double,
    ForeignKey,
    Index,
    Integer,
    Table,
    Text,
    UniqueConstraint,
    text,
)

from bot.storage.columns import Moment, Number, Ratio, group, in_group, metadata, number, own, referable, where_live

groups = Table(
    "groups",
    metadata,
    number(),
    Column("name", Text, nullable=False),
    Column("currency", Text, nullable=False),
    Column("timezone", Text, nullable=False),
    Column("country", Text, nullable=False),
    Column("rounding", Text, nullable=False),
    Column("tax_rate", Ratio, comment="percent of a price"),
    Column("names_version", Integer, nullable=False, server_default="0"),
    Column("private", Boolean, comment="nothing is said unasked there but reminders"),
    Column("home", Text, comment="the chat in which the clerk speaks up by itself"),
    Column("posted_to", DateTime(timezone=False), comment="the group's own clock up to which posts have been made"),
    Column("next_at", Moment, comment="when the next post falls due"),
)
Index("groups_due", groups.c.next_at)
chats = Table(
    "chats",
    metadata,
    Column("chat", Text, primary_key=True),
    Column("group_id", Number, ForeignKey("groups.id"), nullable=False),
    Column("talk", Text, comment="what a word said next may refer to"),
    Column("silent_since", Moment, comment="when the clerk was removed from the chat"),
)
Index("chats_of_group", chats.c.group_id)
members = Table(
    "members",
    metadata,
    number(),
    in_group(),
    Column("name", Text, nullable=False),
    Column("key", Text),
    Column("balance", BigInteger, nullable=False, server_default="0", comment="the sum of the member's postings"),
    Column("administrator", Boolean, comment="may change settings where the chat itself does not say who may"),
    group(),
    referable(),
    UniqueConstraint("group_id", "name"),
    UniqueConstraint("group_id", "key"),
)
stores = Table(
    "stores",
    metadata,
    number(),
    in_group(),
    Column("name", Text, nullable=False),
    group(),
    referable(),
    UniqueConstraint("group_id", "name"),
)
entries = Table(
    "entries",
    metadata,
    number(),
    in_group(),
    Column("member_id", Number, nullable=False),
    Column("made_at", Moment, nullable=False),
    Column("summary", Text, nullable=False),
    Column("undone_by", Number),
    Column("undone_at", Moment),
    own("member_id", "members"),
    own("undone_by", "members"),
    referable(),
)
Index(
    "entries_standing",
    entries.c.group_id,
    entries.c.member_id,
    entries.c.id,
    sqlite_where=entries.c.undone_at.is_(None),
    postgresql_where=entries.c.undone_at.is_(None),
)
items = Table(
    "items",
    metadata,
    number(),
    in_group(),
    Column("name", Text, nullable=False),
    Column("live", Boolean, nullable=False),
    Column("entry_id", Number),
    group(),
    own("entry_id", "entries"),
    referable(),
    UniqueConstraint("group_id", "name"),
)
aliases = Table(
    "aliases",
    metadata,
    number(),
    in_group(),
    Column("item_id", Number, nullable=False),
    Column("alias", Text, nullable=False),
    Column("live", Boolean, nullable=False),
    Column("entry_id", Number),
    own("item_id", "items"),
    own("entry_id", "entries"),
    Index("aliases_of_entry", "group_id", "entry_id"),
)
where_live("aliases_of_item", aliases.c.group_id, aliases.c.item_id)
price_points = Table(
    "price_points",
    metadata,
    number(),
    in_group(),
    Column("item_id", Number, nullable=False),
    Column("target", Ratio, comment="minor units for one unit"),
    Column("limit", Ratio, comment="minor units for one unit"),
    Column("live", Boolean, nullable=False),
    Column("entry_id", Number),
    own("item_id", "items"),
    own("entry_id", "entries"),
    Index("price_points_of_entry", "group_id", "entry_id"),
)
where_live("price_points_of_item", price_points.c.group_id, price_points.c.item_id, price_points.c.id)
sightings = Table(
    "sightings",
    metadata,
    number(),
    in_group(),
    Column("item_id", Number, nullable=False),
    Column("store_id", Number),
    Column("entry_id", Number, nullable=False),
    Column("count", Integer, CheckConstraint("count > 0", "count"), nullable=False),
    Column("price", BigInteger, CheckConstraint("price >= 0", "price"), nullable=False),
    Column("regular", BigInteger),
    Column("until", Date),
    Column("pack_limit", Integer),
    Column("seen_on", Date, nullable=False),
    Column("month", Integer, nullable=False, comment="year * 12 + month - 1 of seen_on"),
    # price / count as a double keeps the exact order: with counts up to a million two different ratios lie
    # over 1e-15 of themselves apart, and equal ratios give equal doubles. The ratio shown is never this one.
    Column("unit_price", Double, nullable=False, comment="only for order"),
    Column("marked_down", Boolean, nullable=False),
    Column("live", Boolean, nullable=False),
    own("item_id", "items"),
    own("store_id", "stores"),
    own("entry_id", "entries"),
    Index("sightings_of_entry", "group_id", "entry_id"),
    # The newest of a shop, the newest with or without a markdown: one seek each. The usual price is read from
    # the index alone, hence the price at its end.
    Index("sightings_of_store", "group_id", "item_id", "live", "store_id", "seen_on", "id"),
    Index("sightings_newest", "group_id", "item_id", "live", "marked_down", "seen_on", "id", "price", "count"),
)
# The lowest ever and the lowest of a month: one seek each. Of equal prices the newest day comes first, then
# the newest row.
_SEEN = sightings.c
_LOWEST_FIRST = (_SEEN.unit_price, _SEEN.seen_on.desc(), _SEEN.id.desc())
Index("sightings_lowest", _SEEN.group_id, _SEEN.item_id, _SEEN.live, *_LOWEST_FIRST)
Index("sightings_lowest_of_month", _SEEN.group_id, _SEEN.item_id, _SEEN.live, _SEEN.month, *_LOWEST_FIRST)

purchases = Table(
    "purchases",
    metadata,
    number(),
    in_group(),
    Column("item_id", Number, nullable=False),
    Column("store_id", Number),
    Column("entry_id", Number, nullable=False),
    Column("buyer_id", Number, nullable=False),
    Column("count", Integer, CheckConstraint("count > 0", "count"), nullable=False),
    Column("price", BigInteger, CheckConstraint("price >= 0", "price"), nullable=False),
    Column("day", Date, nullable=False),
    Column("live", Boolean, nullable=False),
    own("item_id", "items"),
    own("store_id", "stores"),
    own("entry_id", "entries"),
    own("buyer_id", "members"),
    Index("purchases_once", "group_id", "id", unique=True),
    Index("purchases_of_entry", "group_id", "entry_id"),
    Index("purchases_of_item", "group_id", "item_id", "live"),
)
splits = Table(
    "splits",
    metadata,
    number(),
    in_group(),
    Column("item_id", Number, nullable=False),
    Column("store_id", Number),
    Column("payer_id", Number, nullable=False),
    Column("entry_id", Number, nullable=False),
    Column("count", Integer, CheckConstraint("count > 0", "count"), nullable=False),
    Column("total", BigInteger, CheckConstraint("total >= 0", "total"), nullable=False),
    Column("least", Integer),
    Column("closes_at", Moment),
    Column("purchase_id", Number, comment="the purchase it shares out"),
    Column("shared_by", Number, comment="the entry that booked its parts; empty while it is open"),
    Column("called_off_by", Number),
    Column("live", Boolean, nullable=False),
    own("item_id", "items"),
    own("store_id", "stores"),
    own("payer_id", "members"),
    own("entry_id", "entries"),
    own("purchase_id", "purchases"),
    own("shared_by", "entries"),
    own("called_off_by", "entries"),
    referable(),
    Index("splits_of_entry", "group_id", "entry_id"),
)
_OPEN = "shared_by IS NULL AND called_off_by IS NULL"
Index(
    "splits_open",
    splits.c.group_id,
    splits.c.id,
    sqlite_where=text(f"live = 1 AND {_OPEN}"),
    postgresql_where=text(f"live AND {_OPEN}"),
)
Index(
    "splits_due",
    splits.c.closes_at,
    sqlite_where=text(f"live = 1 AND {_OPEN} AND closes_at IS NOT NULL"),
    postgresql_where=text(f"live AND {_OPEN} AND closes_at IS NOT NULL"),
)
claims = Table(
    "claims",
    metadata,
    number(),
    in_group(),
    Column("split_id", Number, nullable=False),
    Column("member_id", Number, nullable=False),
    Column("entry_id", Number, nullable=False),
    # Units in all that a member asks for: the newest claim counts.
    Column("units", Integer, CheckConstraint("units >= 0", "units"), nullable=False),
    Column("live", Boolean, nullable=False),
    own("split_id", "splits"),
    own("member_id", "members"),
    own("entry_id", "entries"),
    Index("claims_of_split", "group_id", "split_id", "id"),
    Index("claims_of_entry", "group_id", "entry_id"),
)
parts = Table(
    "parts",
    metadata,
    number(),
    in_group(),
    Column("split_id", Number, nullable=False),
    Column("member_id", Number, nullable=False),
    Column("entry_id", Number, nullable=False),
    Column("units", Integer, CheckConstraint("units > 0", "units"), nullable=False),
    Column("amount", BigInteger, CheckConstraint("amount >= 0", "amount"), nullable=False),
    Column("live", Boolean, nullable=False),
    own("split_id", "splits"),
    own("member_id", "members"),
    own("entry_id", "entries"),
    Index("parts_of_entry", "group_id", "entry_id"),
)
postings = Table(
    "postings",
    metadata,
    number(),
    in_group(),
    Column("member_id", Number, nullable=False),
    Column("entry_id", Number, nullable=False),
    Column("amount", BigInteger, nullable=False, comment="above zero is owed to the member"),
    Column("reverses", Boolean, nullable=False, comment="made when its entry was taken back"),
    own("member_id", "members"),
    own("entry_id", "entries"),
    Index("postings_of_entry", "group_id", "entry_id"),
    Index("postings_of_member", "group_id", "member_id", "id"),
)
notes = Table(
    "notes",
    metadata,
    number(),
    in_group(),
    Column("item_id", Number, nullable=False),
    Column("entry_id", Number, nullable=False),
    Column("text", Text, nullable=False),
    Column("day", Date, nullable=False),
    Column("live", Boolean, nullable=False),
    own("item_id", "items"),
    own("entry_id", "entries"),
    Index("notes_of_entry", "group_id", "entry_id"),
)
where_live("notes_of_item", notes.c.group_id, notes.c.item_id, notes.c.day, notes.c.id)
questions = Table(
    "questions",
    metadata,
    number(),
    in_group(),
    Column("member_id", Number, nullable=False),
    Column("asked_at", Moment, nullable=False),
    Column("payload", Text, nullable=False),
    Column("answered", Boolean, nullable=False),
    own("member_id", "members"),
    referable(),
)
Index(
    "questions_open",
    questions.c.group_id,
    questions.c.member_id,
    questions.c.id,
    sqlite_where=text("answered = 0"),
    postgresql_where=text("NOT answered"),
)
arrivals = Table(
    "arrivals",
    metadata,
    Column("number", BigInteger, primary_key=True, autoincrement=False, comment="the transport's own, in its order"),
    Column("chat", Text, nullable=False),
    Column("written", Text, nullable=False),
    Column("failed_at", Moment, comment="when the clerk could make nothing of it"),
    Index("arrivals_of_chat", "chat", "number"),
)
taken = Table(
    "taken",
    metadata,
    Column("chat", Text, primary_key=True),
    Column("ref", Text, primary_key=True),
    in_group(),
    Column("entry_id", Number, comment="what the message put into the books"),
    group(),
    own("entry_id", "entries"),
    sqlite_with_rowid=False,
)
photos = Table(
    "photos",
    metadata,
    number(),
    in_group(),
    Column("entry_id", Number, nullable=False),
    Column("photo", Text, nullable=False, comment="the transport's own key of it"),
    own("entry_id", "entries"),
    Index("photos_of_entry", "group_id", "entry_id"),
)
outbox = Table(
    "outbox",
    metadata,
    number(),
    in_group(),
    Column("chat", Text, ForeignKey("chats.chat"), nullable=False),
    Column("made_at", Moment, nullable=False),
    Column("post", Text, nullable=False),
    Column("entry_id", Number),
    Column("question_id", Number),
    Column("split_id", Number, comment="the open split that the post shows"),
    Column("ref", Text),
    Column("sent_at", Moment),
    group(),
    own("entry_id", "entries"),
    own("question_id", "questions"),
)
Index(
    "outbox_waiting",
    outbox.c.chat,
    outbox.c.id,
    sqlite_where=outbox.c.sent_at.is_(None),
    postgresql_where=outbox.c.sent_at.is_(None),
)
Index(
    "outbox_of_split",
    outbox.c.group_id,
    outbox.c.split_id,
    outbox.c.id,
    sqlite_where=outbox.c.split_id.is_not(None),
    postgresql_where=outbox.c.split_id.is_not(None),
)
Index(
    "outbox_delivered",
    outbox.c.group_id,
    outbox.c.chat,
    outbox.c.ref,
    sqlite_where=outbox.c.ref.is_not(None),
    postgresql_where=outbox.c.ref.is_not(None),
)
