"""``remind``: someone asks to be reminded, or to have the group reminded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from itertools import groupby, pairwise

from bot.reading.form import Form, Heard
from bot.reading.kind import Kind
from bot.reading.names import NameSort, named
from bot.reading.occasions import sales_in_general
from bot.reading.offers import Choice, Unclear
from bot.reading.spans import Reach
from bot.reading.words import Sort
from bot.skills.answering import Answer, Ask, Desk
from bot.skills.calendar import wording
from bot.skills.calendar.unknown_days import unknown_anchor
from bot.skills.calendar.when_said import When, when_in
from core.due import MORNING, moment_said
from core.money import Currency
from core.reminders import Reminder

US, ME = "us", "me"


@dataclass(frozen=True, slots=True)
class Remind:
    """What to remind of, on which day, at which time (None: in the morning), and whom: "us", "me", or a member."""

    what: str
    on: date
    at: time | None
    whom: str

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``remind``."""
        del currency
        slots: dict[str, object] = {"what": self.what, "on": self.on.isoformat(), "whom": self.whom}
        if self.at:
            slots["at"] = f"{self.at:%H:%M}"
        return slots


def _remind(heard: Heard) -> Sequence[Remind | Unclear]:
    cue = _cue_at(heard)
    if cue is None or _is_said_to_a_member(heard, cue) or _only_recalls(heard, cue):
        return []
    whom, end = _whom(heard, cue)
    others, end = _others(heard, end)
    if unknown := unknown_anchor(heard):
        return [] if sales_in_general(heard.marked.bare(), heard.reach) else [_which_anchor(heard, unknown)]
    when = when_in(heard, _sentence_start(heard))
    if when.on is None:
        return []
    what = _what(heard, (cue, end), when) or _of_anchor(when)
    if _is_to_come_again(heard):
        return [_only_once(what, when, whom)]
    return [Remind(what, when.on, when.at, one) for one in dict.fromkeys((whom, *others))]


def _others(heard: Heard, end: int) -> tuple[list[str], int]:
    """Whom to remind besides: "Tobias and Ines", "me, Ines and Mei"; and where their names end."""
    marked, found = heard.marked, []
    while marked.text_at(end) in ("and", "&", ",", "n"):
        members = [span for span in named(marked, (end + 1, end + 2), NameSort.MEMBER) if span.start == end + 1]
        if members:
            name = members[0].value.name
            found.append(ME if name == heard.speaker else name)
        elif marked.text_at(end + 1) in _ONESELF:
            found.append(ME)
        else:
            break
        end = members[0].end if members else end + 2
    return found, end


def _is_to_come_again(heard: Heard) -> bool:
    """Whether a reminder is wanted again and again: "every tuesday"."""
    said = heard.said
    return any(word in ("every", "each") and next_.startswith(_REPEATS) for word, next_ in pairwise(said))


_REPEATS = ("day", "week", "month", "morning", "mon", "tue", "wed", "thu", "fri", "sat", "sun", "other", "year")


def _only_once(what: str, when: When, whom: str) -> Unclear:
    clock = f" at {when.at:%H:%M}" if when.at else ""
    says = f"remind {whom} on {when.on}{clock} {_to(what)}"
    return Unclear(wording.ONLY_ONCE, (Choice(f"{when.on:%A}", says),))


def _without_a_day(heard: Heard) -> Sequence[Unclear]:
    """The question when to remind, where a short message says all but that: "remind us about the soap"."""
    cue = _cue_at(heard)
    if cue is None or heard.marked.text_at(cue) not in _REMIND or _is_said_to_a_member(heard, cue):
        return []
    if _only_recalls(heard, cue):
        return []
    whom, end = _whom(heard, cue)
    what = _what(heard, (cue, end), When(None, None, frozenset()))
    return [_which_day(what, whom)] if what and end > cue + 1 else []


def _cue_at(heard: Heard) -> int | None:
    """Where the word is that asks for a reminder, the surest first."""
    marked = heard.marked
    for words in (_REMIND | _REMINDERS, _REMEMBER, _NUDGES, _TELLS):
        for index in range(*heard.reach):
            word = marked.text_at(index)
            if word in words and not (word in _REMEMBER and marked.text_at(index - 1) == "i"):
                return index
    return None


def _is_said_to_a_member(heard: Heard, cue: int) -> bool:
    """Whether the request is made to somebody of the group by name: "Tobias, can you remind me"."""
    start = _sentence_start(heard)
    names = named(heard.marked, (start, cue), NameSort.MEMBER)
    return any(
        all(heard.marked.text_at(at) in _BETWEEN for at in range(span.end, cue))
        and all(heard.marked.text_at(at) in _CALLS for at in range(start, span.start))
        for span in names
    )


def _only_recalls(heard: Heard, cue: int) -> bool:
    """Whether it is talk of remembering: "thanks for the reminder", "remind me when we get there"."""
    said = [heard.marked.text_at(at) for at in range(max(0, cue - 4), cue)]
    behind = heard.marked.text_at(cue + 2)
    asks = behind in _QUESTIONS and not (behind == "when" and when_in(heard).anchor)
    return bool(_THANKS & set(said)) or asks


def _whom(heard: Heard, cue: int) -> tuple[str, int]:
    """Whom to remind, and where the words for them end."""
    marked = heard.marked
    before = marked.text_at(cue - 1)
    if marked.text_at(cue) in _FORGET:
        return (before if before in (US, ME) else ME), cue + 1
    at = cue + 1
    while marked.text_at(at) in _FILLERS:
        at += 1
    members = [span for span in named(marked, (at, at + 1), NameSort.MEMBER) if span.start == at]
    if members:
        name = members[0].value.name
        return ME if name == heard.speaker else name, members[0].end
    if marked.text_at(at) in ("him", "her", "them") or marked.text_at(cue) == "reminded":
        told = [span.value.name for span in named(marked, (0, cue), NameSort.MEMBER)]
        return told[-1] if told else ME, at + (marked.text_at(at) in ("him", "her", "them"))
    return _group_or_speaker(heard, cue, at)


