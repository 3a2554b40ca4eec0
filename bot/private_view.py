"""In a private chat a member sees the books of a group they are in, and keeps them: which group, and how it is said."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from bot.messages import Button, Incoming, Post
from bot.open_questions import OpenQuestion, Option
from bot.skills.house import wording
from bot.storage.books import Books
from bot.storage.chats import Membership, memberships, show
from bot.storage.group import member
from bot.storage.outbox import queue
from bot.storage.questions import ask, close, question

OF_GROUP = "own"
"""Begins the action of a button that picks a group."""
_ANOTHER = frozenset(("other group", "another group", "switch group", "change group", "/group"))


@dataclass(frozen=True, slots=True)
class View:
    """The books that a private chat shows, what is to be heard in them, and what opens the first reply."""

    books: Books
    incoming: Incoming
    lead: str = ""


def view(books: Books, incoming: Incoming) -> View | None:
    """What a private message is about: the books of the one group its sender is in, or of the one they picked.

    None where that is answered with a question or a sentence of its own. Somebody who is in no group has books of
    their own.
    """
    key = incoming.sender.key
    if key is None:
        return View(books, incoming)
    found = memberships(books, key)
    if (picked := _picked(incoming, found)) is not None:
        return _turn_to(picked, books, incoming)
    if books.chat == books.home:
        return _first_view(books, incoming, found)
    if books.group_id not in [one.group_id for one in found]:
        queue(books, Post(wording.NOT_YOUR_GROUP), incoming.at)
        return None
    if len(found) > 1 and incoming.text.strip().casefold() in _ANOTHER:
        _ask_which(books, replace(incoming, text=""), found)
        return None
    return View(books, incoming)


def _first_view(books: Books, incoming: Incoming, found: Sequence[Membership]) -> View | None:
    """What somebody sees who has seen only books of their own so far."""
    if len(found) == 1:
        return View(show(books, found[0]), incoming, wording.these_books(found[0].group))
    if found and not incoming.pressed:
        _ask_which(books, incoming, found)
        return None
    return View(books, incoming)


def _ask_which(books: Books, incoming: Incoming, found: Sequence[Membership]) -> None:
    """Ask in which group it was said; a press on one goes on with the message."""
    speaker = member(books, incoming.sender.name, incoming.sender.key, incoming.sender.surname)
    said = OpenQuestion(wording.WHICH_GROUP, incoming.at, (Option("", incoming.text),))
    number = ask(books, speaker, incoming.at, said.to_json())
    buttons = tuple(Button(one.group, f"{OF_GROUP}:{one.group_id}:{number}") for one in found)
    queue(books, Post(wording.WHICH_GROUP, buttons, answers=incoming.ref), incoming.at)


def _picked(incoming: Incoming, found: Sequence[Membership]) -> Membership | None:
    """The group of a pressed button, where its presser is a member of it."""
    what, *numbers = (incoming.pressed or "").split(":")
    if what != OF_GROUP or len(numbers) != len(("group", "question")):
        return None
    return next((one for one in found if str(one.group_id) == numbers[0]), None)


def _turn_to(picked: Membership, books: Books, incoming: Incoming) -> View | None:
    """Show the books of the group that was picked, and hear there what was said before the question."""
    number = (incoming.pressed or "").rpartition(":")[2]
    waiting = question(books, int(number)) if number.isdecimal() else None
    said = OpenQuestion.from_json(waiting.payload) if waiting and close(books, waiting.number) else None
    shown, lead = show(books, picked), wording.these_books(picked.group)
    if said is None or not said.options[0].says:
        queue(shown, Post(lead, edits=incoming.answers), incoming.at)
        return None
    return View(shown, replace(incoming, text=said.options[0].says, pressed=None), lead)
