"""One message: read, answered, recorded and its replies queued, in one transaction."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from datetime import datetime, timedelta

from bot.flood import Flood
from bot.group_file import default_group
from bot.hearing import Hearing, Learnt
from bot.learning import item_of
from bot.messages import STAYS, AdministratorsWantedError, Arrival, ChatTurn, Incoming, Sender, Turn
from bot.open_questions import PATIENCE, OpenQuestion, Option
from bot.posts import welcome
from bot.posts.schedule import made_up_to
from bot.private_view import View, views
from bot.reading.corrections import sounds_corrected
from bot.reading.reader import UNCLEAR
from bot.replies import Replies
from bot.skills import PRESSES
from bot.skills.answering import Answer, Ask, Desk, NewMember, NewName
from bot.skills.filling import filled, orders_change
from bot.skills.house import setting_up, wording
from bot.skills.house.undo import take_back
from bot.skills.restating import is_beyond, restated
from bot.skills.shares.closing import close as close_split
from bot.storage.books import Books, Database, NoBooksError
from bot.storage.chats import fall_silent, move, speak_again
from bot.storage.entries import entry, held_by
from bot.storage.group import leave
from bot.storage.inbox import heard
from bot.storage.outbox import asked_of, entry_of, origin, pass_on, take
from bot.storage.photos import photo_of
from bot.storage.questions import Question, close, question, set_talk, talk
from bot.storage.shares import Due, keep_open, standing
from bot.storage.shares import due as shares_due
from core.entries import Entry
from core.group import Group
from core.shares import State

AT_ONCE = timedelta(minutes=10)
"""How long words that reply to nothing may correct what one has just said."""


class Assistant:
    """Hears the messages of every group; synchronous, with the books and the time handed in."""

    def __init__(self, database: Database, start: Group | None) -> None:
        self._database = database
        self._start = start or default_group()
        self._hearing = Hearing()
        self._flood = Flood()

    def hear(self, incoming: Incoming) -> None:
        """Answer a message or a pressed button; one that arrives twice is taken once.

        Raises, with nothing recorded, DatabaseTroubleError where the books cannot be written, and
        AdministratorsWantedError where the chat must be asked first who administers it.
        """
        try:
            self._take(incoming)
        except BaseException:
            self._hearing.forget()
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
                desk = Desk(books, self._hearing.known(books).group, "", turn.at)
                made_up_to(books, desk.group, turn.at)
                welcome.greet(turn, desk)
            elif turn.turn is Turn.UNBLOCKED:
                speak_again(books)
            elif turn.turn is Turn.HEARING:
                welcome.tell_hearing(turn, Desk(books, self._hearing.known(books).group, "", turn.at))
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
                desk = Desk(books, self._hearing.known(books).group, found.by, due.at)
                moment = Incoming(due.chat, Sender(found.by), "", due.at, f"due:{due.number}", pressed="due")
                with self._talking(moment, desk) as replies:
                    replies.give(desk, [close_split(found, desk)])
                return True
        except BaseException:
            self._hearing.forget()
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
                self._hearing.forget(books.group_id)  # the number may be that of books that are deleted
            yield books

    def _take(self, incoming: Incoming) -> None:
        with self._open(incoming.chat, incoming.title, private=incoming.private) as books:
            if not _is_new(books, incoming):
                return
            if books.is_silent:
                speak_again(books)
            for seen in views(books, incoming) if incoming.private else [View(books, incoming)]:
                self._hear_in(seen)

    def _hear_in(self, seen: View) -> None:
        incoming = seen.incoming
        desk = self._desk(seen.books, incoming.sender, incoming.at)
        desk = replace(desk, topic=incoming.topic, who_may_set=lambda: _administrators(incoming, desk))
        with self._talking(incoming, desk) as replies:
            replies.heading = seen.heading
            if (over := self._flood.over(incoming)) is not None:
                self._slow_down(replies, desk, over)
            elif incoming.corrects is not None:
                self._correct(replies, desk, incoming.corrects)
            elif incoming.pressed is None:
                self._listen(replies, desk)
            else:
                self._press(replies, desk, incoming.pressed)

    def _desk(self, books: Books, sender: Sender, at: datetime) -> Desk:
        speaker, known = self._hearing.speaker(books, sender)
        return Desk(books, known.group, speaker, at)

    @contextmanager
    def _talking(self, incoming: Incoming, desk: Desk) -> Iterator[Replies]:
        """Take up the talk of a chat where it stood, and keep how it stands in the end."""
        books = desk.books
        posted_to = made_up_to(books, desk.group, incoming.at)
        before = talk(books)
        is_same_speaker = before.just_kept is not None and before.just_kept[1] == desk.speaker
        now = before if is_same_speaker else replace(before, just_kept=None)
        replies = Replies(incoming, now, posted_to, lambda: self._hearing.known(books).group)
        yield replies
        if replies.talk != before:
            set_talk(books, replies.talk)

    def _slow_down(self, replies: Replies, desk: Desk, over: int) -> None:
        """Ask somebody for patience, once; what they write beyond that is not heard."""
        if over == 1:
            replies.reply(desk, Answer(wording.slower(desk.speaker)))

    def _correct(self, replies: Replies, desk: Desk, ref: str) -> None:
        """A message was changed after it was sent: what it entered is taken back, and it is heard as it reads now.

        One that entered nothing is heard like a new one, unless nobody has heard it yet: then it will come. Questions
        about it are asked no longer.
        """
        asked = asked_of(desk.books, ref)
        replies.drop_questions(desk, asked)
        number = entry_of(desk.books, ref)
        before = _standing(desk.books, number)
        text = replies.incoming.text
        if before is None:
            take(desk.books, ref)
            self._answer(replies, desk, text)
        else:
            self._restate(replies, desk, before, self._anew(replace(desk, is_reply=True), before, text) or text)
        replies.end(desk)

    def _restate(self, replies: Replies, desk: Desk, before: Entry, text: str, learnt: Learnt = None) -> None:
        """Take an entry back and hear words in its place; it stands until what they raise a question about is answered.

        It stands too where a correction cannot be kept; nothing is said where the words say the same.
        """
        held, talk_before = held_by(desk.books, before.number), replies.talk
        with desk.books.trial() as trial:
            undone = take_back(before.number, desk)
            if undone.undone is None:
                replies.reply(desk, replace(undone, text=wording.not_corrected(undone.text)))
                return
            again = replace(desk, group=self._hearing.known(desk.books).group)
            learnt = learnt or _still_said(desk.group, again.group, text)
            again, given = self._hearing.given(again, text, learnt)
            is_left = _is_left(replies.incoming, given)
            after = None if is_left else self._said_anew(replies, again, before, given, learnt)
            says_same = after is not None and held_by(desk.books, after) == held and not replies.talk.awaited
            if is_left or says_same:
                replies.talk = talk_before
                trial.drop()
            elif not replies.has_spoken:
                replies.lead = ""
                replies.give(again, [undone])
        if is_left:
            replies.lead = wording.still_stands(before.summary, asks=any(isinstance(one, Ask) for one in given))
            replies.corrects = before.number
            replies.give(desk, given)

    def _said_anew(
        self, replies: Replies, desk: Desk, before: Entry, given: Sequence[Answer | Ask | None], learnt: Learnt
    ) -> int | None:
        """Keep and say what is given in place of an entry; the number of the entry that it is kept under."""
        replies.lead = wording.corrected(before.summary)
        number = replies.give(desk, given, learnt)
        replies.withdraw(desk, before.number)
        if number is not None:
            pass_on(desk.books, before.number, number)
        return number

    def _listen(self, replies: Replies, desk: Desk) -> None:
        incoming = replies.incoming
        source = origin(desk.books, incoming.answers) if incoming.answers else None
        replied = source.entry if source else entry_of(desk.books, incoming.answers) if incoming.answers else None
        awaited = replies.talk.awaited
        number = source.question if source else awaited[-1] if awaited else None
        waiting = question(desk.books, number) if number is not None else None
        if waiting and not waiting.answered and (source or self._may_answer(waiting, desk)):
            asked = OpenQuestion.from_json(waiting.payload)
            replied = replied or asked.corrects
            listener = self._hearing.listener(desk)
            option = asked.typed(incoming.text, lambda words: item_of(words, desk.at, listener))
            sure = option is not None and (option in asked.options or not (asked.names or asked.words))
            if option and (sure or self._fits(desk, incoming.text, option)):
                self._choose(replies, desk, waiting, option)
                return
        desk = replace(desk, is_reply=bool(incoming.answers or replied), replied_entry=replied)
        before = _standing(desk.books, replied)
        if not desk.is_reply and (sounds_corrected(incoming.text) or orders_change(incoming.text)):
            before = self._just_said(replies, desk)
        if before and self._put_right(replies, desk, before):
            return
        if waiting is None or waiting.by == desk.speaker or "?" in incoming.text:
            replies.turn()
        step = setting_up.asked_in(source.post) if source else None
        until = replies.talk.setting_up
        open_steps = setting_up.open_steps(desk) if until is not None and desk.at < until else ()
        if (step is not None or open_steps) and (noted := setting_up.typed(incoming.text, step, open_steps, desk)):
            replies.give(desk, [noted])
            return
        only_asked = replies.talk.only_asked == desk.speaker
        self._answer(replies, replace(desk, only_asked=only_asked), incoming.text)
        if open_steps:
            replies.give(desk, [setting_up.next_question(open_steps, self._as_it_is_now(desk))])
        if not replies.has_spoken and (step is not None or open_steps):
            replies.give(desk, [setting_up.not_known(incoming.text, step, open_steps, desk)])
        unheeded = before if desk.is_reply and not replies.has_spoken else None
        if unheeded and self._wants_change(desk, unheeded, incoming.text):
            replies.reply(desk, Answer(wording.say_anew(unheeded.summary), offer_take_back=unheeded.number))

    def _as_it_is_now(self, desk: Desk) -> Desk:
        return replace(desk, group=self._hearing.known(desk.books).group)

    def _put_right(self, replies: Replies, desk: Desk, before: Entry) -> bool:
        """Whether words change one thing of an entry: then it is said anew, with its photo."""
        text = self._anew(desk, before, replies.incoming.text)
        if text is None:
            return False
        photo = replies.incoming.photo or photo_of(desk.books, before.number)
        replies.incoming = replace(replies.incoming, photo=photo)
        self._restate(replies, desk, before, text)
        return True

    def _anew(self, desk: Desk, before: Entry, text: str) -> str | None:
        """The message that says an entry anew, with the one thing changed that a text changes."""
        listener = self._hearing.listener(desk)
        said = restated(text, before.number, desk, listener)
        return said or self._hearing.meant(desk, filled(text, before.number, desk, listener))

    def _wants_change(self, desk: Desk, before: Entry, text: str) -> bool:
        """Whether a reply that nothing came of would have an entry changed."""
        return orders_change(text) or is_beyond(text, before.number, desk, self._hearing.listener(desk))

    def _just_said(self, replies: Replies, desk: Desk) -> Entry | None:
        """What the speaker has entered a moment ago, while nobody else has said anything."""
        kept = replies.talk.just_kept
        found = _standing(desk.books, kept[0]) if kept else None
        return found if found is not None and desk.at - found.at <= AT_ONCE else None

    def _fits(self, desk: Desk, words: str, option: Option) -> bool:
        """Whether words that say nothing by themselves make sense in the place that a question left open."""
        alone, filled = self._hearing.kinds(desk, words), self._hearing.kinds(desk, option.says)
        return not option.says or (not alone and bool(filled) and UNCLEAR not in filled)

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
            awaited = replies.talk.awaited
            replies.reply(desk, Answer(wording.only_for(waiting.by)))
            replies.turn(awaited)
            return
        if not close(desk.books, waiting.number):
            replies.reply(desk, Answer(wording.ANSWERED_BEFORE))
            return
        asked = OpenQuestion.from_json(waiting.payload)
        if not option.says:
            left = wording.NOT_KEPT if asked.corrects is None else wording.LEFT
            replies.give(desk, [Answer(asked.declined or left)])
            return
        learnt: Learnt = NewMember(option.joins) if option.joins else None
        if option.same_as is not None and asked.unknown:
            learnt = NewName(asked.unknown, option.same_as or asked.unknown)
        still_open = [number for number in replies.talk.awaited if number != waiting.number]
        again = replace(desk, speaker=waiting.by, at=asked.at, sure=option.sure)
        if asked.corrects is None:
            self._answer(replies, again, option.says, learnt)
        elif (corrected := _standing(desk.books, asked.corrects)) is not None:
            self._restate(replies, again, corrected, option.says, learnt)
        else:
            replies.reply(desk, Answer(wording.ANSWERED_BEFORE))
        if still_open and not replies.talk.awaited:
            replies.ask_again(desk, still_open)

    def _answer(self, replies: Replies, desk: Desk, text: str, learnt: Learnt = None) -> int | None:
        """Hear a text; the entry that it is kept under."""
        desk, given = self._hearing.given(desk, text, learnt)
        return replies.give(desk, given, learnt)


def _is_left(incoming: Incoming, given: Sequence[Answer | Ask | None]) -> bool:
    """Whether an entry stands: what was heard in its place only asks or, in a correction, keeps nothing."""
    if incoming.corrects is not None:
        return {type(one) for one in given if one is not None} == {Ask}
    return not any(isinstance(one, Answer) and one.records for one in given)


def _standing(books: Books, number: int | None) -> Entry | None:
    """The entry of this number, unless it is taken back."""
    found = entry(books, number) if number is not None else None
    return found if found is not None and found.undone_at is None else None


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
