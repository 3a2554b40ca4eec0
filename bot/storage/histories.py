"""The statements behind an item's history: index seeks whose number does not grow with the history."""

from __future__ import annotations

from typing import Any

from sqlalchemy import (
    CTE,
    ColumnElement,
    CompoundSelect,
    Date,
    FromClause,
    Integer,
    ScalarSelect,
    Select,
    Text,
    bindparam,
    case,
    func,
    literal_column,
    null,
    select,
    union_all,
)

from bot.storage.columns import Number
from bot.storage.tables import items, sightings, stores
from core.prices import USUAL_SIGHTINGS

LOWEST, RECENT, LATEST, USUAL = "lowest", "recent", "latest", "usual"
"""Which part of the history a row of ``HISTORY`` belongs to."""

_GROUP = bindparam("in_group", type_=Number)
_ITEM_ID = (
    select(items.c.id)
    .where(items.c.group_id == _GROUP, items.c.name == bindparam("of_item", type_=Text))
    .scalar_subquery()
)
_SINCE = bindparam("since", type_=Date)
_SINCE_MONTH = bindparam("since_month", type_=Integer)
_USUAL_SINCE = bindparam("usual_since", type_=Date)
_MOST = bindparam("most", type_=Integer)


def _of_item(seen: FromClause) -> tuple[ColumnElement[bool], ...]:
    return seen.c.group_id == _GROUP, seen.c.item_id == _ITEM_ID, seen.c.live


def _lowest_first(seen: FromClause) -> tuple[ColumnElement[Any], ...]:
    return seen.c.unit_price, *_newest_first(seen)


def _newest_first(seen: FromClause) -> tuple[ColumnElement[Any], ...]:
    return seen.c.seen_on.desc(), seen.c.id.desc()


def _sightings(picked: FromClause, *also: ColumnElement[Any]) -> tuple[FromClause, Select[Any]]:
    """The columns of core's Sighting, in its order and after ``also``, of the rows whose ids are picked."""
    seen = sightings.alias("seen")
    record = (seen.c.count, seen.c.price, seen.c.seen_on, stores.c.name.label("store"))
    terms = (seen.c.regular, seen.c.until, seen.c.pack_limit)
    of_shop = (stores.c.group_id == seen.c.group_id) & (stores.c.id == seen.c.store_id)
    rows = (
        select(*also, items.c.name, *record, *terms)
        .select_from(picked)
        .join(seen, (seen.c.group_id == _GROUP) & (seen.c.id == picked.c.id))
        .join(items, (items.c.group_id == seen.c.group_id) & (items.c.id == seen.c.item_id))
        .outerjoin(stores, of_shop)
    )
    return seen, rows


def _lowest() -> Select[Any]:
    seen = sightings.alias("low")
    return select(seen.c.id, seen.c.seen_on).where(*_of_item(seen)).order_by(*_lowest_first(seen)).limit(1)


def _months() -> CTE:
    """The months since ``since`` in which the item was seen, each found by a seek from the one before."""
    first, later = sightings.alias("first"), sightings.alias("later")
    months = (
        select(func.min(first.c.month).label("month"))
        .where(*_of_item(first), first.c.month >= _SINCE_MONTH)
        .cte("months", recursive=True)
    )
    following = select(func.min(later.c.month)).where(*_of_item(later), later.c.month > months.c.month)
    return months.union_all(select(following.scalar_subquery()).where(months.c.month.is_not(None)))


def _monthly_lows() -> Select[Any]:
    months, seen = _months(), sightings.alias("of_month")
    lowest = (
        select(seen.c.id)
        .where(*_of_item(seen), seen.c.month == months.c.month, seen.c.seen_on >= _SINCE)
        .order_by(*_lowest_first(seen))
        .limit(1)
    )
    return select(lowest.scalar_subquery().label("id")).select_from(months).where(months.c.month.is_not(None))


