"""Every sentence of the house."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from bot.skills.answering import NewMember, NewName
from bot.wording.things import capital, listed
from core.entries import Entry

NOTHING_TO_TAKE_BACK = "There is nothing to take back."
NOT_KEPT = "OK, not kept."
WHICH_GROUP = "In which group?"
NOT_YOUR_GROUP = "You are not in that group any more, so its books are closed to you. Write in a group that I am in."
ANSWERED_BEFORE = "That question has been answered already."


def learnt(name: NewName | NewMember | None) -> str:
    """A learnt name, as the line that names it when it is taken back."""
    if name is None:
        return ""
    if isinstance(name, NewMember):
        return f"the new member {name.name}"
    return f"the new item “{name.word}”" if name.is_item else f"“{name.word}” as another word for {name.item}"


def which_group(shown: str | None, waiting: int) -> str:
    """The question in a private chat in whose books it belongs, with how many messages wait for the answer."""
    now = f" You are in {shown} now." if shown else ""
    return f"{WHICH_GROUP}{now}" + (f" {waiting} messages wait for it." if waiting > 1 else "")


def these_books(group: str, *, several: bool) -> str:
    """Said once in a private chat, where it begins to show the books of a group."""
    another = " To change, say: other group" if several else ""
    return f"{group}: what you write here goes into the group’s books, and my answers come to you alone.{another}"


def in_group(group: str) -> str:
    """Opens each reply in a private chat to somebody who is in several groups."""
    return f"{group}:"


def waits_too(word: str | None, messages: int) -> str:
    """A question that is open is not put again in full: so many messages wait for its answer by now."""
    return f"“{word}” again: one answer will do for {'both' if messages == 2 else f'all {messages}'}."


def corrected(summary: str) -> str:
    """Opens the answer to a message that was changed after it was entered."""
    return f"Corrected; it was: {summary}."


def still_stands(summary: str, *, asks: bool) -> str:
    """Opens what a correction that is not kept brings: a question, or why it cannot be."""
    return f"{'Until you answer, this stands' if asks else 'This stands as before'}: {summary}."


LEFT = "OK, left as it was."
NO_LONGER_ASKED = "No longer asked: the message was changed."


def say_anew(summary: str) -> str:
    """Said where a reply changes what cannot be changed that way."""
    return f"I cannot change that by a reply: {summary}. Take it back, and say it anew."


def not_corrected(why: str) -> str:
    """Said where what was entered cannot be changed as it stands."""
    return f"I cannot change that entry yet. {why}"


def slower(member: str) -> str:
    """Said once to somebody who writes faster than one can follow."""
    return f"That is a lot at once, {member}. In a minute, send what I have not answered again, best as one list."


def taken_back(entry: Entry, open_again: str | None = None) -> str:
    """The echo of an entry taken back; another's is named, and so is the case that is open again."""
    whose = "" if entry.undone_by == entry.by else f" ({entry.by}’s entry)"
    again = f"\nThe {open_again} case is open again. To share it out, say: close it" if open_again else ""
    return f"Taken back: {entry.summary}{whose}.{again}"


def nothing_kept(last: Entry) -> str:
    """Said where there is only a question to take back: the entry before it is only offered."""
    return f"Nothing was kept of that. Your last entry: {last.summary}."


def taken_back_before(entry: Entry) -> str:
    """The answer to a second press of the button."""
    return f"{entry.undone_by} has taken that back already: {entry.summary}."


NO_SUCH_ENTRY = "I find no such entry. “Take that back” takes back your last one."


def is_it_that(own: Entry, of: str) -> str:
    """Asked of one's own last entry where that is long ago; ``of`` is its day."""
    return f"Your last entry is of {of}: {own.summary}. Take it back?"


def is_it_this(entry: Entry) -> str:
    """Asked of an entry of somebody else that fits the words."""
    return f"That is {entry.by}’s entry: {entry.summary}."


def only_for(member: str) -> str:
    """Said to somebody who answers for another."""
    return f"That is for {member} to say."


def taken_back_first(entry: Entry) -> str:
    """Said of an entry that a later one rests on."""
    return f"Take back what rests on it first: {entry.summary}."


def not_yours(entry: Entry) -> str:
    """The answer to somebody who has entered nothing."""
    return f"You have nothing to take back. The last entry is {entry.by}’s: {entry.summary}."


def help_text(books: Mapping[str, tuple[str, str]], last: Sequence[tuple[str, str]]) -> str:
    """What can be said: an example of each book, and how to see the rest of one."""
    more = listed([f"help {book}" for book in books], "or")
    return "\n".join(
        [
            "Write as you would to a friend. Some examples:",
            *_taught((*books.values(), *last)),
            f"For more, type {more}.",
        ]
    )


def help_on(book: str, lines: Sequence[tuple[str, str]]) -> str:
    """All that can be said of one book."""
    return "\n".join([f"{capital(book)}, in your own words:", *_taught(lines)])


def _taught(lines: Sequence[tuple[str, str]]) -> list[str]:
    return [f"• {example} ({effect})" for example, effect in lines]
