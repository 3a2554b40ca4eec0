"""``remind``: someone asks to be reminded, or to have the group reminded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from itertools import groupby

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.occasions import sales_in_general
from bot.reading.offers import Choice, Unclear
from bot.reading.spans import Reach
from bot.reading.words import Sort
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.calendar import wording
from bot.skills.calendar.open_days import another_errand
from bot.skills.calendar.recalling import is_a_memory, is_said_to_a_member, only_recalls
from bot.skills.calendar.repeats import repeat_said
from bot.skills.calendar.standing import last_come
from bot.skills.calendar.times_said import no_such_time
from bot.skills.calendar.unknown_days import unknown_anchor
from bot.skills.calendar.when_said import When, when_in
from bot.skills.calendar.whom_said import (
    ME,
    NOBODY,
    REMEMBER,
    US,
    others_said,
    sentence_start,
    stranger_said,
    whom_said,
)
from core.due import MORNING, moment_said
from core.money import Currency
from core.reminders import Reminder


@dataclass(frozen=True, slots=True)
class Remind:
    """What to remind of, on which day, at which time (None: in the morning), and whom: "us", "me", or a member.

    ``again`` tells that nothing is said to remind of but what came before: "remind me again tomorrow".
    """

    what: str
    on: date
    at: time | None
    whom: str
    again: bool = False

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``remind``."""
        del currency
        slots: dict[str, object] = {"what": self.what, "on": self.on.isoformat(), "whom": self.whom}
        if self.at:
            slots["at"] = f"{self.at:%H:%M}"
        return slots

    def says(self, whom: str = "") -> str:
        """The message that asks for it."""
        clock = f" at {self.at:%H:%M}" if self.at else ""
        return f"remind {whom or self.whom} on {self.on}{clock}{_to(self.what)}"


def _remind(heard: Heard) -> Sequence[Remind | Unclear]:
    cue = _cue_at(heard)
    if cue is None or is_said_to_a_member(heard, cue) or only_recalls(heard, cue):
        return []
    whom, end = whom_said(heard, cue)
    others, end = others_said(heard, end)
    when, wrong = when_in(heard, sentence_start(heard)), no_such_time(heard)
    if wrong:
        return [_no_such_time(heard, wrong, _what(heard, (cue, end), when.tokens | wrong), whom)]
    unknown = unknown_anchor(heard)
    if unknown and not when.tokens.issuperset(range(*unknown)):
        return [] if sales_in_general(heard.marked.bare(), heard.reach) else [_which_anchor(heard, unknown)]
    repeat = repeat_said(heard)
    on = when.on or (repeat.on if repeat else None)
    if on is None:
        return []
    what = (
        _what(heard, (cue, end), when.tokens | (repeat.tokens if repeat else frozenset()))
        or _of_anchor(when)
        or _what_before(heard)
    )
    first = Remind(what, on, when.at, whom, again=not what and "again" in heard.said)
    if another_errand(heard.marked.bare(), heard.reach, when.tokens):
        return [Unclear(wording.ONE_AT_A_TIME)]
    if not what and not first.again:
        return [Unclear(wording.WHAT, (), f"{first.says()} about {{}}", words=True)]
    if when.doubted and not repeat:
        taken = when.tokens | frozenset(range(*when.doubted.reach))
        timed = replace(first, at=when.doubted.clock.at, what=_what(heard, (cue, end), taken))
        return [_is_it_a_time(heard, when.doubted.reach, timed, first)]
    question = _which(heard, first, when, once=repeat is not None)
    days = (on, *when.more)
    return (
        [question]
        if question
        else [replace(first, on=day, whom=one) for day in days for one in dict.fromkeys((whom, *others))]
    )


def _which(heard: Heard, one: Remind, when: When, *, once: bool) -> Unclear | None:
    """The question which is meant of several days or people; None where that is plain."""
    if one.whom == NOBODY:
        return _whom_shall_i(heard, wording.WHOM, one)
    days = when.either or ((one.on,) if once else ())
    marked = heard.marked
    choices = tuple(
        Choice(wording.day_label(day, marked.today, marked.settings.country), replace(one, on=day).says())
        for day in days
    )
    hole = f"remind {one.whom} {{}}{_to(one.what)}"
    return Unclear(wording.ONLY_ONCE if once else wording.WHICH_DAY, choices, hole, words=True) if choices else None