def _group_or_speaker(heard: Heard, cue: int, at: int) -> tuple[str, int]:
    """The group or the speaker, as said right behind the cue, else around it."""
    marked = heard.marked
    for place in range(at, at + _NEAR):
        word = marked.text_at(place)
        if word in _ALL and (place == at or marked.text_at(place - 1) in ("of", "for", "the", "all")):
            return US, place + 1 + (marked.text_at(place + 1) in ("of", "group", "team", "whole", "gang"))
        if word in _ONESELF and (place == at or marked.text_at(place - 1) in ("for", "to")):
            return ME, place + 1
    around = {marked.text_at(index) for index in range(_sentence_start(heard), min(cue + 1, heard.reach[1]))}
    return (US if around & _ALL else ME if around & {*_ONESELF, "i", "id", "im", "my"} else US), cue + 1


def _sentence_start(heard: Heard) -> int:
    """Where the sentence begins that the stretch begins in, with the one before where it goes on with that."""
    start = heard.reach[0]
    while start and heard.marked.tokens[start - 1].sort is not Sort.STOP:
        start -= 1
    return 0 if heard.marked.text_at(start) in ("and", "then", "also") else start


def _what(heard: Heard, cue: tuple[int, int], when: When) -> str:
    """What to remind of: the words that are left, those behind the cue first."""
    marked = heard.marked
    left = [index for index in range(*heard.reach) if index not in when.tokens and not cue[0] <= index < cue[1]]
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


def _which_day(what: str, whom: str) -> Unclear:
    says = f"remind {whom} {{}} {_to(what)}"
    choices = tuple(Choice(label, says.format(label.lower())) for label in wording.SOME_DAYS)
    return Unclear(wording.which_day(what), choices, says, words=True)


def _which_anchor(heard: Heard, anchor: Reach) -> Unclear:
    """The question for the day of what a reminder hangs on: the day itself, from which days are then reckoned."""
    marked, (start, end) = heard.marked, heard.reach
    says = f"{marked.said(start, anchor[0])} {{}} {marked.said(anchor[1], end)}".strip()
    return Unclear(wording.unknown_day(marked.said(*anchor)), (), says, words=True)


def _to(what: str) -> str:
    return f"about {what}" if what else ""


_REMIND = frozenset("remind rmnd rmeind remnd remid remnid remined rimind remidn reming".split())
_REMEMBER = frozenset(("remember",))
_REMINDERS = frozenset("reminder remidner reminer remindr remainder".split())
_NUDGES = frozenset(
    "nudge ping poke prod buzz warn alert prompt nag bug holler shout shuot wake jog reminded reminding forget foregt"
    " heads headsup alarm tap attention hit chase".split()
)
_TELLS = frozenset(("tell", "recall", "word"))
_FORGET = frozenset(("forget", "foregt"))
_NEAR = 4
_BETWEEN = frozenset(", can could would will you u please pls plz kindly do to also just u'll youll might must".split())
_CALLS = frozenset("hey hi hello oh ok okay so , and dear".split())
_THANKS = frozenset("thanks thank ty cheers thx for that's thats".split()) - {"for"}
_QUESTIONS = frozenset("what whats why who whos how which where whether when if".split())
_FILLERS = frozenset(("please", "pls", "plz", "kindly", "to", "for", "um", "uh"))
_ALL = frozenset("us everyone everybody all we group team folks ourselves".split())
_ONESELF = frozenset(("me", "myself"))
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
_LEAVES = frozenset((",", "and", "\n", ".", ";", "then"))
_NEVER = (
    "reminds|reminding me|us|everyone",
    "remind me|us of a|an|my|the|that time|guy|man|day|one",
    "remember when|how|the",
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
    "remind me|us never|again|why|how|what",
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
            "^reminder for|on|in|at|to|:|next|tomorrow|please",
            "a reminder on|for|in|next|tomorrow|at|when|one|two|three|a",
        ),
        never=(
            *_NEVER,
            "the|that|this|my|our|your|of reminder",
            "reminder about|of|for|on * to|from|is|off|be|into",
            "ty|thanks|thank|cheers",
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
    Form("remind", "remind us, some day", _without_a_day, alone=True),
)
TEACH = (("remind us 3 days before the easter clearance to bring bags", "also: remind me friday at 5pm to call"),)


def answer(slots: Remind, desk: Desk) -> Answer | Ask:
    """Keep the reminder; say so where its time is past."""
    at, now = moment_said(slots.on, slots.at, desk.settings), desk.wall
    if at <= now and slots.at is None and slots.on == desk.today:
        later = now.hour + 1
        at = datetime.combine(slots.on, time(later)) if later < 24 else at
    if at <= now:
        return Answer(wording.past(slots.on, slots.at, desk.settings, desk.today))
    whom = {US: None, ME: desk.speaker}.get(slots.whom, slots.whom)
    clock = at.time() if slots.at or at.time() != MORNING else None
    reminder = Reminder(slots.what or wording.NOTHING_SAID, slots.on, clock, whom, desk.speaker)
    line = wording.reminder_line(reminder, at, desk.settings, desk.today)
    return Answer(wording.noted(line), (reminder,), wording.reminder_summary(reminder))


KIND = Kind("remind", FORMS, answer, TEACH)
