"""What has arrived and is not heard yet, written down before the transport confirms it: a crash loses none of it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import asdict, fields
from datetime import datetime
from typing import Any

from sqlalchemy import BigInteger, Text, bindparam, delete, exists, insert, literal, select, update
from sqlalchemy.exc import IntegrityError

from bot.messages import Arrival, ChatTurn, Incoming, Sender, Turn
from bot.storage.books import Books, Database
from bot.storage.columns import Moment
from bot.storage.tables import arrivals

_NUMBER = bindparam("under_number", type_=BigInteger)
_KEEP = insert(arrivals).from_select(
    ["number", "chat", "written"],
    select(_NUMBER, bindparam("in_chat", type_=Text), bindparam("as_written", type_=Text)).where(
        ~exists().where(arrivals.c.number == _NUMBER)
    ),
)
_WAITING = arrivals.c.failed_at.is_(None)
_OF_CHAT = (
    select(arrivals.c.number, arrivals.c.written)
    .where(arrivals.c.chat == bindparam("in_chat", type_=Text), _WAITING)
    .order_by(arrivals.c.number)
    .limit(bindparam("most"))
)
_HEARD = delete(arrivals).where(arrivals.c.number == _NUMBER)


def keep(database: Database, came: Sequence[Arrival]) -> None:
    """Write down what has arrived, each under its number; one that is there already stays as it is."""
    rows: list[dict[str, object]] = [
        {"under_number": one.arrival, "in_chat": one.chat, "as_written": _written(one)}
        for one in came
        if one.arrival is not None
    ]
    if not rows:
        return
    try:
        _write_down(database, rows)
    except IntegrityError:  # another worker has written down one of them meanwhile, which is there by now
        _write_down(database, rows)


def _write_down(database: Database, rows: Sequence[dict[str, object]]) -> None:
    with database.transaction() as connection:
        connection.execute(_KEEP, rows)


def arrived(database: Database, chat: str, most: int) -> list[Arrival]:
    """What has arrived from a chat and is not heard yet, in its order, at most so many."""
    with database.reading() as connection:
        rows = connection.execute(_OF_CHAT, {"in_chat": chat, "most": most}).all()
    return [_arrival(row.written) for row in rows]


def chats_waiting(database: Database) -> list[str]:
    """The chats from which something has arrived that is not heard yet."""
    with database.reading() as connection:
        return list(connection.execute(select(arrivals.c.chat).where(_WAITING).distinct()).scalars())


def heard(books: Books, number: int) -> None:
    """Let go of what has been heard, in the transaction that keeps what came of it."""
    books.connection.execute(_HEARD, {"under_number": number})


def put_aside(database: Database, number: int, at: datetime) -> None:
    """Note that the clerk can make nothing of an arrival, so that it holds up no other."""
    with database.transaction() as connection:
        connection.execute(update(arrivals).where(arrivals.c.number == number).values(failed_at=literal(at, Moment)))


def take_up_again(database: Database) -> None:
    """Let what was put aside be heard once more, as after an update of the clerk."""
    with database.transaction() as connection:
        connection.execute(update(arrivals).where(~_WAITING).values(failed_at=None))


def _written(arrival: Arrival) -> str:
    return json.dumps(asdict(arrival), ensure_ascii=False, default=_plain)


def _plain(value: object) -> str:
    if isinstance(value, datetime):
        return value.isoformat()
    raise TypeError(type(value).__name__)


def _arrival(written: str) -> Arrival:
    said: dict[str, Any] = json.loads(written)
    said["sender"] = Sender(**said["sender"])
    said["at"] = datetime.fromisoformat(said["at"])
    if "turn" in said:
        return ChatTurn(**said | {"turn": Turn(said["turn"])})
    return Incoming(**_known(said))


def _known(said: dict[str, Any]) -> dict[str, Any]:
    """The fields that a message has; administrators are asked for anew."""
    names: Iterable[str] = (one.name for one in fields(Incoming))
    return {name: said[name] for name in names if name in said and name != "administrators"}