def _whom_shall_i(heard: Heard, question: str, one: Remind) -> Unclear:
    """The question whom to remind: all, or a member."""
    names = [name for name in heard.members if name != heard.speaker][:_MOST_NAMES]
    choices = [Choice(wording.ALL, one.says(US)), *(Choice(name, one.says(name)) for name in names)]
    return Unclear(question, tuple(choices), one.says("{}"), words=True)


def _is_it_a_time(heard: Heard, reach: Reach, timed: Remind, plain: Remind) -> Unclear:
    """The question whether a number beside the day is the time: "friday 5 call the hall"."""
    said = heard.marked.said(*reach)
    yes = Choice(f"{timed.at:%H:%M}", timed.says())
    return Unclear(wording.is_it_a_time(said, yes.label), (yes, Choice(wording.NO, plain.says())))


def _no_such_time(heard: Heard, wrong: frozenset[int], what: str, whom: str) -> Unclear:
    said = heard.marked.said(min(wrong), max(wrong) + 1)
    hole = f"remind {whom or US} {{}}{_to(what)}"
    return Unclear(wording.no_such_time(said, wording.remind_example(what)), (), hole, words=True)


def _remind_a_stranger(heard: Heard) -> Sequence[Unclear]:
    """The question whom to remind, where it is nobody of the group: "remind zed on friday to call"."""
    cue = _cue_at(heard)
    if cue is None or is_said_to_a_member(heard, cue) or only_recalls(heard, cue):
        return []
    name, when = stranger_said(heard, cue), when_in(heard, sentence_start(heard))
    if not name or when.on is None or cue + 1 in when.tokens:
        return []
    one = Remind(_what(heard, (cue, cue + 2), when.tokens), when.on, when.at, NOBODY)
    return [_whom_shall_i(heard, wording.no_such_member(name), one)]


def _without_a_day(heard: Heard) -> Sequence[Unclear]:
    """The question when to remind, where a short message says all but that: "remind us about the soap"."""
    cue = _cue_at(heard)
    if cue is None or heard.marked.text_at(cue) not in _REMIND or is_said_to_a_member(heard, cue):
        return []
    whom, end = whom_said(heard, cue)
    if only_recalls(heard, cue) or not whom or heard.marked.text_at(end) in _SUBJECTS:
        return []
    some_day = frozenset(at for at in range(*heard.reach) if heard.marked.text_at(at) in _SOME_DAY)
    what = _what(heard, (cue, end), some_day)
    return [_which_day(what, whom)] if what and end > cue + 1 else []


def _cue_at(heard: Heard) -> int | None:
    """Where the word is that asks for a reminder, the surest first."""
    marked = heard.marked
    for words in (_REMIND | _REMINDERS, REMEMBER, _NUDGES, _TELLS):
        for index in range(*heard.reach):
            word = marked.text_at(index)
            if word in words and not (word in REMEMBER and is_a_memory(heard, index)):
                return index
    return None


def _what(heard: Heard, cue: Reach, taken: frozenset[int]) -> str:
    """What to remind of: the words that are left, those behind the cue first."""
    marked = heard.marked
    left = [index for index in range(*heard.reach) if index not in taken and not cue[0] <= index < cue[1]]
    pieces = []
    for _, run in groupby(enumerate(left), lambda pair: (pair[1] - pair[0], pair[1] >= cue[0])):
        indices = [index for _, index in run]
        while indices and _is_small(marked.tokens[indices[0]].sort, marked.text_at(indices[0])):
            indices.pop(0)
        while indices and _is_small(marked.tokens[indices[-1]].sort, marked.text_at(indices[-1]), last=True):
            indices.pop()
        if indices:
            pieces.append((indices[0] < cue[0], marked.said(indices[0], indices[-1] + 1)))
    behind = [words for before, words in pieces if not before]
    ahead = [words for before, words in pieces if before]
    return "; ".join(behind or ahead)


def _is_small(sort: Sort, word: str, last: bool = False) -> bool:
    return sort in (Sort.STOP, Sort.SIGN) or word in (_TAIL if last else _HEAD)


def _of_anchor(when: When) -> str:
    """What to say where only a feast or sale was named: its name."""
    return when.anchor.removeprefix("the ")


def _what_before(heard: Heard) -> str:
    """What was said before, where the day hangs on that: "we want 90 by november 20, remind us a week before that"."""
    marked, end = heard.marked, heard.reach[0] if "that" in heard.said else 0
    while end and _is_small(marked.tokens[end - 1].sort, marked.text_at(end - 1), last=True):
        end -= 1
    return marked.said(0, end)


