"""One message: read, answered, recorded and its replies queued, in one transaction."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import datetime

from bot.group_file import default_group
from bot.learning import items_by_name, like, with_name
from bot.messages import STAYS, TAKE_BACK, AdministratorsWantedError, Button, Incoming, Post, Sender
from bot.open_questions import NEW_ITEM, PATIENCE, OpenQuestion, Option
from bot.posts import deal_alert
from bot.posts.schedule import come_to, made_up_to
from bot.private_view import OF_GROUP, own_view, picked
from bot.reading.form import Reading
from bot.reading.marking import Listener
from bot.reading.names import Names, names_of
from bot.reading.reader import UNCLEAR, Asked, Reader
from bot.recording import keep
from bot.skills import FORMS, KINDS, PRESSES
from bot.skills.answering import (
    OPENED,
    Answer,
    Ask,
    Desk,
    NewMember,
    NewName,
    Record,
)
from bot.skills.house import wording
from bot.skills.shares.closing import close as close_split
from bot.skills.shares.live import live_post
from bot.storage.books import Books, Database
from bot.storage.entries import new_entry
from bot.storage.group import load_group, member, names_version
from bot.storage.outbox import origin, queue, take
from bot.storage.questions import Question, Talk, ask, close, question, set_talk, talk
from bot.storage.shares import Due, keep_open, opened_in, standing
from bot.storage.shares import due as shares_due
from core.group import Group
from core.reminders import Reminder, ReminderChange
from core.shares import State


@dataclass(frozen=True, slots=True)
class _Known:
    """A group with the index of its names, as of one version of them."""

    version: int
    group: Group
    names: Names
    speakers: dict[Sender, str] = field(default_factory=dict)
    """Who is who, as far as they have spoken since."""


class Assistant:
    """Hears the messages of every group; synchronous, with the books and the time handed in."""

    def __init__(self, database: Database, start: Group | None) -> None:
        self._database = database
        self._start = start or default_group()
        self._reader = Reader(FORMS)
        self._known: dict[int, _Known] = {}
        self._founded: set[str] = set()
        self._talks: dict[int, Talk] = {}
        """By group, while it is served, what a word said next may refer to."""
        self._posted_to: dict[int, datetime] = {}
        """By group, while it is served, up to which time of its clock its posts are made."""

    def hear(self, incoming: Incoming) -> None:
        """Answer a message or a pressed button; one that arrives twice is taken once.

        Raises, with nothing recorded, DatabaseTroubleError where the books cannot be written, and
        AdministratorsWantedError where the chat must be asked first who administers it.
        """
        if incoming.chat not in self._founded:
            self._database.found(incoming.chat, replace(self._start, private=incoming.private))
            self._founded.add(incoming.chat)
        try:
            self._take(incoming)
        except BaseException:
            self._forget()
            raise

    def close_due(self, now: datetime) -> list[str]:
        """Close the splits whose time has come by now, each once, at that moment; the chats with new posts.

        Raises DatabaseTroubleError, with what is not yet done left for the next call.
        """
        return [due.chat for due in shares_due(self._database, now) if self._close_due(due)]

    def _close_due(self, due: Due) -> bool:
        """Close a split whose time has come; False where somebody has done so, or moved it, meanwhile."""
        try:
            with self._database.open(due.chat) as books:
                found = standing(books, due.number)
                if found is None or found.state is not State.OPEN or found.offer.closes_at != due.at:
                    return False
                keep_open(books, due.number)
                desk = Desk(books, self._names(books).group, found.by, due.at)
                self._posted_to[books.group_id] = made_up_to(books, desk.group, due.at)
                moment = Incoming(due.chat, Sender(found.by), "", due.at, f"due:{due.number}", pressed="due")
                with self._talking(books):
                    self._give(moment, desk, [close_split(found, desk)])
                return True
        except BaseException:
            self._forget()
            raise

    def _forget(self) -> None:
        """Let go of what was seen of groups: it may have been rolled back."""
        self._known.clear()

    def _take(self, incoming: Incoming) -> None:
        with self._database.open(incoming.chat) as books:
            if not take(books, incoming.ref):
                return
            speaker, known = self._speaker(books, incoming.sender)
            self._posted_to[books.group_id] = made_up_to(books, known.group, incoming.at)
            desk = Desk(
                books, known.group, speaker, incoming.at, who_may_set=lambda: _administrators(incoming, speaker, known)
            )
            with self._talking(books):
                if incoming.pressed is None:
                    self._listen(incoming, desk)
                else:
                    self._press(incoming, desk, incoming.pressed)

    @contextmanager
    def _talking(self, books: Books) -> Iterator[None]:
        """Take up the talk of a group where it stood, and keep how it stands in the end."""
        before = self._talks[books.group_id] = talk(books)
        yield
        after = self._talks.pop(books.group_id)
        if after != before:
            set_talk(books, after)

    def _turn(self, desk: Desk, awaited: Sequence[int] = ()) -> None:
        """These questions alone, or none, may be answered by a word said next."""
        self._talks[desk.books.group_id] = replace(self._talks[desk.books.group_id], awaited=tuple(awaited))

    def _only_asked(self, desk: Desk, member: str | None) -> None:
        """Note whose message was answered with nothing but questions."""
        self._talks[desk.books.group_id] = replace(self._talks[desk.books.group_id], only_asked=member)

    def _speaker(self, books: Books, sender: Sender) -> tuple[str, _Known]:
        """The group's name for whoever speaks, and what the group has names for, this member now included."""
        known = self._names(books)
        if sender not in known.speakers:
            name = member(books, sender.name, sender.key)
            known = self._names(books)
            known.speakers[sender] = name
        return known.speakers[sender], known

    def _listen(self, incoming: Incoming, desk: Desk) -> None:
        source = origin(desk.books, incoming.answers) if incoming.answers else None
        awaited = self._talks[desk.books.group_id].awaited
        number = source.question if source else awaited[-1] if awaited else None
        waiting = question(desk.books, number) if number is not None else None
        if waiting and not waiting.answered and (source or self._may_answer(waiting, desk)):
            asked = OpenQuestion.from_json(waiting.payload)
            option = asked.typed(incoming.text, items_by_name(desk.group))
            sure = option is not None and (option in asked.options or not (asked.names or asked.words))
            if option and (sure or self._fits(desk, incoming.text, option)):
                self._choose(incoming, desk, waiting, option)
                return
        if waiting is None or waiting.by == desk.speaker or "?" in incoming.text:
            self._turn(desk)
        only_asked = self._talks[desk.books.group_id].only_asked == desk.speaker
        replied = source.entry if source else None
        self._answer(incoming, replace(desk, replied_entry=replied, only_asked=only_asked), incoming.text)

    def _fits(self, desk: Desk, words: str, option: Option) -> bool:
        """Whether words that say nothing by themselves make sense in the place that a question left open."""
        alone, filled = self._kinds(desk, words), self._kinds(desk, option.says)
        return not option.says or (not alone and bool(filled) and UNCLEAR not in filled)

    def _kinds(self, desk: Desk, text: str) -> set[str]:
        names = self._known[desk.books.group_id].names
        readings = self._reader.read(text, desk.at, Listener(names, desk.settings, desk.speaker)).readings
        return {reading.kind for reading in readings}

    def _may_answer(self, waiting: Question, desk: Desk) -> bool:
        """Whether a word typed now, by this member, can be meant as the answer."""
        return waiting.by == desk.speaker and desk.at - waiting.asked_at <= PATIENCE

    def _press(self, incoming: Incoming, desk: Desk, action: str) -> None:
        what, *told = action.removeprefix(STAYS).split(":")
        if not told or not all(number.isdecimal() for number in told):
            return
        numbers = [int(number) for number in told]
        if what in PRESSES:
            self._give(incoming, desk, [PRESSES[what](numbers, desk)])
        elif what == OF_GROUP and incoming.private:
            self._give(incoming, desk, [picked(numbers[0], incoming.sender, desk)])
        elif what == "pick" and len(numbers) > 1 and (waiting := question(desk.books, numbers[0])):
            options = OpenQuestion.from_json(waiting.payload).options
            if numbers[1] < len(options):
                self._choose(incoming, desk, waiting, options[numbers[1]])

    def _choose(self, incoming: Incoming, desk: Desk, waiting: Question, option: Option) -> None:
        """Go on as if the chosen answer had been said in the first place, by whoever was asked."""
        if option.own and desk.speaker != waiting.by:
            self._reply(incoming, desk, Answer(wording.only_for(waiting.by)), None)
            return
        if not close(desk.books, waiting.number):
            self._reply(incoming, desk, Answer(wording.ANSWERED_BEFORE), None)
            return
        if not option.says:
            self._reply(incoming, desk, Answer(wording.NOT_KEPT), None)
            return
        asked = OpenQuestion.from_json(waiting.payload)
        learnt: NewName | NewMember | None = NewMember(option.joins) if option.joins else None
        if option.same_as is not None and asked.unknown:
            learnt = NewName(asked.unknown, option.same_as or asked.unknown)
        still_open = [number for number in self._talks[desk.books.group_id].awaited if number != waiting.number]
        self._answer(incoming, replace(desk, speaker=waiting.by, at=asked.at, sure=option.sure), option.says, learnt)
        if still_open and not self._talks[desk.books.group_id].awaited:
            self._ask_again(incoming, desk, still_open)

    def _ask_again(self, incoming: Incoming, desk: Desk, still_open: list[int]) -> None:
        """Put the last question of the same message again that nobody has answered yet."""
        waiting = question(desk.books, still_open[-1])
        if waiting and not waiting.answered:
            asked = OpenQuestion.from_json(waiting.payload)
            again = Post(asked.text, _buttons(waiting.number, asked.options))
            queue(desk.books, again, incoming.at, question=waiting.number)
            self._turn(desk, still_open)

    def _answer(self, incoming: Incoming, desk: Desk, text: str, learnt: NewName | NewMember | None = None) -> None:
        known = self._known[desk.books.group_id]
        if learnt:
            group = with_name(known.group, learnt)
            known = _Known(known.version, group, names_of(group))
        desk = replace(desk, group=known.group)
        readings = self._reader.read(text, desk.at, Listener(known.names, desk.settings, desk.speaker)).readings
        given: list[Answer | Ask | None] = []
        for reading in readings:
            answer: Answer | Ask | None = own_view(reading, incoming.sender, desk) if incoming.private else None
            answer = answer or self._answered(reading, desk)
            given.append(answer)
            if isinstance(answer, Answer):
                desk = replace(desk, said=(*desk.said, *answer.records))
        self._give(incoming, desk, given, learnt)

    def _answered(self, reading: Reading, desk: Desk) -> Answer | Ask | None:
        """What the skill of a reading answers; a question may be asked better by the kind that it is about."""
        if isinstance(reading.slots, Asked) and reading.slots.unclear.kind:
            unclear = reading.slots.unclear
            better: Answer | Ask | None = KINDS[unclear.kind].answer(unclear.about, desk)
            return better
        answer: Answer | Ask | None = KINDS[reading.kind].answer(reading.slots, desk)
        return answer

    def _give(
        self,
        incoming: Incoming,
        desk: Desk,
        given: Sequence[Answer | Ask | None],
        learnt: NewName | NewMember | None = None,
    ) -> None:
        """Keep, reply to and ask whatever was given for one message."""
        answers = [one for one in given if isinstance(one, Answer)]
        asks = [one for one in given if isinstance(one, Ask)]
        self._only_asked(desk, None)
        if answers or learnt:
            self._keep(incoming, desk, answers, learnt)
        elif asks:
            self._only_asked(desk, desk.speaker)
        if asks:
            self._turn(desk)
        for asking in asks:
            self._ask(incoming, desk, asking)

    def _keep(self, incoming: Incoming, desk: Desk, answers: list[Answer], learnt: NewName | NewMember | None) -> None:
        """Put what the answers keep into one entry, queue one reply, and bring the posts of splits up to date."""
        records: list[Record] = [learnt] if learnt else []
        records += [record for answer in answers for record in answer.records]
        entry = None
        if records:
            summary = "; ".join(answer.summary for answer in answers if answer.summary)
            entry = new_entry(desk.books, desk.speaker, incoming.at, summary or wording.learnt(learnt))
            for record in records:
                keep(desk.books, entry, record)
        offered = next((answer.offer_take_back for answer in answers if answer.offer_take_back), None)
        text = "\n".join(answer.text for answer in answers if answer.text)
        if text:
            buttons = tuple(button for answer in answers for button in answer.buttons)
            self._reply(incoming, desk, Answer(text, offer_take_back=entry or offered, buttons=buttons), entry)
        for split in dict.fromkeys(answer.split for answer in answers if answer.split is not None):
            self._draw(incoming, desk, split, entry)
        if answers or learnt:
            self._react(incoming, desk, records, entry)

    def _react(self, incoming: Incoming, desk: Desk, records: Sequence[Record], entry: int | None) -> None:
        """Queue the posts that react to what was kept, and reckon the calendar anew where it may have changed."""
        group = self._names(desk.books).group
        is_held = False
        if entry is not None:
            after = replace(desk, group=group, said=())
            reaction = deal_alert.react(records, entry, after)
            is_held = reaction.is_held
            for post in reaction.posts:
                queue(desk.books, post, incoming.at, entry=entry)
        # Settings, sales, kits and taking back make the group's names another version, and so another object.
        if is_held or group is not desk.group or any(isinstance(one, Reminder | ReminderChange) for one in records):
            come_to(desk.books, group, self._posted_to[desk.books.group_id], incoming.at)

    def _draw(self, incoming: Incoming, desk: Desk, number: int, entry: int | None) -> None:
        """Queue the post of a split as it stands now."""
        found = opened_in(desk.books, entry or 0) if number == OPENED else standing(desk.books, number)
        if found is not None:
            text, buttons = live_post(found, desk)
            answers = _answered(incoming) if number == OPENED else None
            drawn = Post(text, buttons, answers=answers, split=found.number)
            queue(desk.books, drawn, incoming.at, entry=found.entry)

    def _reply(self, incoming: Incoming, desk: Desk, answer: Answer, entry: int | None) -> None:
        self._turn(desk)
        number = answer.offer_take_back
        undo = (Button(TAKE_BACK, f"undo:{number}"),) if number else ()
        queue(
            desk.books,
            Post(answer.text, (*answer.buttons, *undo), answers=_answered(incoming)),
            incoming.at,
            entry=entry,
        )

    def _ask(self, incoming: Incoming, desk: Desk, asking: Ask) -> None:
        learns = NEW_ITEM if asking.unknown is not None else None
        options = [
            Option(choice.label, choice.says, learns, choice.sure, choice.joins, choice.own)
            for choice in asking.choices
        ]
        if asking.unknown is not None and options:
            options += [Option(f"Same as {name}", options[0].says, name) for name in like(desk.group, asking.unknown)]
        number = None
        if options or asking.hole:
            waiting = OpenQuestion(
                asking.question, desk.at, tuple(options), asking.hole, asking.unknown, asking.names, asking.words
            )
            number = ask(desk.books, desk.speaker, incoming.at, waiting.to_json())
            self._turn(desk, (*self._talks[desk.books.group_id].awaited, number))
        asked = Post(asking.question, _buttons(number, options), answers=_answered(incoming))
        queue(desk.books, asked, incoming.at, question=number)

    def _names(self, books: Books) -> _Known:
        version = names_version(books)
        known = self._known.get(books.group_id)
        if known is None or known.version != version:
            group = load_group(books)
            known = _Known(version, group, names_of(group))
            self._known[books.group_id] = known
        return known


def _administrators(incoming: Incoming, speaker: str, known: _Known) -> tuple[str, ...] | None:
    """Who may change the settings: whom the chat says or, where it cannot be asked, the group file; else everybody."""
    if incoming.administrators is not None:
        return tuple(speaker if one == incoming.sender else one.name for one in incoming.administrators)
    if incoming.has_administrators:
        raise AdministratorsWantedError
    return known.group.administrators or None


def _buttons(number: int | None, options: Sequence[Option]) -> tuple[Button, ...]:
    """The buttons under a question, one for each of its answers."""
    return tuple(Button(option.label, f"pick:{number}:{index}") for index, option in enumerate(options))


def _answered(incoming: Incoming) -> str | None:
    """The message that a reply answers; a press has none of its own."""
    return incoming.ref if incoming.pressed is None else None
