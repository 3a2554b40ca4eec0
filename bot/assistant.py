"""One message: read, answered, recorded and its replies queued, in one transaction."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime

from rapidfuzz import fuzz, process

from bot.group_file import default_group
from bot.messages import TAKE_BACK, Button, Incoming, Post
from bot.open_questions import PATIENCE, OpenQuestion, Option
from bot.reading.names import Names, names_of
from bot.reading.reader import Listener, Reader
from bot.skills import FORMS, KINDS
from bot.skills.answering import Answer, Ask, Desk, NewPricePoint, Record
from bot.skills.house import undo, wording
from bot.storage.books import Books, Database
from bot.storage.entries import new_entry
from bot.storage.group import add_alias, add_item, load_group, member, names_version, set_price_point
from bot.storage.outbox import origin, queue, take
from bot.storage.prices import add_note, add_purchase, add_sighting
from bot.storage.questions import ask, close, newest_open, question
from core.group import Group
from core.items import Note
from core.prices import Purchase, Sighting

_LIKE_NAMES = 3
_LIKENESS = 45
_NEW_ITEM = ""


@dataclass(frozen=True, slots=True)
class _Known:
    version: int
    group: Group
    names: Names


@dataclass(frozen=True, slots=True)
class _Lesson:
    """What an answer taught: an unknown word is a new item, or another name of one."""

    word: str
    same_as: str


class Assistant:
    """Hears the messages of every group; synchronous, with the books and the time handed in."""

    def __init__(self, database: Database, start: Group | None) -> None:
        self._database = database
        self._start = start or default_group()
        self._reader = Reader(FORMS)
        self._known: dict[int, _Known] = {}

    def hear(self, incoming: Incoming) -> None:
        """Answer a message or a pressed button. One that arrives twice is taken once."""
        if not self._database.knows(incoming.chat):
            self._database.found(incoming.chat, self._start)
        with self._database.open(incoming.chat) as books:
            if not take(books, incoming.ref):
                return
            speaker = member(books, incoming.sender.name, incoming.sender.key)
            if incoming.pressed is not None:
                self._press(books, incoming, speaker, incoming.pressed)
            else:
                self._listen(books, incoming, speaker)

    def _listen(self, books: Books, incoming: Incoming, speaker: str) -> None:
        entry, asked = _behind(books, incoming)
        waiting = question(books, asked) if asked is not None else newest_open(books, speaker, incoming.at - PATIENCE)
        if waiting and not waiting.answered:
            known = OpenQuestion.from_json(waiting.payload)
            option = known.typed(incoming.text) or self._named(books, known, incoming.text)
            if option:
                close(books, waiting.number)
                self._take_option(books, incoming, known, option, waiting.by)
                return
        desk = Desk(books, self._names(books).group, speaker, incoming.at, replied_entry=entry)
        self._answer(incoming, desk, incoming.text)

    def _named(self, books: Books, waiting: OpenQuestion, text: str) -> Option | None:
        """An item's name typed as the answer to "the same as one of ours?"."""
        if waiting.unknown is None:
            return None
        said = self._read(books, text, waiting.at, "")
        names = [name for name in said if name.casefold() != waiting.unknown.casefold()]
        return Option(names[0], waiting.options[0].says, names[0]) if len(names) == 1 else None

    def _read(self, books: Books, text: str, at: datetime, speaker: str) -> list[str]:
        """The items of the group that a short text names and nothing else."""
        known = self._names(books)
        plain = text.strip().casefold().removeprefix("same as ").strip(" .!")
        del at, speaker
        return [item.name for item in known.group.items if plain in map(str.casefold, (item.name, *item.aliases))]

    def _press(self, books: Books, incoming: Incoming, speaker: str, action: str) -> None:
        what, _, rest = action.partition(":")
        desk = Desk(books, self._names(books).group, speaker, incoming.at)
        if what == "undo" and rest.isdecimal():
            self._post(books, incoming, undo.take_back(int(rest), desk), None)
            return
        number, _, index = rest.partition(":")
        waiting = question(books, int(number)) if number.isdecimal() else None
        known = OpenQuestion.from_json(waiting.payload) if waiting else None
        if what != "pick" or waiting is None or known is None or not index.isdecimal():
            return
        if int(index) >= len(known.options):
            return
        if not close(books, waiting.number):
            self._post(books, incoming, Answer(wording.ANSWERED_BEFORE), None)
            return
        self._take_option(books, incoming, known, known.options[int(index)], waiting.by)

    def _take_option(self, books: Books, incoming: Incoming, asked: OpenQuestion, option: Option, by: str) -> None:
        """Go on as if the chosen answer had been said in the first place, by whoever was asked."""
        lesson = None
        if option.same_as is not None and asked.unknown:
            lesson = _Lesson(asked.unknown, option.same_as)
        desk = Desk(books, self._names(books).group, by, asked.at, option.sure)
        self._answer(incoming, desk, option.says, lesson)

    def _answer(self, incoming: Incoming, desk: Desk, text: str, lesson: _Lesson | None = None) -> None:
        entry = None
        if lesson:
            entry = new_entry(desk.books, desk.speaker, incoming.at, text)
            _learn(desk.books, entry, lesson)
            desk = replace(desk, group=self._names(desk.books).group)
        listener = Listener(self._names(desk.books).names, desk.settings, desk.speaker)
        readings = self._reader.read(text, desk.at, listener).readings
        given = [KINDS[reading.kind].answer(reading.slots, desk) for reading in readings]
        answers = [one for one in given if isinstance(one, Answer)]
        if answers:
            self._keep(incoming, desk, answers, entry)
        for asking in given:
            if isinstance(asking, Ask):
                self._ask(incoming, desk, asking)

    def _keep(self, incoming: Incoming, desk: Desk, answers: list[Answer], entry: int | None) -> None:
        records = [record for answer in answers for record in answer.records]
        if records:
            summary = "; ".join(answer.summary for answer in answers if answer.summary)
            if entry is None:
                entry = new_entry(desk.books, desk.speaker, incoming.at, summary)
            for record in records:
                _record(desk.books, entry, record)
        text = "\n".join(answer.text for answer in answers)
        offered = next((answer.offer_take_back for answer in answers if answer.offer_take_back), None)
        self._post(desk.books, incoming, Answer(text, offer_take_back=entry if records else offered), entry)

    def _post(self, books: Books, incoming: Incoming, answer: Answer, entry: int | None) -> None:
        number = answer.offer_take_back
        buttons = (Button(TAKE_BACK, f"undo:{number}"),) if number else ()
        answers = incoming.ref if incoming.pressed is None else None
        queue(books, Post(answer.text, buttons, answers=answers), incoming.at, entry=entry)

    def _ask(self, incoming: Incoming, desk: Desk, asking: Ask) -> None:
        options = [_option(choice.label, choice.says, asking) for choice in asking.choices]
        if asking.unknown is not None and options:
            options += self._like(desk, asking.unknown, options[0].says)
        waiting = OpenQuestion(asking.question, desk.at, tuple(options), asking.hole, asking.unknown)
        number = ask(desk.books, desk.speaker, incoming.at, waiting.to_json()) if options or asking.hole else None
        buttons = tuple(Button(option.label, f"pick:{number}:{index}") for index, option in enumerate(options))
        answers = incoming.ref if incoming.pressed is None else None
        queue(desk.books, Post(asking.question, buttons, answers=answers), incoming.at, question=number)

    def _like(self, desk: Desk, word: str, says: str) -> list[Option]:
        """The group's items most like an unknown word, as choices."""
        names = [item.name for item in desk.group.items]
        near = process.extract(word, names, scorer=fuzz.WRatio, score_cutoff=_LIKENESS, limit=_LIKE_NAMES)
        return [Option(f"Same as {name}", says, name) for name, _, _ in near]

    def _names(self, books: Books) -> _Known:
        version = names_version(books)
        known = self._known.get(books.group_id)
        if known is None or known.version != version:
            group = load_group(books)
            known = _Known(version, group, names_of(group))
            self._known[books.group_id] = known
        return known


def _behind(books: Books, incoming: Incoming) -> tuple[int | None, int | None]:
    """The entry and the question behind the post that a message replies to."""
    source = origin(books, incoming.answers) if incoming.answers else None
    return (source.entry, source.question) if source else (None, None)


def _option(label: str, says: str, asking: Ask) -> Option:
    return Option(label, says, _NEW_ITEM if asking.unknown is not None else None, asking.unknown is None)


def _learn(books: Books, entry: int, lesson: _Lesson) -> None:
    if lesson.same_as == _NEW_ITEM:
        add_item(books, entry, lesson.word)
    else:
        add_alias(books, entry, lesson.word, lesson.same_as)


_KEEPERS: dict[type, Callable[[Books, int, object], None]] = {
    Sighting: add_sighting,  # type: ignore[dict-item] # each keeper takes its own record
    Purchase: add_purchase,  # type: ignore[dict-item]
    Note: add_note,  # type: ignore[dict-item]
}


def _record(books: Books, entry: int, record: Record) -> None:
    if isinstance(record, NewPricePoint):
        set_price_point(books, entry, record.item, record.point)
    else:
        _KEEPERS[type(record)](books, entry, record)
