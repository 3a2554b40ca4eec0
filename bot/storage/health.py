"""How the database fares: what is in it, and what waits."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select

from bot.storage import migrating
from bot.storage.books import Database
from bot.storage.tables import arrivals, groups, outbox


@dataclass(frozen=True, slots=True)
class Health:
    """Groups kept, arrivals not heard yet, those that could not be heard, posts not delivered and since when."""

    groups: int
    not_heard: int
    failed: int
    waiting: int
    oldest: datetime | None


def health(database: Database) -> Health:
    """How the database fares. Raises DatabaseTroubleError, also where it is of another version."""
    with database.reading() as connection:
        migrating.check(connection)
        waits = outbox.c.sent_at.is_(None)
        count, oldest = connection.execute(select(func.count(), func.min(outbox.c.made_at)).where(waits)).one()
        return Health(
            connection.execute(select(func.count()).select_from(groups)).scalar_one(),
            connection.execute(select(func.count()).where(arrivals.c.failed_at.is_(None))).scalar_one(),
            connection.execute(select(func.count()).where(arrivals.c.failed_at.is_not(None))).scalar_one(),
            count,
            oldest,
        )
