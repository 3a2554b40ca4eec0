"""What a member sees in a private chat of the books of the groups they are in."""

from __future__ import annotations

from bot.messages import Button, Sender
from bot.reading.form import Reading
from bot.skills.answering import Answer, Desk
from bot.skills.shares import balances
from bot.skills.shares.balances import Balances
from bot.storage.books import Books
from bot.storage.group import load_group, other_groups

OF_GROUP = "own"
"""Begins the action of a button that picks a group."""
_WHICH = "In which group?"


def own_view(reading: Reading, sender: Sender, desk: Desk) -> Answer | None:
    """The answer out of the sender's groups; None where the question is none for them, or there is no group."""
    if not isinstance(reading.slots, Balances) or sender.key is None:
        return None
    groups = other_groups(desk.books, sender.key)
    if len(groups) > 1:
        buttons = tuple(Button(name, f"{OF_GROUP}:{books.group_id}") for books, name, _ in groups)
        return Answer(_WHICH, buttons=buttons)
    return _told(groups[0], reading.slots, desk) if groups else None


def picked(group_id: int, sender: Sender, desk: Desk) -> Answer | None:
    """What the sender owes in the group of a pressed button; None where they are no member of it."""
    groups = other_groups(desk.books, sender.key) if sender.key else []
    found = next((group for group in groups if group[0].group_id == group_id), None)
    return _told(found, Balances("me"), desk) if found else None


def _told(found: tuple[Books, str, str], slots: Balances, desk: Desk) -> Answer:
    books, name, member = found
    answer = balances.answer(slots, Desk(books, load_group(books), member, desk.at))
    return Answer(f"{name}: {answer.text}")
