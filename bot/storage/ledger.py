"""The ledger: balanced postings under entries, each member's running balance, and reversals."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import bindparam, insert, select, update

from bot.storage.books import Books
from bot.storage.columns import Number
from bot.storage.rows import number_of
from bot.storage.tables import entries, members, postings
from core.ledger import LedgerLine, Posting, balanced

_GROUP = bindparam("in_group", type_=Number)
_BALANCES = select(members.c.name, members.c.balance).where(members.c.group_id == _GROUP, members.c.balance != 0)
_LINES = (
    select(entries.c.made_at, entries.c.summary, postings.c.amount)
    .join(entries, (entries.c.group_id == postings.c.group_id) & (entries.c.id == postings.c.entry_id))
    .join(members, (members.c.group_id == postings.c.group_id) & (members.c.id == postings.c.member_id))
    .where(postings.c.group_id == _GROUP, members.c.name == bindparam("of_member"))
    .where(entries.c.undone_at.is_(None), ~postings.c.reverses)
    .order_by(postings.c.id.desc())
    .limit(bindparam("most", type_=Number))
)


def post(books: Books, entry: int, lines: Sequence[Posting]) -> None:
    """Book postings under an entry. Raises UnbalancedError, KeyError for an unknown member."""
    for line in balanced(lines):
        _add(
            books, {"entry_id": entry, "amount": line.amount, "reverses": False}, number_of(books, members, line.member)
        )


def reverse(books: Books, entry: int) -> None:
    """Book the opposite of everything booked under an entry; nothing is deleted."""
    own = (postings.c.group_id == books.group_id, postings.c.entry_id == entry, ~postings.c.reverses)
    for member, amount in books.connection.execute(select(postings.c.member_id, postings.c.amount).where(*own)).all():
        _add(books, {"entry_id": entry, "amount": -amount, "reverses": True}, member)


def postings_in(books: Books, entry: int) -> list[Posting]:
    """What is booked under an entry, without the opposite of it."""
    told = select(members.c.name, postings.c.amount).join(
        members, (members.c.group_id == postings.c.group_id) & (members.c.id == postings.c.member_id)
    )
    own = (postings.c.group_id == books.group_id, postings.c.entry_id == entry, ~postings.c.reverses)
    return [Posting(*row) for row in books.connection.execute(told.where(*own))]


def balances(books: Books) -> dict[str, int]:
    """The balance of each member who has one, in minor units; above zero is owed to the member."""
    rows = books.connection.execute(_BALANCES, {"in_group": books.group_id})
    return {row.name: row.balance for row in rows}


def lines_of(books: Books, member: str, most: int) -> list[LedgerLine]:
    """The newest entries behind a member's balance, at most so many, newest first."""
    values = {"in_group": books.group_id, "of_member": member, "most": most}
    return [LedgerLine(*row) for row in books.connection.execute(_LINES, values)]


def _add(books: Books, values: dict[str, object], member: int) -> None:
    books.connection.execute(insert(postings), {"group_id": books.group_id, "member_id": member, **values})
    own = (members.c.group_id == books.group_id, members.c.id == member)
    books.connection.execute(update(members).where(*own).values(balance=members.c.balance + values["amount"]))
