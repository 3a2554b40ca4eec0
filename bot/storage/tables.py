"""The tables of the books, their constraints, and the indexes that keep a long history quick."""

from __future__ import annotations

from datetime import UTC, datetime
from fractions import Fraction

from sqlalchemy import (
    BigInteger,
    Boolean,
    CheckConstraint,
    Column,
    ColumnElement,
    Date,
    DateTime,
    Dialect,
    Double,
    ForeignKey,
    ForeignKeyConstraint,
    Index,
    Integer,
    MetaData,
    Table,
    Text,
    TypeDecorator,
    UniqueConstraint,
    text,
)

metadata = MetaData(
    naming_convention={
        "pk": "%(table_name)s_pk",
        "fk": "%(table_name)s_%(column_0_N_name)s_fk",
        "uq": "%(table_name)s_%(column_0_N_name)s_once",
        "ck": "%(table_name)s_%(constraint_name)s_ck",
    }
)
Number = BigInteger().with_variant(Integer, "sqlite")  # only a plain INTEGER counts up by itself in SQLite


class Moment(TypeDecorator[datetime]):
    """A moment, aware and in UTC on the way out. Raises ValueError for one without a zone."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The moment in UTC; SQLite keeps it without its zone."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"a moment without a time zone: {value}")
        utc = value.astimezone(UTC)
        return utc.replace(tzinfo=None) if dialect.name == "sqlite" else utc

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """The moment, aware, in UTC."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if dialect.name == "sqlite" else value.astimezone(UTC)


class Ratio(TypeDecorator[Fraction]):
    """An exact fraction, kept as text: "9/2"."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Fraction | None, dialect: Dialect) -> str | None:  # noqa: ARG002
        """The fraction as text."""
        return None if value is None else str(value)

    def process_result_value(self, value: str | None, dialect: Dialect) -> Fraction | None:  # noqa: ARG002
        """The fraction."""
        return None if value is None else Fraction(value)


def _number() -> Column[int]:
    return Column("id", Number, primary_key=True)


def _in_group() -> Column[int]:
    return Column("group_id", Number, nullable=False)


def _group() -> ForeignKeyConstraint:
    return ForeignKeyConstraint(["group_id"], ["groups.id"])


def _own(column: str, table: str) -> ForeignKeyConstraint:
    """A reference that cannot leave the group: the group's number is part of it."""
    return ForeignKeyConstraint(["group_id", column], [f"{table}.group_id", f"{table}.id"])


def _referable() -> UniqueConstraint:
    return UniqueConstraint("group_id", "id")


def _where_live(name: str, *columns: ColumnElement[object]) -> Index:
    return Index(name, *columns, sqlite_where=text("live = 1"), postgresql_where=text("live"))


