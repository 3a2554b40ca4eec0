"""Stock: what came to whom and went, kits packed, and what somebody is about to buy."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction

from sqlalchemy import (
    Date,
    Integer,
    Text,
    and_,
    bindparam,
    case,
    exists,
    func,
    insert,
    literal,
    null,
    select,
    true,
    union_all,
)

from bot.storage.books import Books
from bot.storage.columns import Number
from bot.storage.rows import number_of
from bot.storage.stock_tables import kits, packings, reservations, stock_moves
from bot.storage.tables import items, members, purchases
from core.stock import Held, Lot, Move, Packing, Reservation, Why

_GROUP = bindparam("in_group", type_=Number)
_MOVE = insert(stock_moves).from_select(
    ["group_id", "item_id", "member_id", "entry_id", "units", "why", "day", "place", "kit_id", "live"],
    select(
        items.c.group_id,
        items.c.id,
        members.c.id,
        bindparam("under_entry", type_=Number),
        bindparam("so_many", type_=Integer),
        bindparam("because", type_=Text),
        bindparam("on_day", type_=Date),
        bindparam("at_place", type_=Text),
        kits.c.id,
        true(),
    )
    .join(members, members.c.group_id == items.c.group_id)
    .outerjoin(kits, (kits.c.group_id == items.c.group_id) & (kits.c.name == bindparam("into_kit", type_=Text)))
    .where(
        items.c.group_id == _GROUP,
        items.c.name == bindparam("of_item", type_=Text),
        members.c.name == bindparam("to_member", type_=Text),
    ),
)
_UNITS = func.coalesce(func.sum(stock_moves.c.units), literal(0))
_LIVING = (stock_moves.c.group_id == _GROUP, stock_moves.c.live)
_OF_ITEM = (items.c.group_id == stock_moves.c.group_id) & (items.c.id == stock_moves.c.item_id)
_OF_MEMBER = (members.c.group_id == stock_moves.c.group_id) & (members.c.id == stock_moves.c.member_id)
_HELD = (
    select(items.c.name.label("item"), members.c.name.label("member"), _UNITS.label("units"))
    .select_from(stock_moves)
    .join(items, _OF_ITEM)
    .join(members, _OF_MEMBER)
    .where(*_LIVING)
    .group_by(items.c.name, members.c.name)
    .having(_UNITS != 0)
)
_PLACES = (
    select(items.c.name, members.c.name, stock_moves.c.place)
    .select_from(stock_moves)
    .join(items, _OF_ITEM)
    .join(members, _OF_MEMBER)
    .where(*_LIVING, stock_moves.c.place.is_not(None))
    .order_by(stock_moves.c.id)
)
_BROUGHT = (Why.HAD.value, Why.GIVEN.value, Why.COUNTED.value)
_LEAVES = (Why.PACKED.value, Why.REMOVED.value, Why.COUNTED.value)


@dataclass(frozen=True, slots=True)
class Drawn:
    """Units of an item that left the stock together, into a kit or not."""

    item: str
    units: int
    on: date
    kit: str | None


def move(books: Books, entry: int, moved: Move) -> None:
    """Add units of a known item to what a member holds, or (below zero) take them away."""
    values = {
        "under_entry": entry,
        "so_many": moved.units,
        "because": moved.why.value,
        "on_day": moved.on,
        "at_place": moved.place,
        "into_kit": moved.kit,
        "of_item": moved.item,
        "to_member": moved.member,
    }
    books.connection.execute(_MOVE, {"in_group": books.group_id, **values})


def pack(books: Books, entry: int, packing: Packing) -> None:
    """Record finished kits. Raises KeyError for an unknown kit or member."""
    values = {
        "group_id": books.group_id,
        "kit_id": number_of(books, kits, packing.kit),
        "member_id": number_of(books, members, packing.packer),
        "count": packing.count,
        "day": packing.on,
        "entry_id": entry,
        "live": True,
    }
    books.connection.execute(insert(packings), values)


def moves_in(books: Books, entry: int) -> list[Move]:
    """The units that came and went with an entry."""
    told = (
        select(items.c.name, members.c.name, stock_moves.c.units, stock_moves.c.why, stock_moves.c.day)
        .add_columns(stock_moves.c.place, kits.c.name)
        .select_from(stock_moves)
        .join(items, _OF_ITEM)
        .join(members, _OF_MEMBER)
        .outerjoin(kits, (kits.c.group_id == stock_moves.c.group_id) & (kits.c.id == stock_moves.c.kit_id))
        .where(*_LIVING, stock_moves.c.entry_id == entry)
        .order_by(stock_moves.c.id)
    )
    rows = books.connection.execute(told, {"in_group": books.group_id})
    return [Move(item, member, units, Why(why), *rest) for item, member, units, why, *rest in rows]


def held(books: Books, item: str) -> dict[str, int]:
    """How many units of an item each member holds."""
    rows = books.connection.execute(_HELD.where(items.c.name == item), {"in_group": books.group_id})
    return {row.member: int(row.units) for row in rows}


def holdings(books: Books) -> dict[str, list[Held]]:
    """By item, who holds how many and where: the place last said for it."""
    values = {"in_group": books.group_id}
    places = {(item, member): place for item, member, place in books.connection.execute(_PLACES, values)}
    found: dict[str, list[Held]] = {}
    for item, member, units in books.connection.execute(_HELD.order_by(_UNITS.desc(), members.c.name), values):
        found.setdefault(item, []).append(Held(member, int(units), places.get((item, member))))
    return found


def lots(books: Books) -> dict[str, list[Lot]]:
    """By item, the units that came in, the oldest day first: bought, given at no cost, or of a cost nobody knows."""
    bought = (
        select(
            items.c.name,
            purchases.c.count.label("units"),
            purchases.c.price.label("cost"),
            purchases.c.day.label("day"),
            purchases.c.entry_id.label("entry_id"),
        )
        .join(items, (items.c.group_id == purchases.c.group_id) & (items.c.id == purchases.c.item_id))
        .where(purchases.c.group_id == _GROUP, purchases.c.live)
    )
    brought = (
        select(
            items.c.name,
            stock_moves.c.units,
            case((stock_moves.c.why == Why.GIVEN.value, literal(0)), else_=null()),
            stock_moves.c.day,
            stock_moves.c.entry_id,
        )
        .join(items, _OF_ITEM)
        .where(*_LIVING, stock_moves.c.units > 0, stock_moves.c.why.in_(_BROUGHT))
    )
    came = union_all(bought, brought).order_by("day", "entry_id")
    found: dict[str, list[Lot]] = {}
    for item, units, cost, *_ in books.connection.execute(came, {"in_group": books.group_id}):
        found.setdefault(item, []).append(Lot(units, None if cost is None else Fraction(cost)))
    return found


def draws(books: Books) -> list[Drawn]:
    """The units that left the stock, in the order in which they were told."""
    left = (
        select(items.c.name, -stock_moves.c.units, stock_moves.c.day, kits.c.name)
        .select_from(stock_moves)
        .join(items, _OF_ITEM)
        .outerjoin(kits, (kits.c.group_id == stock_moves.c.group_id) & (kits.c.id == stock_moves.c.kit_id))
        .where(*_LIVING, stock_moves.c.units < 0, stock_moves.c.why.in_(_LEAVES))
        .order_by(stock_moves.c.id)
    )
    return [Drawn(*row) for row in books.connection.execute(left, {"in_group": books.group_id})]


def packed(books: Books) -> list[tuple[str, date, int]]:
    """The finished kits: of which kit, on which day, how many, in the order in which they were told."""
    told = (
        select(kits.c.name, packings.c.day, packings.c.count)
        .join(kits, (kits.c.group_id == packings.c.group_id) & (kits.c.id == packings.c.kit_id))
        .where(packings.c.group_id == _GROUP, packings.c.live)
        .order_by(packings.c.id)
    )
    return [(kit, day, count) for kit, day, count in books.connection.execute(told, {"in_group": books.group_id})]


def packings_in(books: Books, entry: int) -> list[Packing]:
    """The finished kits that an entry reports."""
    told = (
        select(kits.c.name, packings.c.count, members.c.name, packings.c.day)
        .join(kits, (kits.c.group_id == packings.c.group_id) & (kits.c.id == packings.c.kit_id))
        .join(members, (members.c.group_id == packings.c.group_id) & (members.c.id == packings.c.member_id))
        .where(packings.c.group_id == _GROUP, packings.c.live, packings.c.entry_id == entry)
        .order_by(packings.c.id)
    )
    return [Packing(*row) for row in books.connection.execute(told, {"in_group": books.group_id})]


def reserve(books: Books, entry: int, reservation: Reservation) -> None:
    """Note that a member is about to buy something. Raises KeyError for an unknown item or member."""
    values = {
        "group_id": books.group_id,
        "item_id": number_of(books, items, reservation.item),
        "member_id": number_of(books, members, reservation.member),
        "units": reservation.units,
        "made_at": reservation.at,
        "entry_id": entry,
        "live": True,
    }
    books.connection.execute(insert(reservations), values)


def reserved(books: Books, since: datetime) -> list[Reservation]:
    """What members have been about to buy since a moment and have not bought yet, oldest first.

    Of one member and item the newest counts; a purchase of the item by the member afterwards ends it.
    """
    bought = exists().where(
        purchases.c.group_id == reservations.c.group_id,
        purchases.c.item_id == reservations.c.item_id,
        purchases.c.buyer_id == reservations.c.member_id,
        purchases.c.entry_id > reservations.c.entry_id,
        purchases.c.live,
    )
    told = (
        select(items.c.name, members.c.name, reservations.c.units, reservations.c.made_at)
        .join(items, (items.c.group_id == reservations.c.group_id) & (items.c.id == reservations.c.item_id))
        .join(members, (members.c.group_id == reservations.c.group_id) & (members.c.id == reservations.c.member_id))
        .where(reservations.c.group_id == _GROUP, reservations.c.live, reservations.c.made_at >= since, ~bought)
        .order_by(reservations.c.id)
    )
    newest = {}
    for item, member, units, at in books.connection.execute(told, {"in_group": books.group_id}):
        newest[item, member] = Reservation(item, member, units, at)
    return [one for one in newest.values() if one.units]


def drawing_on(books: Books, entry: int) -> int | None:
    """The newest later entry that took units which an entry brought, and without which too few would be left.

    None where the entry can be taken back and nobody holds less than nothing.
    """
    own = stock_moves.alias("own")
    brought = (
        select(own.c.item_id, own.c.member_id, func.sum(own.c.units).label("units"))
        .where(own.c.group_id == _GROUP, own.c.entry_id == bindparam("under_entry"), own.c.live)
        .group_by(own.c.item_id, own.c.member_id)
        .having(func.sum(own.c.units) > 0)
        .subquery()
    )
    same = and_(stock_moves.c.item_id == brought.c.item_id, stock_moves.c.member_id == brought.c.member_id)
    short = (
        select(brought.c.item_id, brought.c.member_id)
        .join(stock_moves, same)
        .where(*_LIVING)
        .group_by(brought.c.item_id, brought.c.member_id, brought.c.units)
        .having(func.sum(stock_moves.c.units) < brought.c.units)
        .subquery()
    )
    taken = (
        select(func.max(stock_moves.c.entry_id))
        .join(short, and_(stock_moves.c.item_id == short.c.item_id, stock_moves.c.member_id == short.c.member_id))
        .where(*_LIVING, stock_moves.c.units < 0, stock_moves.c.entry_id > bindparam("under_entry"))
    )
    values = {"in_group": books.group_id, "under_entry": entry}
    newest: int | None = books.connection.execute(taken, values).scalar()
    return newest
