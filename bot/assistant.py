"""One message: read, answered, recorded and its replies queued, in one transaction."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field, replace
from datetime import datetime

from bot.flood import Flood
from bot.group_file import default_group
from bot.learning import item_of, with_name
from bot.messages import STAYS, AdministratorsWantedError, Arrival, ChatTurn, Incoming, Sender, Turn
from bot.open_questions import PATIENCE, OpenQuestion, Option
from bot.posts import welcome
from bot.posts.schedule import made_up_to
from bot.private_view import View, view
from bot.reading.form import Reading
from bot.reading.marking import Listener
from bot.reading.names import Names, names_of
from bot.reading.reader import UNCLEAR, Asked, Reader
from bot.replies import Replies
from bot.skills import FORMS, KINDS, PRESSES
from bot.skills.answering import Answer, Ask, Desk, NewMember, NewName
from bot.skills.commands import in_words
from bot.skills.house import wording
from bot.skills.house.undo import take_back
from bot.skills.restating import restated
from bot.skills.shares.closing import close as close_split
from bot.storage.books import Books, Database, NoBooksError
from bot.storage.chats import fall_silent, move, speak_again
from bot.storage.entries import entry
from bot.storage.group import leave, load_group, member, names_version
from bot.storage.inbox import heard
from bot.storage.outbox import entry_of, origin, take
from bot.storage.photos import photo_of
from bot.storage.questions import Question, close, question, set_talk, talk
from bot.storage.shares import Due, keep_open, standing
from bot.storage.shares import due as shares_due
from core.entries import Entry
from core.group import Group
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
        self._flood = Flood()

    def hear(self, incoming: Incoming) -> None:
        """Answer a message or a pressed button; one that arrives twice is taken once.

        Raises, with nothing recorded, DatabaseTroubleError where the books cannot be written, and
        AdministratorsWantedError where the chat must be asked first who administers it.
        """
        try:
            self._take(incoming)
        except BaseException:
            self._forget()
            raise

    def meet(self, turn: ChatTurn) -> None:
        """Do what is to be done when the clerk is added to a chat or removed, when the chat moves, or a member leaves.

        Raises DatabaseTroubleError with nothing recorded.
        """
        if turn.turn is Turn.MOVED:
            move(self._database, turn.moved_from or turn.chat, turn.moved_to or turn.chat, turn.at)
        with self._open(turn.chat, turn.title, private=turn.turn is Turn.UNBLOCKED) as books:
            if not _is_new(books, turn):
                return
            if turn.turn is Turn.ADDED:
                speak_again(books)
                desk = Desk(books, self._names(books).group, "", turn.at)
                made_up_to(books, desk.group, turn.at)
                welcome.greet(turn, desk)
            elif turn.turn is Turn.UNBLOCKED:
                speak_again(books)
            elif turn.turn is Turn.HEARING:
                welcome.tell_hearing(turn, Desk(books, self._names(books).group, "", turn.at))
            elif turn.turn is Turn.REMOVED:
                fall_silent(books, turn.at)
            elif turn.turn is Turn.LEFT and turn.sender.key:
                leave(books, turn.sender.key)

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
                moment = Incoming(due.chat, Sender(found.by), "", due.at, f"due:{due.number}", pressed="due")
                with self._talking(moment, desk) as replies:
                    replies.give(desk, [close_split(found, desk)])
                return True
        except BaseException:
            self._forget()
            raise

    @contextmanager
    def _open(self, chat: str, title: str | None, *, private: bool) -> Iterator[Books]:
        """The chat's books; one that has none, or has them no more, begins with those of the start.

        A group that no folder names is called what its chat is.
        """
        with ExitStack() as opened:
            try:
                books = opened.enter_context(self._database.open(chat))
            except NoBooksError:
                name = title if title and self._start == default_group() else self._start.name
                self._database.found(chat, replace(self._start, name=name, private=private))
                books = opened.enter_context(self._database.open(chat))
                self._known.pop(books.group_id, None)  # the number may be that of books that are deleted
            yield books

    def _forget(self) -> None:
        """Let go of what was seen of groups: it may have been rolled back."""
        self._known.clear()

    def _take(self, incoming: Incoming) -> None:
        with self._open(incoming.chat, incoming.title, private=incoming.private) as books:
            if not _is_new(books, incoming):
                return
            if books.is_silent:
                speak_again(books)
            seen = view(books, incoming) if incoming.private else View(books, incoming)
            if seen is None:
                return
            desk = self._desk(seen.books, incoming.sender, incoming.at)
            desk = replace(desk, topic=seen.incoming.topic, who_may_set=lambda: _administrators(seen.incoming, desk))
            with self._talking(seen.incoming, desk) as replies:
                replies.lead = seen.lead
                if (over := self._flood.over(incoming)) is not None:
                    self._slow_down(replies, desk, over)
                elif seen.incoming.corrects is not None:
                    self._correct(replies, desk, seen.incoming.corrects)
                elif seen.incoming.pressed is None:
                    self._listen(replies, desk)
                else:
                    self._press(replies, desk, seen.incoming.pressed)

    def _desk(self, books: Books, sender: Sender, at: datetime) -> Desk:
        speaker, known = self._speaker(books, sender)
        return Desk(books, known.group, speaker, at)

    @contextmanager
    def _talking(self, incoming: Incoming, desk: Desk) -> Iterator[Replies]:
        """Take up the talk of a chat where it stood, and keep how it stands in the end."""
        books = desk.books
        posted_to = made_up_to(books, desk.group, incoming.at)
        replies = Replies(incoming, talk(books), posted_to, lambda: self._names(books).group)
        before = replies.talk
        yield replies
        if replies.talk != before:
            set_talk(books, replies.talk)

    def _slow_down(self, replies: Replies, desk: Desk, over: int) -> None:
        """Ask somebody for patience, once; what they write beyond that is not heard."""
        if over == 1:
            replies.reply(desk, Answer(wording.slower(desk.speaker)))

    def _speaker(self, books: Books, sender: Sender) -> tuple[str, _Known]:
        """The group's name for whoever speaks, and what the group has names for, this member now included."""
        known = self._names(books)
        if sender not in known.speakers:
            name = member(books, sender.name, sender.key, sender.surname)
            known = self._names(books)
            known.speakers[sender] = name
        return known.speakers[sender], known

    def _correct(self, replies: Replies, desk: Desk, ref: str) -> None:
        """A message was changed after it was sent: what it entered is taken back, and it is heard as it reads now.

        One that entered nothing is heard like a new one, unless nobody has heard it yet: then it will come.
        """
        number = entry_of(desk.books, ref)
        before = entry(desk.books, number) if number is not None else None
        if before is None or before.undone_at is not None:
            take(desk.books, ref)
            self._answer(replies, desk, replies.incoming.text)
        else:
            text = replies.incoming.text
            self._restate(replies, desk, before, self._anew(desk, before, text) or text)

    def _restate(self, replies: Replies, desk: Desk, before: Entry, text: str) -> None:
        """Take an entry back and hear words in its place; nothing is said where they say the same."""
        with desk.books.trial() as trial:
            undone = take_back(before.number, desk)
            taken = entry(desk.books, before.number)
            if taken is None or taken.undone_at is None:
                replies.reply(desk, replace(undone, text=wording.not_corrected(undone.text)))
                return
            again = replace(desk, group=self._names(desk.books).group)
            replies.lead = wording.corrected(before.summary)
            number = self._answer(replies, again, text, _still_said(desk.group, again.group, text))
            after = entry(desk.books, number) if number is not None else None
            if after is not None and after.summary == before.summary:
                trial.drop()
            elif not replies.has_spoken:
                replies.lead = ""
                replies.give(again, [undone])

    def _listen(self, replies: Replies, desk: Desk) -> None:
        incoming = replies.incoming
        source = origin(desk.books, incoming.answers) if incoming.answers else None
        awaited = replies.talk.awaited
        number = source.question if source else awaited[-1] if awaited else None
        waiting = question(desk.books, number) if number is not None else None
        if waiting and not waiting.answered and (source or self._may_answer(waiting, desk)):
            asked = OpenQuestion.from_json(waiting.payload)
            option = asked.typed(incoming.text, lambda words: item_of(words, desk.at, self._listener(desk)))
            sure = option is not None and (option in asked.options or not (asked.names or asked.words))
            if option and (sure or self._fits(desk, incoming.text, option)):
                self._choose(replies, desk, waiting, option)
                return
        if source and source.entry and self._put_right(replies, desk, source.entry):
            return
        if waiting is None or waiting.by == desk.speaker or "?" in incoming.text:
            replies.turn()
        only_asked = replies.talk.only_asked == desk.speaker
        replied = source.entry if source else None
        self._answer(replies, replace(desk, replied_entry=replied, only_asked=only_asked), incoming.text)

    def _put_right(self, replies: Replies, desk: Desk, number: int) -> bool:
        """Whether a reply to an entry changes one thing of it: then the entry is said anew, with its photo."""
        before = entry(desk.books, number)
        text = self._anew(desk, before, replies.incoming.text) if before and not before.undone_at else None
        if before is None or text is None:
            return False
        photo = replies.incoming.photo or photo_of(desk.books, number)
        replies.incoming = replace(replies.incoming, photo=photo)
        self._restate(replies, desk, before, text)
        return True

    def _anew(self, desk: Desk, before: Entry, text: str) -> str | None:
        """The message that says an entry anew, with the one thing changed that a text changes."""
        return restated(text, before.number, desk, self._listener(desk))

    def _fits(self, desk: Desk, words: str, option: Option) -> bool:
        """Whether words that say nothing by themselves make sense in the place that a question left open."""
        alone, filled = self._kinds(desk, words), self._kinds(desk, option.says)
        return not option.says or (not alone and bool(filled) and UNCLEAR not in filled)

    def _kinds(self, desk: Desk, text: str) -> set[str]:
        readings = self._reader.read(text, desk.at, self._listener(desk)).readings
        return {reading.kind for reading in readings}

    def _listener(self, desk: Desk) -> Listener:
        return Listener(self._known[desk.books.group_id].names, desk.settings, desk.speaker)

    def _may_answer(self, waiting: Question, desk: Desk) -> bool:
        """Whether a word typed now, by this member, can be meant as the answer."""
        return waiting.by == desk.speaker and desk.at - waiting.asked_at <= PATIENCE

    def _press(self, replies: Replies, desk: Desk, action: str) -> None:
        what, *told = action.removeprefix(STAYS).split(":")
        if not told or not all(number.isdecimal() for number in told):
            return
        numbers = [int(number) for number in told]
        if what in PRESSES:
            replies.give(desk, [PRESSES[what](numbers, desk)])
        elif what == "pick" and len(numbers) > 1 and (waiting := question(desk.books, numbers[0])):
            options = OpenQuestion.from_json(waiting.payload).options
            if numbers[1] < len(options):
                self._choose(replies, desk, waiting, options[numbers[1]])

    def _choose(self, replies: Replies, desk: Desk, waiting: Question, option: Option) -> None:
        """Go on as if the chosen answer had been said in the first place, by whoever was asked."""
        if option.own and desk.speaker != waiting.by:
            replies.reply(desk, Answer(wording.only_for(waiting.by)))
            return
        if not close(desk.books, waiting.number):
            replies.reply(desk, Answer(wording.ANSWERED_BEFORE))
            return
        if not option.says:
            replies.give(desk, [Answer(wording.NOT_KEPT)])
            return
        asked = OpenQuestion.from_json(waiting.payload)
        learnt: NewName | NewMember | None = NewMember(option.joins) if option.joins else None
        if option.same_as is not None and asked.unknown:
            learnt = NewName(asked.unknown, option.same_as or asked.unknown)
        still_open = [number for number in replies.talk.awaited if number != waiting.number]
        self._answer(replies, replace(desk, speaker=waiting.by, at=asked.at, sure=option.sure), option.says, learnt)
        if still_open and not replies.talk.awaited:
            replies.ask_again(desk, still_open)

    def _answer(self, replies: Replies, desk: Desk, text: str, learnt: NewName | NewMember | None = None) -> int | None:
        """Hear a text; the entry that it is kept under."""
        text = in_words(text)
        known = self._known[desk.books.group_id]
        if learnt:
            group = with_name(known.group, learnt)
            known = _Known(known.version, group, names_of(group))
        desk = replace(desk, group=known.group)
        readings = self._reader.read(text, desk.at, Listener(known.names, desk.settings, desk.speaker)).readings
        desk = replace(desk, heard=tuple(reading.slots for reading in readings))
        given: list[Answer | Ask | None] = []
        for reading in readings:
            answer = self._answered(reading, desk)
            given.append(answer)
            if isinstance(answer, Answer):
                desk = replace(desk, said=(*desk.said, *answer.records))
        return replies.give(desk, given, learnt)

    def _answered(self, reading: Reading, desk: Desk) -> Answer | Ask | None:
        """What the skill of a reading answers; a question may be asked better by the kind that it is about."""
        if isinstance(reading.slots, Asked) and reading.slots.unclear.kind:
            unclear = reading.slots.unclear
            better: Answer | Ask | None = KINDS[unclear.kind].answer(unclear.about, desk)
            return better
        answer: Answer | Ask | None = KINDS[reading.kind].answer(reading.slots, desk)
        return answer

    def _names(self, books: Books) -> _Known:
        version = names_version(books)
        known = self._known.get(books.group_id)
        if known is None or known.version != version:
            group = load_group(books)
            known = _Known(version, group, names_of(group))
            self._known[books.group_id] = known
        return known


def _still_said(before: Group, after: Group, text: str) -> NewName | None:
    """The item that went with the entry which brought it, where the words in its place say it again."""
    names = (item.name for item in before.items if item.name in text and after.item(item.name) is None)
    return next((NewName(name, name) for name in names), None)


def _is_new(books: Books, arrival: Arrival) -> bool:
    """Take an arrival out of the inbox; whether it is taken for the first time."""
    if arrival.arrival is not None:
        heard(books, arrival.arrival)
    return take(books, arrival.ref)


def _administrators(incoming: Incoming, desk: Desk) -> tuple[str, ...] | None:
    """Who may change the settings: whom the chat says or, where it cannot be asked, the group file; else everybody."""
    if incoming.administrators is not None:
        return tuple(desk.speaker if one == incoming.sender else one.name for one in incoming.administrators)
    if incoming.has_administrators or desk.books.chat != desk.books.home:
        raise AdministratorsWantedError(desk.books.home)
    return desk.group.administrators or None
