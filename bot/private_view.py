"""In a private chat a member sees the books of a group they are in, and keeps them: which group, and how it is said."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from rapidfuzz.distance import OSA

from bot.messages import Button, Incoming, Post
from bot.open_questions import OpenQuestion, Option
from bot.skills.house import wording
from bot.storage.books import Books
from bot.storage.chats import Membership, group_of, memberships, show
from bot.storage.group import member
from bot.storage.outbox import queue
from bot.storage.questions import Talk, ask, close, question, set_talk, talk

OF_GROUP = "own"
"""Begins the action of a button that picks a group."""
_ASKS_FOR_ANOTHER = re.compile(
    r"/groups?|(?:(?:switch|change|swap|choose|pick) )?(?:to )?(?:the |my |a |an )?"
    r"(?:(?:other|another|wrong|different|which|what) )?groups?(?: (?:is|am|are) (?:this|it|i|we)(?: in)?)?"
    r"(?: please| pls)?"
)
_TURNING = re.compile(
    r"(?:(?:no|sorry|oops|ok|pls|please) )*(?:(?:switch|change|swap|turn|go|move) )?(?:(?:back|over) )?"
    r"(?:(?:to|use|in|for|its|i mean|i meant) )?(?:the )?(?P<name>.*?)(?: (?:please|pls|now|instead))*"
)
"""What may stand around a group's name where nothing else is said: "switch to South Packers please"."""
_OTHER = re.compile(
    r"\s*\b(?:in|for|of|to|from|at|with)\s+(?:the|my|our)\s+other\s+(?:group|one|lot)(?=\s*[?.!]*$)", re.IGNORECASE
)
_MOST_SLIPS = 2
"""Letters that may be wrong in the name of a group typed as an answer."""


@dataclass(frozen=True, slots=True)
class View:
    """The books that a private chat shows, what is to be heard in them, and what opens the replies."""

    books: Books
    incoming: Incoming
    heading: str = ""


def views(books: Books, incoming: Incoming) -> list[View]:
    """What a private message is about: the books of the one group its sender is in, or of the one they picked.

    Empty where that is answered with a question or a sentence of its own; several where messages have waited for a
    group to be picked. Somebody who is in no group has books of their own.
    """
    key = incoming.sender.key
    if key is None:
        return [View(books, incoming)]
    found = _told_apart(memberships(books, key))
    if (picked := _picked(books, incoming, found)) is not None:
        return _turn_to(picked, books, found, incoming)
    if books.chat == books.home and (not found or incoming.pressed):
        return [View(books, incoming)]
    if not found:
        queue(books, Post(wording.NOT_YOUR_GROUP), incoming.at)
        return []
    is_change = _ASKS_FOR_ANOTHER.fullmatch(_plain(incoming.text)) is not None
    if is_change and len(found) > 1:
        return _asked(books, found, replace(incoming, text=""))
    if is_change:
        return _turn_to(found[0], books, found, incoming)
    if len(found) == 1 and (books.chat == books.home or found[0].group_id == books.group_id):
        return _heard_in(found[0], books, found, [*_no_longer_waiting(books, incoming), incoming])
    return _placed(books, found, incoming)


def _told_apart(found: Sequence[Membership]) -> list[Membership]:
    """Groups of one name are numbered, the oldest first."""
    names = [one.group for one in found]
    return [
        replace(one, group=f"{one.group} ({names[: place + 1].count(one.group)})")
        if names.count(one.group) > 1
        else one
        for place, one in enumerate(found)
    ]


def _placed(books: Books, found: Sequence[Membership], incoming: Incoming) -> list[View]:
    """What belongs to a post or message is heard where that is; a group that is not sure is asked for."""
    of_post = group_of(books, incoming.answers, incoming.corrects)
    shown = next((one for one in found if one.group_id == books.group_id), None)
    belongs = next((one for one in found if one.group_id == of_post), shown if incoming.pressed else None)
    if belongs is not None:
        return _heard_in(belongs, books, found, [incoming])
    if shown is not None and _OTHER.search(incoming.text):
        there = replace(incoming, text=_OTHER.sub("", incoming.text))
        others = [one for one in found if one is not shown]
        return _heard_in(others[0], books, found, [there]) if len(others) == 1 else _asked(books, found, there)
    addressed = [one for one in found if _address(one).search(incoming.text)]
    if len(addressed) == 1:
        text = _address(addressed[0]).sub("", incoming.text).strip()
        return _heard_in(addressed[0], books, found, [replace(incoming, text=text)])
    is_sure = shown is not None and _is_settled(books, found) and not set(_mentioned(incoming.text, found)) - {shown}
    return _heard_in(shown, books, found, [incoming]) if shown and is_sure else _asked(books, found, incoming)


def _is_settled(books: Books, found: Sequence[Membership]) -> bool:
    """Whether the group was picked out of all those that the member is in by now, and no question about it is open."""
    now = talk(books)
    return {one.group_id for one in found} <= set(now.known) and not now.unplaced


def _heard_in(
    group: Membership, books: Books, found: Sequence[Membership], said: Sequence[Incoming], *, told: bool = True
) -> list[View]:
    """What was said, in the books of a group, which the chat shows from now on; of several, each reply names it."""
    is_news = not told or group.group_id != books.group_id
    short = wording.in_group(group.group) if len(found) > 1 else ""
    long = wording.these_books(group.group, several=len(found) > 1)
    if is_news or not _is_settled(books, found):
        known = tuple(one.group_id for one in found)
        kept = talk(books) if group.group_id == books.group_id else Talk()
        books = show(books, group)
        set_talk(books, replace(kept, known=known, unplaced=()))
    return [View(books, one, long if is_news and place == 0 else short) for place, one in enumerate(said)]


