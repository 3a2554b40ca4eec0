"""The tables of the stock book: kits and what is said of them, units that come and go, plans to buy."""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    Boolean,
    CheckConstraint,
    Column,
    Date,
    Index,
    Integer,
    Table,
    Text,
    UniqueConstraint,
)
from sqlalchemy.schema import SchemaItem

from bot.storage.columns import Moment, Number, group, in_group, metadata, number, own, referable


def said_of(name: str, *columns: SchemaItem, entry_needed: bool = False) -> Table:
    """A table of things said, the newest living row of which counts; without an entry it came with the group."""
    return Table(
        name,
        metadata,
        number(),
        in_group(),
        *columns,
        Column("entry_id", Number, nullable=not entry_needed),
        Column("live", Boolean, nullable=False),
        group(),
        own("entry_id", "entries"),
        Index(f"{name}_of_entry", "group_id", "entry_id"),
    )


kits = Table(
    "kits",
    metadata,
    number(),
    in_group(),
    Column("name", Text, nullable=False),
    group(),
    referable(),
    UniqueConstraint("group_id", "name"),
)
kit_contents = said_of(
    "kit_contents",
    Column("kit_id", Number, nullable=False),
    Column("item_id", Number, nullable=False),
    Column("count", Integer, CheckConstraint("count >= 0", "count"), nullable=False),
    own("kit_id", "kits"),
    own("item_id", "items"),
)
kit_goals = said_of(
    "kit_goals",
    Column("kit_id", Number, nullable=False),
    Column("goal", Integer),
    Column("due", Date),
    own("kit_id", "kits"),
)
kit_ages = said_of(
    "kit_ages",
    Column("kit_id", Number, nullable=False),
    Column("low", Integer, nullable=False, comment="years"),
    Column("high", Integer, comment="years"),
    own("kit_id", "kits"),
)
kit_costs = said_of(
    "kit_costs",
    Column("kit_id", Number, nullable=False),
    Column("what", Text, nullable=False),
    Column("amount", BigInteger, CheckConstraint("amount >= 0", "amount"), nullable=False),
    own("kit_id", "kits"),
)
packings = said_of(
    "packings",
    Column("kit_id", Number, nullable=False),
    Column("member_id", Number, nullable=False),
    Column("count", Integer, CheckConstraint("count > 0", "count"), nullable=False),
    Column("day", Date, nullable=False),
    own("kit_id", "kits"),
    own("member_id", "members"),
    entry_needed=True,
)
stock_moves = said_of(
    "stock_moves",
    Column("item_id", Number, nullable=False),
    Column("member_id", Number, nullable=False),
    Column("units", Integer, nullable=False, comment="above zero came to the member"),
    Column("why", Text, nullable=False),
    Column("day", Date, nullable=False),
    Column("place", Text),
    Column("kit_id", Number, comment="what the units were packed into"),
    own("item_id", "items"),
    own("member_id", "members"),
    own("kit_id", "kits"),
    entry_needed=True,
)
Index(
    "stock_moves_of_item",
    stock_moves.c.group_id,
    stock_moves.c.item_id,
    stock_moves.c.live,
    stock_moves.c.member_id,
)
reservations = said_of(
    "reservations",
    Column("item_id", Number, nullable=False),
    Column("member_id", Number, nullable=False),
    Column("units", Integer, CheckConstraint("units >= 0", "units"), nullable=False),
    Column("made_at", Moment, nullable=False),
    own("item_id", "items"),
    own("member_id", "members"),
    entry_needed=True,
)
hazards = said_of(
    "hazards",
    Column("item_id", Number, nullable=False),
    Column("hazard", Text, nullable=False),
    own("item_id", "items"),
)
not_packed = said_of(
    "not_packed",
    Column("name", Text, nullable=False),
    Column("lifted", Boolean, nullable=False),
)
budgets = said_of("budgets", Column("amount", BigInteger, CheckConstraint("amount >= 0", "amount"), nullable=False))
