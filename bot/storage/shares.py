"""Splits: cases shared out, cases open for members to take parts of, and who claimed how many."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ColumnElement, Row, Select, Update, exists, insert, or_, select, update

from bot.storage.books import Books, Database
from bot.storage.group import add_store
from bot.storage.ledger import post
from bot.storage.rows import number_of
from bot.storage.stock import move
from bot.storage.tables import claims, entries, groups, items, members, parts, purchases, splits, stores
from core.ledger import postings_of_split
from core.shares import Case, Offer, Split, Standing, State, Wanted
from core.stock import Move, Why

_PAYER, _OPENER = members.alias("payer"), members.alias("opener")
_OPEN = (splits.c.live, splits.c.shared_by.is_(None), splits.c.called_off_by.is_(None))


@dataclass(frozen=True, slots=True)
class Due:
    """An open split whose time has come."""

    chat: str
    number: int
    at: datetime


def add_split(books: Books, entry: int, split: Split, bought_in: int | None) -> None:
    """Record a case shared out: its parts, what each owes the payer, and the units that go to each.

    ``bought_in`` is the entry that holds the purchase of it. Raises KeyError for an unknown name.
    """
    number = _add(books, entry, Offer(split.case))
    own = (purchases.c.group_id == books.group_id, purchases.c.entry_id == bought_in, purchases.c.live)
    purchase = (
        select(purchases.c.id)
        .join(items, (items.c.group_id == purchases.c.group_id) & (items.c.id == purchases.c.item_id))
        .where(*own, items.c.name == split.case.item)
        .limit(1)
    )
    _set(books, number, purchase_id=purchase.scalar_subquery())
    share_out(books, entry, number, split)


def add_offer(books: Books, entry: int, offer: Offer) -> None:
    """Open a case for members to take parts of. Raises KeyError for an unknown name."""
    number = _add(books, entry, offer)
    if offer.kept:
        add_claim(books, entry, number, Wanted(offer.case.payer, offer.kept))


def _add(books: Books, entry: int, offer: Offer) -> int:
    case = offer.case
    if case.store is not None:
        add_store(books, case.store)
    values = {
        "group_id": books.group_id,
        "item_id": number_of(books, items, case.item),
        "store_id": None if case.store is None else number_of(books, stores, case.store),
        "payer_id": number_of(books, members, case.payer),
        "entry_id": entry,
        "count": case.count,
        "total": case.total,
        "least": offer.least,
        "closes_at": offer.closes_at,
        "live": True,
    }
    number: int = books.connection.execute(insert(splits).returning(splits.c.id), values).scalar_one()
    return number


def share_out(books: Books, entry: int, number: int, split: Split) -> None:
    """Book the parts of a split: postings, and the units that go from the payer to the others."""
    _set(books, number, shared_by=entry)
    rows = [
        {
            "group_id": books.group_id,
            "split_id": number,
            "member_id": number_of(books, members, part.member),
            "entry_id": entry,
            "units": part.units,
            "amount": part.amount,
            "live": True,
        }
        for part in split.parts
    ]
    books.connection.execute(insert(parts), rows)
    post(books, entry, postings_of_split(split.case.payer, split.parts))
    for part in split.parts:
        if part.member != split.case.payer:
            move(books, entry, Move(split.case.item, split.case.payer, -part.units, Why.SHARED, split.on))
            move(books, entry, Move(split.case.item, part.member, part.units, Why.SHARED, split.on))


def add_claim(books: Books, entry: int, number: int, wanted: Wanted) -> None:
    """Record how many units in all a member asks for; 0 lets go. Raises KeyError for an unknown member."""
    values = {
        "group_id": books.group_id,
        "split_id": number,
        "member_id": number_of(books, members, wanted.member),
        "entry_id": entry,
        "units": wanted.units or 0,
        "live": True,
    }
    books.connection.execute(insert(claims), values)


def call_off(books: Books, entry: int, number: int) -> None:
    """Close a split without a purchase."""
    _set(books, number, called_off_by=entry)


def keep_open(books: Books, number: int) -> None:
    """Let a split stand open without a closing time."""
    _set(books, number, closes_at=None)


def open_splits(books: Books) -> list[Standing]:
    """The splits open now, oldest first."""
    return _splits(books, *_OPEN)


def standing(books: Books, number: int) -> Standing | None:
    """The split of this number, open or not."""
    return next(iter(_splits(books, splits.c.id == number)), None)


def opened_in(books: Books, entry: int) -> Standing | None:
    """The split that an entry opened, open or not."""
    return next(iter(_splits(books, splits.c.entry_id == entry)), None)


def closed_since(books: Books, since: datetime) -> list[tuple[Standing, int]]:
    """The splits once open that were shared out since a moment, oldest first, each with the entry that did so."""
    recent = select(entries.c.id).where(entries.c.group_id == books.group_id, entries.c.made_at >= since)
    own = (splits.c.live, splits.c.shared_by.in_(recent), splits.c.shared_by != splits.c.entry_id)
    rows = books.connection.execute(_COLUMNS.where(splits.c.group_id == books.group_id, *own)).all()
    return [(_split(books, row), row.shared_by) for row in rows]


def touched_by(books: Books, entry: int) -> int | None:
    """The split that an entry opened, closed, called off, or changed the claims of."""
    claimed = select(claims.c.split_id).where(claims.c.group_id == books.group_id, claims.c.entry_id == entry)
    ended = or_(splits.c.shared_by == entry, splits.c.called_off_by == entry)
    touched = or_(splits.c.id.in_(claimed), splits.c.entry_id == entry, ended)
    own = (splits.c.group_id == books.group_id, splits.c.purchase_id.is_(None), touched)
    return books.connection.execute(select(splits.c.id).where(*own)).scalar()


def resting_on(books: Books, entry: int) -> int | None:
    """The entry that must be taken back before this one: the split of what was bought, of claims, of an offer."""
    bought = exists().where(
        purchases.c.group_id == splits.c.group_id,
        purchases.c.id == splits.c.purchase_id,
        purchases.c.entry_id == entry,
    )
    claimed = exists().where(
        claims.c.group_id == splits.c.group_id,
        claims.c.split_id == splits.c.id,
        claims.c.entry_id == entry,
        claims.c.live,
    )
    own = (splits.c.group_id == books.group_id, splits.c.live, splits.c.shared_by != entry)
    rests = or_(bought, claimed, splits.c.entry_id == entry)
    return books.connection.execute(select(splits.c.shared_by).where(*own, rests)).scalar()


def is_split(books: Books, entry: int, item: str) -> bool:
    """Whether the purchase of an item in an entry has been shared out."""
    bought = exists().where(
        purchases.c.group_id == splits.c.group_id,
        purchases.c.id == splits.c.purchase_id,
        purchases.c.entry_id == entry,
    )
    own = (splits.c.group_id == books.group_id, splits.c.live, splits.c.item_id == number_of(books, items, item))
    return books.connection.execute(select(splits.c.id).where(*own, bought)).first() is not None


def last_split(books: Books, item: str) -> int | None:
    """The entry of the newest split of an item that was shared out."""
    own = (splits.c.group_id == books.group_id, splits.c.live, splits.c.shared_by.is_not(None))
    of_item = select(items.c.id).where(items.c.group_id == books.group_id, items.c.name == item)
    newest = select(splits.c.shared_by).where(*own, splits.c.item_id.in_(of_item)).order_by(splits.c.id.desc())
    return books.connection.execute(newest.limit(1)).scalar()


def reopen(books: Books, entry: int) -> None:
    """For storage alone: what an entry closed or called off is open again, without a closing time."""
    for column in (splits.c.shared_by, splits.c.called_off_by):
        own = (splits.c.group_id == books.group_id, column == entry, splits.c.entry_id != entry)
        reopened: Update = update(splits).where(*own).values({column: None, splits.c.closes_at: None})
        books.connection.execute(reopened)


def due(database: Database, now: datetime) -> list[Due]:
    """The open splits of all groups whose closing time has come, in its order, each with its group's home chat."""
    columns = select(groups.c.home, splits.c.id, splits.c.closes_at).join(groups, groups.c.id == splits.c.group_id)
    waiting = columns.where(*_OPEN, splits.c.closes_at <= now).order_by(splits.c.closes_at, splits.c.id)
    with database.reading() as connection:
        return [Due(*row) for row in connection.execute(waiting)]


