"""Which of the standing reminders is meant, by the words said of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from bot.reading.form import Heard
from bot.reading.offers import Choice
from bot.reading.words import Sort, lexicon, singular
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.calendar import wording
from bot.storage.calendar import reminders_from
from core.due import moment_said
from core.reminders import Reminder

REMINDER = "reminder|reminders|remidner|remidners|reminer|remindr|remindrs|remainder|remainders"
_SAID_OF_IT = frozenset(
    f"{REMINDER}|drop|cancel|scrap|bin|delete|remove|forget|kill|clear|scratch|take|off|move|push|shift|change|changed"
    "|postpone|delay|put|reschedule|bring|shove|back|instead|done|kindly|not|needed|longer|need|set|it|goes|moved|later"
    "|earlier|n|cross|next|show|list|ditch|lose|axe|call|erase|strike|nix|rid|forward|wait|sooner|remind"
    "|reminding|stop|quit|anymore|nvm|paid|sorted|already|come|better|had".split("|")
)


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


def of_reminders(heard: Heard) -> bool:
    """Whether the message speaks of reminders at all."""
    words = {*REMINDER.split("|"), "remind", "reminding"}
    return any(token.text in words for token in heard.marked.tokens)


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


def meant(words: str, desk: Desk) -> list[Found]:
    """The reminders of which all these words are said, or the most of them; all of them without any words."""
    found = standing(desk)
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


def one_meant(words: str, desk: Desk, says: Callable[[Found], str]) -> Found | Answer | Ask:
    """The reminder meant; else what is said where none is, or the question which of several, answered by ``says``."""
    found = meant(words, desk)
    if not found:
        return Answer(wording.no_such_reminder(words) if words and standing(desk) else wording.NO_REMINDERS)
    if len(found) > 1:
        return Ask(wording.WHICH_REMINDER, tuple(Choice(line_of(one, desk), says(one)) for one in found))
    return found[0]


def line_of(found: Found, desk: Desk) -> str:
    """A reminder in one line."""
    return wording.reminder_line(found.reminder, found.at, desk.settings, desk.today)
