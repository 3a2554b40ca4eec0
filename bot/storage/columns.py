"""What all tables are made of: types, keys, and references that cannot leave their group."""

from __future__ import annotations

from datetime import UTC, datetime
from fractions import Fraction

from sqlalchemy import (
    BigInteger,
    Column,
    ColumnElement,
    DateTime,
    Dialect,
    ForeignKeyConstraint,
    Index,
    Integer,
    MetaData,
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


def number() -> Column[int]:
    """The number of a row."""
    return Column("id", Number, primary_key=True)


def in_group() -> Column[int]:
    """The group that a row belongs to."""
    return Column("group_id", Number, nullable=False)


def group() -> ForeignKeyConstraint:
    """The reference to that group."""
    return ForeignKeyConstraint(["group_id"], ["groups.id"])


def own(column: str, table: str) -> ForeignKeyConstraint:
    """A reference that cannot leave the group: the group's number is part of it."""
    return ForeignKeyConstraint(["group_id", column], [f"{table}.group_id", f"{table}.id"])


def referable() -> UniqueConstraint:
    """Lets rows be referred to together with their group."""
    return UniqueConstraint("group_id", "id")


def where_live(name: str, *columns: ColumnElement[object]) -> Index:
    """An index of the living rows alone."""
    return Index(name, *columns, sqlite_where=text("live = 1"), postgresql_where=text("live"))