def next_closing(database: Database) -> datetime | None:
    """When the next open split of any group closes."""
    first = select(splits.c.closes_at).where(*_OPEN, splits.c.closes_at.is_not(None)).order_by(splits.c.closes_at)
    with database.reading() as connection:
        found: datetime | None = connection.execute(first.limit(1)).scalar()
    return found


_COLUMNS: Select[*tuple[object, ...]] = (
    select(
        splits.c.id,
        splits.c.entry_id,
        items.c.name.label("item"),
        splits.c.count.label("units"),
        splits.c.total,
        _PAYER.c.name.label("payer"),
        stores.c.name.label("store"),
        splits.c.least,
        splits.c.closes_at,
        splits.c.shared_by,
        splits.c.called_off_by,
        splits.c.live,
        _OPENER.c.name.label("opener"),
    )
    .join(items, (items.c.group_id == splits.c.group_id) & (items.c.id == splits.c.item_id))
    .join(_PAYER, (_PAYER.c.group_id == splits.c.group_id) & (_PAYER.c.id == splits.c.payer_id))
    .join(entries, (entries.c.group_id == splits.c.group_id) & (entries.c.id == splits.c.entry_id))
    .join(_OPENER, (_OPENER.c.group_id == splits.c.group_id) & (_OPENER.c.id == entries.c.member_id))
    .outerjoin(stores, (stores.c.group_id == splits.c.group_id) & (stores.c.id == splits.c.store_id))
    .order_by(splits.c.id)
)


def _splits(books: Books, *where: ColumnElement[bool]) -> list[Standing]:
    rows = books.connection.execute(_COLUMNS.where(splits.c.group_id == books.group_id, *where)).all()
    return [_split(books, row) for row in rows]


def _split(books: Books, row: Row[*tuple[object, ...]]) -> Standing:
    case = Case(row.item, row.units, row.total, row.payer, row.store)
    state = State.SHARED if row.shared_by else State.CALLED_OFF if row.called_off_by or not row.live else State.OPEN
    return Standing(
        row.id, row.entry_id, Offer(case, row.least, row.closes_at), row.opener, _taken(books, row.id), state
    )


def _taken(books: Books, number: int) -> tuple[Wanted, ...]:
    """The newest claim of each member, in the order of joining; one who let go joins anew."""
    rows = books.connection.execute(
        select(members.c.name, claims.c.units)
        .join(members, (members.c.group_id == claims.c.group_id) & (members.c.id == claims.c.member_id))
        .where(claims.c.group_id == books.group_id, claims.c.split_id == number, claims.c.live)
        .order_by(claims.c.id)
    )
    taken: dict[str, int] = {}
    for name, units in rows:
        taken[name] = units
        if not units:
            del taken[name]
    return tuple(Wanted(name, units) for name, units in taken.items())


def _set(books: Books, number: int, **values: object) -> None:
    own = (splits.c.group_id == books.group_id, splits.c.id == number)
    books.connection.execute(update(splits).where(*own).values(**values))