groups = Table(
    "groups",
    metadata,
    _number(),
    Column("name", Text, nullable=False),
    Column("currency", Text, nullable=False),
    Column("timezone", Text, nullable=False),
    Column("country", Text, nullable=False),
    Column("rounding", Text, nullable=False),
    Column("names_version", Integer, nullable=False, server_default="0"),
)
chats = Table(
    "chats",
    metadata,
    Column("chat", Text, primary_key=True),
    Column("group_id", Number, ForeignKey("groups.id"), nullable=False),
)
members = Table(
    "members",
    metadata,
    _number(),
    _in_group(),
    Column("name", Text, nullable=False),
    Column("key", Text),
    _group(),
    _referable(),
    UniqueConstraint("group_id", "name"),
    UniqueConstraint("group_id", "key"),
)
stores = Table(
    "stores",
    metadata,
    _number(),
    _in_group(),
    Column("name", Text, nullable=False),
    _group(),
    _referable(),
    UniqueConstraint("group_id", "name"),
)
entries = Table(
    "entries",
    metadata,
    _number(),
    _in_group(),
    Column("member_id", Number, nullable=False),
    Column("made_at", Moment, nullable=False),
    Column("summary", Text, nullable=False),
    Column("undone_by", Number),
    Column("undone_at", Moment),
    _own("member_id", "members"),
    _own("undone_by", "members"),
    _referable(),
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
    _number(),
    _in_group(),
    Column("name", Text, nullable=False),
    Column("live", Boolean, nullable=False),
    Column("entry_id", Number),
    _group(),
    _own("entry_id", "entries"),
    _referable(),
    UniqueConstraint("group_id", "name"),
)
aliases = Table(
    "aliases",
    metadata,
    _number(),
    _in_group(),
    Column("item_id", Number, nullable=False),
    Column("alias", Text, nullable=False),
    Column("live", Boolean, nullable=False),
    Column("entry_id", Number),
    _own("item_id", "items"),
    _own("entry_id", "entries"),
    Index("aliases_of_entry", "group_id", "entry_id"),
)
_where_live("aliases_of_item", aliases.c.group_id, aliases.c.item_id)
price_points = Table(
    "price_points",
    metadata,
    _number(),
    _in_group(),
    Column("item_id", Number, nullable=False),
    Column("target", Ratio, comment="minor units for one unit"),
    Column("limit", Ratio, comment="minor units for one unit"),
    Column("live", Boolean, nullable=False),
    Column("entry_id", Number),
    _own("item_id", "items"),
    _own("entry_id", "entries"),
    Index("price_points_of_entry", "group_id", "entry_id"),
)
_where_live("price_points_of_item", price_points.c.group_id, price_points.c.item_id, price_points.c.id)
kits = Table(
    "kits",
    metadata,
    _number(),
    _in_group(),
    Column("name", Text, nullable=False),
    Column("goal", Integer),
    Column("due", Date),
    _group(),
    _referable(),
    UniqueConstraint("group_id", "name"),
)
kit_lines = Table(
    "kit_lines",
    metadata,
    Column("group_id", Number, primary_key=True),
    Column("kit_id", Number, primary_key=True),
    Column("item_id", Number, primary_key=True),
    Column("count", Integer, CheckConstraint("count > 0", "count"), nullable=False),
    _own("kit_id", "kits"),
    _own("item_id", "items"),
)
sightings = Table(
    "sightings",
    metadata,
    _number(),
    _in_group(),
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
    _own("item_id", "items"),
    _own("store_id", "stores"),
    _own("entry_id", "entries"),
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
    _number(),
    _in_group(),
    Column("item_id", Number, nullable=False),
    Column("store_id", Number),
    Column("entry_id", Number, nullable=False),
    Column("buyer_id", Number, nullable=False),
    Column("count", Integer, CheckConstraint("count > 0", "count"), nullable=False),
    Column("price", BigInteger, CheckConstraint("price >= 0", "price"), nullable=False),
    Column("day", Date, nullable=False),
    Column("live", Boolean, nullable=False),
    _own("item_id", "items"),
    _own("store_id", "stores"),
    _own("entry_id", "entries"),
    _own("buyer_id", "members"),
    Index("purchases_of_entry", "group_id", "entry_id"),
    Index("purchases_of_item", "group_id", "item_id", "live"),
)
notes = Table(
    "notes",
    metadata,
    _number(),
    _in_group(),
    Column("item_id", Number, nullable=False),
    Column("entry_id", Number, nullable=False),
    Column("text", Text, nullable=False),
    Column("day", Date, nullable=False),
    Column("live", Boolean, nullable=False),
    _own("item_id", "items"),
    _own("entry_id", "entries"),
    Index("notes_of_entry", "group_id", "entry_id"),
)
_where_live("notes_of_item", notes.c.group_id, notes.c.item_id, notes.c.day, notes.c.id)
questions = Table(
    "questions",
    metadata,
    _number(),
    _in_group(),
    Column("member_id", Number, nullable=False),
    Column("asked_at", Moment, nullable=False),
    Column("payload", Text, nullable=False),
    Column("answered", Boolean, nullable=False),
    _own("member_id", "members"),
    _referable(),
)
Index(
    "questions_open",
    questions.c.group_id,
    questions.c.member_id,
    questions.c.id,
    sqlite_where=text("answered = 0"),
    postgresql_where=text("NOT answered"),
)
taken = Table(
    "taken",
    metadata,
    Column("group_id", Number, primary_key=True),
    Column("ref", Text, primary_key=True),
    _group(),
    sqlite_with_rowid=False,
)
outbox = Table(
    "outbox",
    metadata,
    _number(),
    _in_group(),
    Column("chat", Text, ForeignKey("chats.chat"), nullable=False),
    Column("made_at", Moment, nullable=False),
    Column("post", Text, nullable=False),
    Column("entry_id", Number),
    Column("question_id", Number),
    Column("ref", Text),
    Column("sent_at", Moment),
    _group(),
    _own("entry_id", "entries"),
    _own("question_id", "questions"),
)
Index(
    "outbox_waiting",
    outbox.c.chat,
    outbox.c.id,
    sqlite_where=outbox.c.sent_at.is_(None),
    postgresql_where=outbox.c.sent_at.is_(None),
)
Index(
    "outbox_delivered",
    outbox.c.group_id,
    outbox.c.chat,
    outbox.c.ref,
    sqlite_where=outbox.c.ref.is_not(None),
    postgresql_where=outbox.c.ref.is_not(None),
)
