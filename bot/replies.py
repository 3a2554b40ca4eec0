"""What is given for one message: kept under one entry, reacted to, and queued as replies, questions and posts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from bot.learning import like
from bot.messages import TAKE_BACK, Button, Incoming, Post
from bot.open_questions import NEW_ITEM, OpenQuestion, Option
from bot.posts import deal_alert
from bot.posts.schedule import come_to
from bot.recording import keep
from bot.skills.answering import OPENED, Answer, Ask, Desk, NewMember, NewName, Place, Record
from bot.skills.house import wording
from bot.skills.shares.live import live_post
from bot.storage.entries import new_entry
from bot.storage.outbox import brought, origin, queue
from bot.storage.photos import add_photo
from bot.storage.questions import Talk, ask, question
from bot.storage.shares import opened_in, standing
from core.group import Group
from core.prices import Verdict
from core.reminders import Reminder, ReminderChange


@dataclass(slots=True)
class Replies:
    """The clerk's side of one message, within its transaction.

    ``talk`` is what a word said next may refer to; ``posted_to`` the time of the group's clock up to which its posts
    are made; ``group`` looks the group up as it stands by now; ``lead`` opens the reply.
    """

    incoming: Incoming
    talk: Talk
    posted_to: datetime
    group: Callable[[], Group]
    lead: str = ""
    has_spoken: bool = False
    _is_placed: bool = False

    def turn(self, awaited: Sequence[int] = ()) -> None:
        """These questions alone, or none, may be answered by a word said next."""
        self.talk = replace(self.talk, awaited=tuple(awaited))

    def give(
        self, desk: Desk, given: Sequence[Answer | Ask | None], learnt: NewName | NewMember | None = None
    ) -> int | None:
        """Keep, reply to and ask whatever was given for one message; the entry it was kept under."""
        answers = [one for one in given if isinstance(one, Answer)]
        asks = [one for one in given if isinstance(one, Ask)]
        self.talk = replace(self.talk, only_asked=None)
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
        sign = None if self.lead else answer.sign
        return Post(self._led(answer.text), (*answer.buttons, *undo), picture=answer.picture, reaction=sign)

    def _led(self, text: str) -> str:
        return "\n".join(filter(None, (self.lead, text)))

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
        for split in dict.fromkeys(answer.split for answer in answers if answer.split is not None):
            self._draw(desk, split, entry)
        self._react(desk, records, entry, [answer.verdict for answer in answers if answer.verdict])
        return entry

    def _entry(
        self, desk: Desk, records: Sequence[Record], answers: Sequence[Answer], learnt: NewName | NewMember | None
    ) -> int:
        summary = "; ".join(answer.summary for answer in answers if answer.summary)
        entry = new_entry(desk.books, desk.speaker, self.incoming.at, summary or wording.learnt(learnt))
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
            number = ask(desk.books, desk.speaker, self.incoming.at, waiting.to_json())
            self.turn((*self.talk.awaited, number))
        text = asking.question if self.has_spoken else self._led(asking.question)
        self.has_spoken = True
        asked = self._in_place(Post(text, _buttons(number, options)), Place.ANEW, desk)
        queue(desk.books, asked, self.incoming.at, question=number)

    def _in_place(self, post: Post, place: Place, desk: Desk) -> Post:
        """The first post that a press brings stands where it belongs: what answers a question takes its place."""
        here = self._here(post)
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
        answered = self.incoming.corrects or self.incoming.ref
        return replace(post, answers=None if self.incoming.pressed else answered, topic=self.incoming.topic)


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
