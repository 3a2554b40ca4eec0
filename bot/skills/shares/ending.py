"""What the kinds that end an open split share: which one is meant, and who may."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.offers import Choice
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.shares import wording
from bot.storage.shares import open_splits, opened_in
from core.money import Currency
from core.shares import Standing, State


@dataclass(frozen=True, slots=True)
class Ending:
    """An open split that is to end; no item where only one can be meant.

    ``total`` is what the case came to, ``extra`` what came on top (minor units), ``count`` how many were had of it,
    where that differs from the offer.
    """

    item: str | None = None
    total: int | None = None
    extra: int = 0
    count: int | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slot."""
        del currency
        return {} if self.item is None else {"item": self.item}


def ending(heard: Heard) -> Sequence[Ending]:
    """One reading, with the item named."""
    items = named(heard.marked, heard.reach, NameSort.ITEM)
    return [Ending(items[0].value.name if items else None)]


def meant(slots: Ending, desk: Desk, says: str) -> Standing | Ask | None:
    """The open split meant: the one replied to, else the only one; the question where there are several."""
    if desk.replied_entry is not None and (opened := opened_in(desk.books, desk.replied_entry)):
        return opened if opened.state is State.OPEN else None
    found = [one for one in open_splits(desk.books) if slots.item in (None, one.case.item)]
    own = [one for one in found if desk.speaker in (one.by, one.case.payer)]
    found = own if len(own) == 1 else found
    if len(found) > 1:
        items = list(dict.fromkeys(one.case.item for one in found))
        if len(items) == 1:
            return found[0]
        return Ask(wording.MANY_OPEN, tuple(Choice(item, says.format(item)) for item in items))
    return found[0] if found else None


def not_theirs(found: Standing, desk: Desk) -> Answer | None:
    """The refusal to somebody who neither opened nor pays; None for those who may."""
    if desk.speaker in (found.by, found.case.payer):
        return None
    return Answer(wording.only_by((found.by, found.case.payer)))