def _lowest_recent(lowest: FromClause) -> ColumnElement[Any]:
    """The lowest ever where that is recent enough, else the lowest of the monthly ones."""
    monthly, seen = _monthly_lows().subquery("monthly"), sightings.alias("recent_low")
    sought = (
        select(seen.c.id)
        .join(monthly, (seen.c.group_id == _GROUP) & (seen.c.id == monthly.c.id))
        .order_by(*_lowest_first(seen))
        .limit(1)
        .scalar_subquery()
    )
    return case((lowest.c.seen_on >= _SINCE, lowest.c.id), else_=sought)


def _newest(most: ColumnElement[Any] | int) -> Select[Any]:
    """The newest sightings, sought among the marked down and among the others, then put together."""
    parts = []
    for marked in (True, False):
        seen = sightings.alias("marked_down" if marked else "full_price")
        of_part = seen.c.marked_down if marked else ~seen.c.marked_down
        part = select(seen.c.id, seen.c.seen_on).where(*_of_item(seen), of_part)
        parts.append(select(part.order_by(*_newest_first(seen)).limit(most).subquery()))
    both = union_all(*parts).subquery("both")
    return select(both.c.id).order_by(*_newest_first(both)).limit(most)


def _usual() -> Select[Any]:
    """The prices of the latest sightings without a markdown, each with how often it was seen."""
    seen = sightings.alias("usual_price")
    full_price = (*_of_item(seen), ~seen.c.marked_down, seen.c.seen_on >= _USUAL_SINCE)
    newest = select(func.max(seen.c.seen_on)).where(*full_price)
    latest = (
        select(seen.c.price, seen.c.count)
        .where(*full_price)
        .order_by(*_newest_first(seen))
        .limit(USUAL_SIGHTINGS)
        .subquery("latest")
    )
    return select(
        latest.c.price,
        latest.c["count"],
        newest.scalar_subquery().label("newest"),
        func.count().label("times"),
    ).group_by(latest.c.price, latest.c["count"])


def _part(name: str) -> ColumnElement[str]:
    return literal_column(f"'{name}'", Text).label("part")


def _history() -> CompoundSelect[Any]:
    lowest = _lowest().cte("lowest")
    picked = union_all(
        select(_part(LOWEST), lowest.c.id),
        select(_part(RECENT), _lowest_recent(lowest)).select_from(lowest),
        select(_part(LATEST), _newest(1).scalar_subquery()),
    ).subquery("picked")
    _, rows = _sightings(picked, picked.c.part)
    usual = _usual().subquery("usual")
    of_usual = (usual.c["count"], usual.c.price, usual.c.newest, null(), usual.c.times)
    return union_all(rows, select(_part(USUAL), null(), *of_usual, null(), null()))


def _newest_sightings() -> Select[Any]:
    seen, rows = _sightings(_newest(_MOST).subquery("picked"))
    return rows.order_by(*_newest_first(seen))


def _lows_by_month() -> Select[Any]:
    seen, rows = _sightings(_monthly_lows().subquery("picked"))
    return rows.order_by(seen.c.month)


def _newest_at(seen: FromClause, store: ColumnElement[bool]) -> ScalarSelect[Any]:
    ids = select(seen.c.id).where(*_of_item(seen), store, seen.c.seen_on >= _SINCE)
    return ids.order_by(*_newest_first(seen)).limit(1).scalar_subquery()


def _latest_by_store() -> Select[Any]:
    somewhere, nowhere = sightings.alias("somewhere"), sightings.alias("nowhere")
    shop = stores.alias("shop")
    at_shop = _newest_at(somewhere, somewhere.c.store_id == shop.c.id).label("id")
    picked = union_all(
        select(at_shop).select_from(shop).where(shop.c.group_id == _GROUP),
        select(_newest_at(nowhere, nowhere.c.store_id.is_(None))),
    )
    seen, rows = _sightings(picked.subquery("picked"))
    return rows.order_by(*_lowest_first(seen))


HISTORY = _history()
"""Rows of (part, the columns of a Sighting).

Those of ``USUAL`` are (part, null, count, price, newest day of all, null, how often, null, null).
"""
NEWEST = _newest_sightings()
MONTHLY_LOWS = _lows_by_month()
LATEST_BY_STORE = _latest_by_store()