def _which_day(what: str, whom: str) -> Unclear:
    says = f"remind {whom} {{}}{_to(what)}"
    choices = tuple(Choice(label, says.format(label.lower())) for label in wording.SOME_DAYS)
    return Unclear(wording.which_day(what), choices, says, words=True)


def _which_anchor(heard: Heard, anchor: Reach) -> Unclear:
    """The question for the day of what a reminder hangs on: the day itself, from which days are then reckoned."""
    marked, (start, end) = heard.marked, heard.reach
    says = f"{marked.said(start, anchor[0])} {{}} {marked.said(anchor[1], end)}".strip()
    return Unclear(wording.unknown_day(marked.said(*anchor)), (), says, words=True)


def _to(what: str) -> str:
    return f" about {what}" if what else ""


_REMIND = frozenset("remind rmnd rmeind remnd remid remnid remined rimind remidn reming".split())
_REMINDERS = frozenset("reminder remidner reminer remindr remainder".split())
_NUDGES = frozenset(
    "nudge ping poke prod buzz warn alert prompt nag bug holler shout shuot wake jog reminded reminding forget foregt"
    " forgets heads headsup alarm tap attention hit chase".split()
)
_TELLS = frozenset(("tell", "recall", "word"))
_SUBJECTS = frozenset("i im ive id ill he hes she shes they theyre we were it its you youre ur why who".split())
_SOME_DAY = frozenset("later soon sometime someday bit while".split())
_MOST_NAMES = 6
_HEAD = frozenset(
    "when starts begins opens to that about of for on at in and please pls plz kindly can could would will you u clerk"
    " i us me a an um uh okay so be hey hi do just again must need have like by then it also ask make set give up"
    " with every each".split()
)
_TAIL = frozenset(
    "please pls plz kindly and on at by , thanks thank you period the um uh in to for of u ok thx".split()
)

_WHOM = "me|us|everyone|everybody|all|myself|the|folks"
_ANYONE = f"{_WHOM}|him|her|them"
_NUDGE = "nudge|ping|poke|prod|buzz|warn|alert|prompt|nag|bug|holler|shout|shuot|chase"
_DAYS = (
    "monday|tuesday|wednesday|thursday|friday|saturday|sunday|mon|tue|tues|wed|thu|thur|thurs|fri|sat|sun|today|tonight"
    "|tomorrow|tmrw|tmw"
)
_LEAVES = frozenset((",", "and", "\n", ".", ";", "then"))
_NEVER = (
    "reminds|reminding me|us|everyone",
    "remind me|us of a|an|my|the|that time|guy|man|day|one",
    "remember when|how",
    "^remember the",
    "^i remember the",
    "you|u|still|anyone|anybody remember the",
    "are|r you|u|ya sure|certain",
    "have|got|meant|supposed|down|going to remind",
    "^what|whats|how|whatever",
    "do|will you|u remind",
    "when|if|once you|u|ya|your|ur|youre|he|she|they",
    "stop|need to|quit|dont|no reminding|remind",
    "if anyone|anybody|someone",
    "did|does you|u|he|she|they|we|anyone|anybody|someone remind|tell|nudge",
    "dont remind",
    "who will|should|can|could",
    "someone|somebody|anyone should|could|must",
    "i set|have|had a reminder",
    "on my phone",
    "remind me|us never|why|how|what",
    "remind me|us again why|how|what|whats|who|whos|which|where|when|that|of",
    "what|whatever|that you|u bug|nag|ping|nudge me|us",
)
_WHOLE = Form("remind", "", _remind, never=_NEVER, strange=80, whole=True, first=True, leaves=_LEAVES)

