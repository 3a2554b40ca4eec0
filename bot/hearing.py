"""The ear and the skills together: messages are read with the names of their group, and each reading is answered."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace

from bot.learning import with_name
from bot.messages import Sender
from bot.open_questions import NEXT_MESSAGE
from bot.reading.form import Reading
from bot.reading.marking import Listener
from bot.reading.names import Names, names_of
from bot.reading.reader import Asked, Reader
from bot.skills import FORMS, KINDS
from bot.skills.answering import Answer, Ask, Desk, NewMember, NewName
from bot.skills.commands import in_words
from bot.skills.filling import Filling
from bot.storage.books import Books
from bot.storage.group import load_group, member, names_version
from core.group import Group

Learnt = NewName | NewMember | None
"""What an answer teaches."""


@dataclass(frozen=True, slots=True)
class Known:
    """A group with the index of its names, as of one version of them."""

    version: int
    group: Group
    names: Names
    speakers: dict[Sender, str] = field(default_factory=dict)
    """Who is who, as far as they have spoken since."""


class Hearing:
    """Knows the groups as they were when they were last looked at, and looks again where they have changed."""

    def __init__(self) -> None:
        self._reader = Reader(FORMS)
        self._known: dict[int, Known] = {}

    def forget(self, group_id: int | None = None) -> None:
        """Let go of what was seen of a group, or of all: it may have been rolled back, or be of another by now."""
        if group_id is None:
            self._known.clear()
        else:
            self._known.pop(group_id, None)

    def known(self, books: Books) -> Known:
        """The group as it is now, in this transaction."""
        version = names_version(books)
        known = self._known.get(books.group_id)
        if known is None or known.version != version:
            group = load_group(books)
            known = Known(version, group, names_of(group))
            self._known[books.group_id] = known
        return known

    def speaker(self, books: Books, sender: Sender) -> tuple[str, Known]:
        """The group's name for whoever speaks, and what the group has names for, this member now included."""
        known = self.known(books)
        if sender not in known.speakers:
            name = member(books, sender.name, sender.key, sender.surname)
            known = self.known(books)
            known.speakers[sender] = name
        return known.speakers[sender], known

    def given(self, desk: Desk, text: str, learnt: Learnt = None) -> tuple[Desk, Sequence[Answer | Ask | None]]:
        """What the skills answer to a text, reading by reading, and the desk with what is learnt before."""
        known = self._known[desk.books.group_id]
        if learnt is not None:
            group = with_name(known.group, learnt)
            known = Known(known.version, group, names_of(group))
        start = desk = replace(desk, group=known.group)
        listener = Listener(known.names, desk.settings, desk.speaker)
        messages = in_words(text).split(NEXT_MESSAGE)
        readings = [one for said in messages for one in self._reader.read(said, desk.at, listener).readings]
        desk = replace(desk, heard=tuple(reading.slots for reading in readings))
        given: list[Answer | Ask | None] = []
        for reading in readings:
            answer = self._answered(reading, desk)
            given.append(answer)
            if isinstance(answer, Answer):
                desk = replace(desk, said=(*desk.said, *answer.records))
        return start, given

    def _answered(self, reading: Reading, desk: Desk) -> Answer | Ask | None:
        """What the skill of a reading answers; a question may be asked better by the kind that it is about."""
        if isinstance(reading.slots, Asked) and reading.slots.unclear.kind:
            unclear = reading.slots.unclear
            better: Answer | Ask | None = KINDS[unclear.kind].answer(unclear.about, desk)
            return better
        answer: Answer | Ask | None = KINDS[reading.kind].answer(reading.slots, desk)
        return answer

    def kinds(self, desk: Desk, text: str) -> set[str]:
        """The kinds of what a text says."""
        readings = self._reader.read(text, desk.at, self.listener(desk)).readings
        return {reading.kind for reading in readings}

    def meant(self, desk: Desk, ways: Iterable[Filling]) -> str | None:
        """The first message that reads as nothing but what it may be; None where none does."""
        currency, listener = desk.settings.currency, self.listener(desk)
        for way in ways:
            readings = self._reader.read(way.says, desk.at, listener).readings
            if [one.kind for one in readings] == [way.kind]:
                slots = readings[0].slots.as_json(currency)
                if way.tells in slots and all(slots.get(slot) == value for slot, value in way.same.items()):
                    return way.says
        return None

    def listener(self, desk: Desk) -> Listener:
        """Whoever listens at a desk, with the names that the group had when it was last looked at."""
        return Listener(self._known[desk.books.group_id].names, desk.settings, desk.speaker)
