"""Balances by adding up every posting ever made: the slow way that the kept balances must agree with."""

from __future__ import annotations

from sqlalchemy import func, select

from bot.storage.books import Books
from bot.storage.tables import members, postings


def added_up(books: Books) -> dict[str, int]:
    """The balance of each member who has one, in minor units."""
    sums = (
        select(members.c.name, func.sum(postings.c.amount).label("sum"))
        .join(members, (members.c.group_id == postings.c.group_id) & (members.c.id == postings.c.member_id))
        .where(postings.c.group_id == books.group_id)
        .group_by(members.c.name)
        .having(func.sum(postings.c.amount) != 0)
    )
    return {row.name: int(row.sum) for row in books.connection.execute(sums)}