FORMS = (
    replace(
        _WHOLE,
        name="remind us, or me",
        cues=(
            f"{'|'.join(sorted(_REMIND))} {_ANYONE}",
            f"{'|'.join(sorted(_REMIND))} please|pls|kindly|to|for|um {_WHOM}",
            f"remember {_WHOM} on|at|in|to|tomorrow|next",
            "make|help me|us remember",
            "clerk|bot remember",
            "clerk|bot * sure|certain|see * remember|remembers",
            "clerk|bot * sure|certain|see * forget|foregt|forgets",
            "dont|do|not let us|me forget|foregt",
            "must not|never forget",
            "gonna|going * forget",
            f"{'|'.join(sorted(_REMIND))} on|in|at|tomorrow|next|about|a",
            "be reminded on|in|at|about|tomorrow",
            "need|require|want|needs reminding",
        ),
    ),
    replace(
        _WHOLE,
        name="nudge us, or me",
        cues=(
            f"{_NUDGE} {_WHOM}",
            "holler|shout|buzz at|to|for me|us",
            "wake me|us|everyone up",
            "hit me|us up",
            "jog my|our|the memory",
            "give|gimme|drop|send|throw * shout|shuot|nudge|poke|ping|prod|buzz|tap|heads|headsup|holler",
            "need|use|want|like|for|small|little|lil|quick heads|headsup",
            "need|use|want|like|for a|an heads|headsup|alarm",
            "set|put * alarm",
            "draw our|my attention",
            "a word in my|our ear",
            "recall to me|us",
            "tell me|us|everyone|everybody to|that|the|saturday|sunday|monday|tuesday|wednesday|thursday|friday",
        ),
        never=(
            *_NEVER,
            "you can|could|should|may",
            "off|on the hook",
            "told|said|tell me|us about|how|what|why|who|where",
        ),
    ),
    replace(
        _WHOLE,
        name="a reminder",
        cues=(
            "make|set|need|want|like|give|send|put|schedule|have|add|get|require * reminder|remidner|remindr",
            "obliged|grateful|appreciate|thankful|glad * reminder",
            f"^reminder for|on|in|at|to|:|next|please|this|{_DAYS}",
            "a reminder on|for|in|next|tomorrow|at|when|one|two|three|a",
        ),
        never=(
            *_NEVER,
            "the|that|this|my|our|your|of reminder",
            f"reminder about|of|for|on * to {_DAYS}",
            "reminder about|of|for|on * from|is|off|be|into",
            "ty|thanks|thank|cheers",
            "^who|whos|did|does|has|why|how",
            "have you|u|they",
            "put|move|push|shift|change * reminder|remidner|remindr off|back|to|forward",
        ),
    ),
    replace(
        _WHOLE,
        name="remind a member",
        build=lambda heard: _remind(heard) if named(heard.marked, heard.reach, NameSort.MEMBER) else [],
        cues=(
            "|".join(sorted(_REMIND)),
            f"please|pls|plz|kindly|clerk {_NUDGE}|tell",
            f"please|pls|kindly|to|clerk to {_NUDGE}",
            f"need|clerk * to {_NUDGE}",
            "has|have to tell",
        ),
        never=(*_NEVER, "remind|tell me|us|your|my|his|her|their|them|him"),
    ),
    replace(
        _WHOLE,
        name="remind somebody unknown",
        build=_remind_a_stranger,
        cues=(f"^{'|'.join(sorted(_REMIND))}",),
    ),
    Form("remind", "remind us, some day", _without_a_day, never=_NEVER, alone=True),
)
TEACH = (("remind us 3 days before the easter clearance to bring bags", "also: remind me friday at 5pm to call"),)


def answer(slots: Remind, desk: Desk) -> Answer | Ask:
    """Keep the reminder; say so where its time is past."""
    if slots.again:
        return _again(slots, desk)
    at, now = moment_said(slots.on, slots.at, desk.settings), desk.wall
    if at <= now and slots.at is None and slots.on == desk.today:
        later = now.hour + 1
        at = datetime.combine(slots.on, time(later)) if later < 24 else at
    if at <= now:
        return Answer(wording.past(slots.on, slots.at, desk.settings, desk.today))
    whom = {US: None, ME: desk.speaker}.get(slots.whom, slots.whom)
    clock = at.time() if slots.at or at.time() != MORNING else None
    reminder = Reminder(slots.what, slots.on, clock, whom, desk.speaker)
    line = wording.reminder_line(reminder, at, desk.settings, desk.today)
    return Answer(wording.noted(line), (reminder,), wording.reminder_summary(reminder))


def _again(slots: Remind, desk: Desk) -> Answer | Ask:
    """Remind once more of what the clerk reminded of last."""
    last = last_come(desk)
    if last is None:
        return Ask(wording.WHAT, (), f"{slots.says()} about {{}}", words=True)
    return answer(replace(slots, what=last.reminder.what, again=False), desk)


KIND = Kind("remind", FORMS, answer, TEACH)