def _asked(books: Books, found: Sequence[Membership], incoming: Incoming) -> list[View]:
    """Ask in which group it was said; whatever was said meanwhile waits with it."""
    speaker = member(books, incoming.sender.name, incoming.sender.key, incoming.sender.surname)
    kept = (Option(incoming.corrects or incoming.ref, incoming.text), *_photo(incoming))
    number = ask(books, speaker, incoming.at, OpenQuestion(wording.WHICH_GROUP, incoming.at, kept).to_json())
    before = talk(books)
    unplaced = (*before.unplaced, number)
    set_talk(books, replace(before, unplaced=unplaced))
    shown = next((one.group for one in found if one.group_id == books.group_id), None)
    buttons = tuple(Button(one.group, f"{OF_GROUP}:{one.group_id}:{number}") for one in found)
    text = wording.which_group(shown, len(_waiting(books, unplaced, incoming)))
    queue(books, Post(text, buttons, answers=incoming.ref), incoming.at)
    return []


def _photo(incoming: Incoming) -> list[Option]:
    return [Option(incoming.photo, "")] if incoming.photo else []


def _picked(books: Books, incoming: Incoming, found: Sequence[Membership]) -> Membership | None:
    """The group of a pressed button, where its presser is a member of it, or the one that is named and nothing else."""
    if incoming.pressed:
        what, *numbers = incoming.pressed.split(":")
        is_ours = what == OF_GROUP and len(numbers) == len(("group", "question"))
        return next((one for one in found if is_ours and str(one.group_id) == numbers[0]), None)
    if len(found) < 2 or incoming.corrects:
        return None
    said = _plain(incoming.text)
    turning = _TURNING.fullmatch(said)
    names = {said, turning["name"] if turning else said}
    same = [one for one in found if _plain(one.group) in names]
    if not same and talk(books).unplaced:
        same = [one for one in found if any(_answers(name, one, found) for name in names)]
    return same[0] if len(same) == 1 else None


def _answers(typed: str, group: Membership, found: Sequence[Membership]) -> bool:
    """Whether typed words answer which group: a word of its name alone, or its name with slips."""
    own, others = set(_plain(group.group).split()), [_plain(one.group) for one in found if one is not group]
    if set(typed.split()) <= own - {word for other in others for word in other.split()} and typed:
        return True
    slips = OSA.distance(typed, _plain(group.group))
    return slips <= _MOST_SLIPS and all(slips < OSA.distance(typed, other) for other in others)


def _turn_to(picked: Membership, books: Books, found: Sequence[Membership], incoming: Incoming) -> list[View]:
    """Show the books of the group that was picked, and hear there what was said before the question."""
    said = _no_longer_waiting(books, incoming)
    heard = _heard_in(picked, books, found, said, told=False)
    if not said:
        there = _heard_in(picked, books, found, [incoming], told=False)[0]
        place = {"edits": incoming.answers} if incoming.pressed else {"answers": incoming.ref}
        queue(there.books, Post(there.heading, **place), incoming.at)
    return heard


def _no_longer_waiting(books: Books, incoming: Incoming) -> list[Incoming]:
    """What was said before its group was picked, which is heard now."""
    unplaced = talk(books).unplaced
    said = _waiting(books, unplaced, incoming)
    for number in unplaced:
        close(books, number)
    return said


def _waiting(books: Books, unplaced: Sequence[int], incoming: Incoming) -> list[Incoming]:
    """What was said before its group was picked, in its order, each message as it reads now."""
    said: dict[str, Incoming] = {}
    for number in unplaced:
        waits = question(books, number)
        if waits is not None and not waits.answered:
            asked = OpenQuestion.from_json(waits.payload)
            message, *photo = asked.options
            then = replace(incoming, text=message.says, at=asked.at, ref=message.label, answers=None, pressed=None)
            said[message.label] = replace(then, photo=photo[0].label if photo else None, corrects=None)
    return [one for one in said.values() if one.text]


def _plain(words: str) -> str:
    return " ".join(re.findall(r"[^\W_]+|/", words.casefold().replace("’", "").replace("'", ""))).replace("/ ", "/")


def _mentioned(text: str, found: Sequence[Membership]) -> list[Membership]:
    """The groups whose names of several words stand in a message; one that is but a part of another's is none."""
    plain = f" {_plain(text)} "
    named = [one for one in found if " " in _plain(one.group) and f" {_plain(one.group)} " in plain]
    return [
        one for one in named if not any(_plain(one.group) in _plain(other.group) for other in named if other != one)
    ]


def _address(group: Membership) -> re.Pattern[str]:
    """Where a message says to which group: "for South Packers" at its end, "South Packers:" at its start.

    A name of one word counts as it is written, for it may be a plain word too.
    """
    words = group.group.split()
    name = r"\s+".join(map(re.escape, words))
    last = rf",?\s*\b(?:in|for|of|to|from|at|@)\s+(?:the\s+)?{name}(?=\s*[?.!]*$)"
    return re.compile(rf"^\s*{name}\s*[:,]|{last}", re.IGNORECASE if len(words) > 1 else 0)
