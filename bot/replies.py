"""What is given for one message: kept under one entry, reacted to, and queued as replies, questions and posts."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from bot.learning import like
from bot.messages import TAKE_BACK, Button, Incoming, Post
from bot.open_questions import NEW_ITEM, PATIENCE, OpenQuestion, Option
from bot.posts import deal_alert
from bot.posts.schedule import come_to
from bot.recording import keep
from bot.skills.answering import OPENED, Answer, Ask, Desk, NewMember, NewName, Place, Record
from bot.skills.deals import is_alert
from bot.skills.house import wording
from bot.skills.shares.live import live_post
from bot.storage.entries import entry as entry_numbered
from bot.storage.entries import new_entry
from bot.storage.outbox import Asked, brought, origin, queue, shown_of
from bot.storage.photos import add_photo
from bot.storage.questions import Talk, ask, close, last_question, question, restate
from bot.storage.shares import opened_in, standing
from bot.wording import deals as wording_of_deals
from core.group import Group
from core.prices import Verdict
from core.reminders import Reminder, ReminderChange


@dataclass(slots=True)
class Replies:
    """The clerk's side of one message, within its transaction.

    ``talk`` is what a word said next may refer to; ``posted_to`` the time of the group's clock up to which its posts
    are made; ``group`` looks the group up as it stands by now; ``lead`` opens the reply, and ``heading`` tells before
    it whose books they are; ``instead`` is the ref of a post whose place the first one takes; ``corrects`` the entry
    that the answer to a question takes the place of.
    """

    incoming: Incoming
    talk: Talk
    posted_to: datetime
    group: Callable[[], Group]
    lead: str = ""
    instead: str = ""
    corrects: int | None = None
    heading: str = ""
    has_spoken: bool = False
    _is_placed: bool = False

    def turn(self, awaited: Iterable[int] = ()) -> None:
        """These questions alone, or none, may be answered by a word said next."""
        self.talk = replace(self.talk, awaited=tuple(awaited))

    def give(
        self, desk: Desk, given: Sequence[Answer | Ask | None], learnt: NewName | NewMember | None = None
    ) -> int | None:
        """Keep, reply to and ask whatever was given for one message; the entry it was kept under."""
        answers = [one for one in given if isinstance(one, Answer)]
        asks = [one for one in given if isinstance(one, Ask)]
        self.talk = replace(self.talk, only_asked=None, just_kept=None if answers or asks else self.talk.just_kept)
        entry = None
        if answers or learnt:
            entry = self._keep(desk, answers, learnt)
        elif asks:
            self.talk = replace(self.talk, only_asked=desk.speaker)
        if asks:
            self.turn()
        for asking in asks:
            self._ask(desk, asking)
        return entry

    def reply(self, desk: Desk, answer: Answer, entry: int | None = None) -> None:
        """Queue a reply, with a button that takes back what it offers to."""
        queue(desk.books, self._here(self._reply(answer)), self.incoming.at, entry=entry)

    def _reply(self, answer: Answer) -> Post:
        self.turn()
        self.has_spoken = True
        number = answer.offer_take_back
        undo = (Button(TAKE_BACK, f"undo:{number}"),) if number else ()
        sign = None if self.lead or self.heading else answer.sign
        return Post(self._led(answer.text), (*answer.buttons, *undo), picture=answer.picture, reaction=sign)

    def _led(self, text: str) -> str:
        return "\n".join(filter(None, (self.heading, self.lead, text)))

    def ask_again(self, desk: Desk, still_open: Sequence[int]) -> None:
        """Put the last question of the same message again that nobody has answered yet."""
        waiting = question(desk.books, still_open[-1])
        if waiting and not waiting.answered:
            asked = OpenQuestion.from_json(waiting.payload)
            again = replace(self._here(Post(asked.text, _buttons(waiting.number, asked.options))), answers=None)
            queue(desk.books, again, self.incoming.at, question=waiting.number)
            self.turn(still_open)

    def _keep(self, desk: Desk, answers: list[Answer], learnt: NewName | NewMember | None) -> int | None:
        """Put what the answers keep into one entry, queue one reply, and bring the posts of splits up to date."""
        records: list[Record] = [learnt] if learnt else []
        records += [record for answer in answers for record in answer.records]
        entry = self._entry(desk, records, answers, learnt) if records else None
        offered = next((answer.offer_take_back for answer in answers if answer.offer_take_back), None)
        text = "\n".join(answer.text for answer in answers if answer.text)
        if text:
            reply = self._reply(_together(text, answers, entry or offered))
            queue(desk.books, self._in_place(reply, answers[0].place, desk), self.incoming.at, entry=entry)
        for undone in (answer.undone for answer in answers if answer.undone is not None):
            self.withdraw(desk, undone)
        for split in dict.fromkeys(answer.split for answer in answers if answer.split is not None):
            self._draw(desk, split, entry)
        self._react(desk, records, entry, [answer.verdict for answer in answers if answer.verdict])
        return entry

    def withdraw(self, desk: Desk, entry: int) -> None:
        """Take the alerts on an entry that was taken back, and the signs for it, from where they are shown."""
        taken = entry_numbered(desk.books, entry)
        for shown in shown_of(desk.books, entry):
            there = replace(desk.books, chat=shown.chat)
            if is_alert(shown.post) and taken is not None:
                gone = Post(wording_of_deals.withdrawn(taken.summary), edits=shown.ref, only_changes=True)
                queue(there, gone, self.incoming.at)
            elif shown.post.reaction:
                queue(there, Post("", answers=shown.post.answers, reaction="", only_changes=True), self.incoming.at)

    def drop_questions(self, desk: Desk, asked: Sequence[Asked]) -> None:
        """Close questions about a message that reads otherwise now; its first reply takes the place of the newest.

        One that is about other messages too is still asked about those.
        """
        closed = [one for one in asked if self._is_closed(desk, one.question)]
        shown = [one.ref for one in closed if one.ref]
        self.instead = shown[0] if shown else ""
        for ref in shown[1:]:
            self._no_longer_asked(desk, ref)

    def _is_closed(self, desk: Desk, number: int) -> bool:
        """Close a question about the message; False where it is about others too."""
        waiting = question(desk.books, number)
        rest = OpenQuestion.from_json(waiting.payload).without_message(self._answered) if waiting else None
        if rest is None:
            return close(desk.books, number)
        restate(desk.books, number, rest.to_json())
        return False

    def end(self, desk: Desk) -> None:
        """Nothing more is said: a post whose place nothing has taken asks no longer."""
        if self.instead:
            self._no_longer_asked(desk, self.instead)

    def _no_longer_asked(self, desk: Desk, ref: str) -> None:
        queue(desk.books, Post(wording.NO_LONGER_ASKED, edits=ref, only_changes=True), self.incoming.at)

    def _entry(
        self, desk: Desk, records: Sequence[Record], answers: Sequence[Answer], learnt: NewName | NewMember | None
    ) -> int:
        summary = "; ".join(answer.summary for answer in answers if answer.summary)
        entry = new_entry(desk.books, desk.speaker, self.incoming.at, summary or wording.learnt(learnt))
        self.talk = replace(self.talk, just_kept=(entry, desk.speaker))
        for record in records:
            keep(desk.books, entry, record)
        if self.incoming.photo is not None:
            add_photo(desk.books, entry, self.incoming.photo)
        for ref in (self.incoming.ref, self.incoming.corrects):
            if ref is not None:
                brought(desk.books, ref, entry)
        return entry

    def _react(self, desk: Desk, records: Sequence[Record], entry: int | None, verdicts: Sequence[Verdict]) -> None:
        """Queue the posts that react to what was kept, and reckon the calendar anew where it may have changed."""
        group = self.group()
        is_held = False
        if entry is not None:
            reaction = deal_alert.react(records, entry, replace(desk, group=group, said=()), verdicts)
            is_held = reaction.is_held
            for post in reaction.posts:
                unasked = replace(post, topic=group.settings.topic)
                queue(desk.books.at_home(), unasked, self.incoming.at, entry=entry)
        # Settings, sales, kits and taking back make the group's names another version, and so another object.
        if is_held or group is not desk.group or any(isinstance(one, Reminder | ReminderChange) for one in records):
            come_to(desk.books, group, self.posted_to, self.incoming.at)

    def _draw(self, desk: Desk, number: int, entry: int | None) -> None:
        """Queue the post of a split as it stands now, where all of the group see it."""
        found = opened_in(desk.books, entry or 0) if number == OPENED else standing(desk.books, number)
        if found is not None:
            text, buttons = live_post(found, desk)
            drawn = self._here(Post(text, buttons, split=found.number))
            if number != OPENED or desk.books.chat != desk.books.home:
                drawn = replace(drawn, answers=None)
            queue(desk.books.at_home(), drawn, self.incoming.at, entry=found.entry)

    def _ask(self, desk: Desk, asking: Ask) -> None:
        if asking.unknown is not None and asking.choices and self._asks_the_same(desk, asking):
            return
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
                asking.question,
                desk.at,
                tuple(options),
                asking.hole,
                asking.unknown,
                asking.names,
                asking.words,
                self.corrects,
                asking.declined,
                (self._answered,),
            )
            number = ask(desk.books, desk.speaker, self.incoming.at, waiting.to_json())
            self.turn((*self.talk.awaited, number))
        text = asking.question if self.has_spoken else self._led(asking.question)
        self.has_spoken = True
        asked = self._in_place(Post(text, _buttons(number, options)), Place.ANEW, desk)
        queue(desk.books, asked, self.incoming.at, question=number)

    def _asks_the_same(self, desk: Desk, asking: Ask) -> bool:
        """Whether the same question of the same member is open: then its answer is for this message as well."""
        found = last_question(desk.books, desk.speaker)
        before = OpenQuestion.from_json(found.payload) if found and desk.at - found.asked_at <= PATIENCE else None
        if found is None or before is None or before.unknown != asking.unknown or self.incoming.corrects:
            return False
        both = before.with_message(asking.choices[0].says, self._answered)
        restate(desk.books, found.number, both.to_json())
        self.turn(dict.fromkeys((*self.talk.awaited, found.number)))
        self.has_spoken = True
        text = self._led(wording.waits_too(asking.unknown, both.messages))
        again = self._in_place(Post(text, _buttons(found.number, both.options)), Place.ANEW, desk)
        queue(desk.books, again, self.incoming.at, question=found.number)
        return True

    def _in_place(self, post: Post, place: Place, desk: Desk) -> Post:
        """The first post that a press brings stands where it belongs: what answers a question takes its place."""
        here = self._here(post)
        if self.instead:
            ref, self.instead = self.instead, ""
            return replace(here, edits=ref)
        if not self.incoming.pressed or self.incoming.answers is None or self._is_placed:
            return here
        self._is_placed = True
        pressed = origin(desk.books, self.incoming.answers)
        if pressed is None or (place is Place.ANEW and pressed.question is None):
            return here
        if place is Place.BELOW:
            stay = tuple(button for button in pressed.post.buttons if button.label != TAKE_BACK)
            here = replace(here, text=f"{pressed.post.text}\n\n{post.text}", buttons=(*stay, *post.buttons))
        return replace(here, edits=self.incoming.answers)

    def _here(self, post: Post) -> Post:
        """A post that answers the message where it was said; a press is no message that could be answered."""
        answers = None if self.incoming.pressed else self._answered
        return replace(post, answers=answers, topic=self.incoming.topic)

    @property
    def _answered(self) -> str:
        """The message that is answered, by its ref."""
        return self.incoming.corrects or self.incoming.ref


def _together(text: str, answers: Sequence[Answer], offered: int | None) -> Answer:
    """The answers to one message as one; a sign says as much only where it does for each of them."""
    buttons = tuple(button for answer in answers for button in answer.buttons)
    signs = {answer.sign for answer in answers}
    picture = next((answer.picture for answer in answers if answer.picture), None)
    sign = signs.pop() if len(signs) == 1 else None
    return Answer(text, offer_take_back=offered, buttons=buttons, sign=sign, picture=picture)


def _buttons(number: int | None, options: Sequence[Option]) -> tuple[Button, ...]:
    """The buttons under a question, one for each of its answers."""
    return tuple(Button(option.label, f"pick:{number}:{index}") for index, option in enumerate(options))
