"""Which of the standing reminders is meant, by the words said of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from bot.reading.dates import ORDINAL_ENDS
from bot.reading.form import Heard
from bot.reading.offers import Choice
from bot.reading.words import Sort, lexicon, singular
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.calendar import wording
from bot.skills.calendar.when_said import When
from bot.storage.calendar import reminders_from
from core.due import moment_said
from core.reminders import Reminder

REMINDER = "reminder|reminders|remidner|remidners|reminer|remindr|remindrs|remainder|remainders"
_WORDS = frozenset(REMINDER.split("|"))
_MOST_CHOICES = 6
_SAID_OF_IT = frozenset(
    f"{REMINDER}|drop|cancel|scrap|bin|delete|remove|forget|kill|clear|scratch|take|off|move|push|shift|change|changed"
    "|postpone|delay|put|reschedule|bring|shove|back|instead|done|kindly|not|needed|longer|need|set|it|goes|moved|later"
    "|earlier|sooner|forward|n|cross|next|show|list|ditch|lose|axe|call|erase|strike|nix|rid|forward|wait|sooner|remind"
    "|reminding|stop|quit|anymore|nvm|mind|paid|sorted|already|come|better|had".split("|")
)


@dataclass(frozen=True, slots=True)
class Which:
    """What is said of the reminder meant: words, its day and time, its place in the list of all.

    ``words`` are all words, those of the day and time among them.
    """

    about: str = ""
    on: date | None = None
    at: time | None = None
    place: int | None = None
    words: str = ""

    def as_slots(self) -> dict[str, object]:
        """What is said, by name."""
        at = f"{self.at:%H:%M}" if self.at else None
        slots = {"about": self.about or None, "of": self.on and self.on.isoformat(), "of_at": at, "place": self.place}
        return {name: value for name, value in slots.items() if value is not None}


def which_said(heard: Heard, when: When | None, taken: frozenset[int] = frozenset()) -> Which:
    """Which reminder is meant. ``when`` is the day or time said of it; ``taken`` are words of another time."""
    if place := place_said(heard):
        return Which(place=place)
    words = about(heard, taken)
    if when is None or not when.tokens:
        return Which(words, words=words)
    return Which(about(heard, taken | when.tokens), when.on if when.dated else None, when.at, words=words)


def about(heard: Heard, taken: frozenset[int] = frozenset()) -> str:
    """The words that say which reminder is meant; empty where none do. ``taken`` are the words of a time."""
    marked = heard.marked
    told = [
        index
        for index in range(*heard.reach)
        if index not in taken
        and marked.tokens[index].sort is Sort.WORD
        and marked.text_at(index) not in _SAID_OF_IT
        and marked.text_at(index) not in lexicon()["filler"]
    ]
    return " ".join(marked.text_at(index) for index in told)


def place_said(heard: Heard) -> int | None:
    """The place of a reminder in the list of all: "reminder 2", "the 2nd reminder"."""
    marked = heard.marked
    for index in range(*heard.reach):
        if marked.text_at(index) not in _WORDS:
            continue
        at = index + 1 + (marked.text_at(index + 1) in ("#", "no", "number", "nr"))
        after = marked.text_at(at + 1)
        if marked.text_at(at).isdigit() and (after in ("", "to", "by", "please", "pls") or not after.isalnum()):
            return int(marked.text_at(at))
        before = marked.text_at(index - 2)
        if marked.text_at(index - 1) in ORDINAL_ENDS and before.isdigit():
            return int(before)
    return None


def of_reminders(heard: Heard) -> bool:
    """Whether the message speaks of reminders at all."""
    return any(token.text in {*_WORDS, "remind", "reminding"} for token in heard.marked.tokens)


@dataclass(frozen=True, slots=True)
class Found:
    """A reminder with the time of the group's own clock at which it comes."""

    reminder: Reminder
    at: datetime


def standing(desk: Desk) -> list[Found]:
    """The reminders still to come, the soonest first."""
    found = [Found(one, moment_said(one.on, one.at, desk.settings)) for one in reminders_from(desk.books, desk.today)]
    return sorted((one for one in found if one.at > desk.wall), key=lambda one: one.at)


def last_come(desk: Desk) -> Found | None:
    """The reminder to all or to the speaker that came last, yesterday or today."""
    lately = reminders_from(desk.books, desk.today - timedelta(days=1))
    found = [Found(one, moment_said(one.on, one.at, desk.settings)) for one in lately]
    come = [one for one in found if one.at <= desk.wall and one.reminder.whom in (None, desk.speaker)]
    return max(come, key=lambda one: one.at, default=None)


def meant(which: Which, desk: Desk) -> list[Found]:
    """The reminders meant: at a place of the list, on a day, of which most of the words are said; all without any."""
    found = standing(desk)
    if which.place is not None:
        return found[which.place - 1 : which.place]
    dated = [one for one in found if which.on in (None, one.at.date()) and which.at in (None, one.at.time())]
    return _of_words(which.about, dated) or (_of_words(which.words, found) if which.words != which.about else [])


def _of_words(words: str, found: list[Found]) -> list[Found]:
    """Those of which all these words are said, or the most of them; all of them without any words."""
    wanted = {singular(word) for word in words.split()}
    if not wanted:
        return found
    scored = [(len(wanted & _words_of(one.reminder)), one) for one in found]
    best = max((score for score, _ in scored), default=0)
    return [one for score, one in scored if score == best] if best else []


def _words_of(reminder: Reminder) -> set[str]:
    plain = "".join(letter if letter.isalnum() else " " for letter in reminder.what.casefold())
    whom = f" {reminder.whom.casefold()}" if reminder.whom else ""
    return {singular(word) for word in f"{plain}{whom}".split()}


def one_meant(which: Which, desk: Desk, says: Callable[[str], str]) -> Found | Answer | Ask:
    """The reminder meant; else what is said where none is, or the question which of several.

    ``says`` gives the message that an answer amounts to, from the words that name the reminder.
    """
    found = meant(which, desk)
    if not found:
        return none_meant(which, desk)
    if len(found) > 1:
        choices = tuple(Choice(line_of(one, desk), says(name_of(one))) for one in found[:_MOST_CHOICES])
        question = wording.which_reminder(len(found), len(choices))
        return Ask(question, choices, says("the reminder about {}"), words=True)
    return found[0]


def none_meant(which: Which, desk: Desk) -> Answer:
    """What is said where no reminder is meant."""
    said = f"number {which.place}" if which.place is not None else which.words
    return Answer(wording.no_such_reminder(said) if said and standing(desk) else wording.NO_REMINDERS)


def name_of(found: Found) -> str:
    """The words that name a reminder and no other."""
    return f"the reminder on {found.at:%Y-%m-%d} at {found.at:%H:%M} about {found.reminder.what}"


def line_of(found: Found, desk: Desk) -> str:
    """A reminder in one line."""
    return wording.reminder_line(found.reminder, found.at, desk.settings, desk.today)
