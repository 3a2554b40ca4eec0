"""``summary``: someone asks for the weekly summary, of this week or of one that is over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from bot.reading.dates import day_at
from bot.reading.evidence import calls_clerk, calls_member
from bot.reading.form import Form, Heard, Need, words
from bot.reading.kind import Kind
from bot.reading.numbers import number_at
from bot.reading.offers import Unclear
from bot.skills.answering import Answer, Desk
from bot.skills.house.orders import owned_by_another
from bot.skills.house.setting_words import SUMMARY, WEEKDAYS_SAID
from bot.skills.house.week_wording import ONE_WEEK, not_yet, week_text
from bot.skills.weekly import has_just_begun, summary_day, week
from core.choices import Setting
from core.day_rules import MONTHS
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Summary:
    """The Monday of the week asked for; None for the week that is on."""

    week: date | None = None

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slot, left out for the week that is on."""
        del currency
        return {"week": self.week.isoformat()} if self.week else {}


def _summary(heard: Heard) -> Sequence[Summary | Unclear]:
    if owned_by_another(heard, Setting.SUMMARY):
        return []
    if _of_no_week(heard):
        return [Unclear(ONE_WEEK)]
    today = heard.marked.today
    monday = today - timedelta(days=today.weekday())
    asked = _week(heard, monday)
    return [Summary(asked if asked and asked != monday else None)]


_PERIODS = frozenset(
    "month months monthly yearly year years quarter since yesterday yesterdays season weekend decade".split()
)
_OF = frozenset("of for in from last".split())


def _of_no_week(heard: Heard) -> bool:
    """Whether another time than one week is to be summed up: a month, a year, all since a day."""
    bare = heard.marked.bare()
    months = (
        bare.text_at(index - 1) in _OF and bare.text_at(index) in _MONTHS and day_at(bare, index, ahead=False) is None
        for index in range(*heard.reach)
    )
    return bool(_PERIODS & set(heard.said)) or any(months)


_MONTHS = frozenset([*MONTHS, *(month[:3] for month in MONTHS)])


def _week(heard: Heard, monday: date) -> date | None:
    bare = heard.marked.bare()
    for index in range(*heard.reach):
        word, behind = bare.text_at(index), bare.text_at(index + 1)
        if word in ("last", "lst", "previous") and behind in ("week", "weeks", "wk", "wks"):
            return monday - timedelta(days=7)
        if word in ("next", "coming") and behind in ("week", "weeks", "wk", "wks"):
            return monday + timedelta(days=7)
        if word == "before" and behind == "last":
            return monday - timedelta(days=14)
        number = number_at(bare, index)
        if (
            number
            and number[0].whole
            and bare.text_at(number[1]) in ("week", "weeks")
            and bare.text_at(number[1] + 1) == "ago"
        ):
            return monday - timedelta(weeks=number[0].whole)
        if word in ("of", "from", "began", "begins", "beginning", "starting", "ending", "to", "on", "for"):
            at = index + 1 + (behind == "the")
            dated = day_at(bare, at + 1, ahead=False) if bare.text_at(at + 1) == "the" else None
            found = dated or day_at(bare, at, ahead=False)
            if found and not bare.text_at(at).startswith("week"):
                return found[0] - timedelta(days=found[0].weekday())
    return None


_SUMMARY = "summary|summery|summry|sumary|roundup|recap|tldr|digest|resume"
_TELLS_OF_WEEK = f"{_SUMMARY}|report|update|overview|highlights|numbers|figures|review|wrapup|post|message|thing"
_US = "we|group|everyone|everybody"
_CALLED = words(
    "happened happening happen done doing did got gotten gone going been new looking look overall speed up weeks week"
    " miss missed far"
)
"""What is asked of the clerk about the time just gone, where it is called: "clerk, catch me up"."""


def _when_called(heard: Heard) -> Sequence[Summary | Unclear]:
    return _summary(heard) if calls_clerk(heard.marked) else []


def _of_our_week(heard: Heard) -> Sequence[Summary | Unclear]:
    """A question about the week that asks no member: "how did we do this week?"."""
    return [] if calls_member(heard.marked, heard.reach) and not calls_clerk(heard.marked) else _summary(heard)


_NOT_NOW = (
    f"start|resume|restart|enable|bring * {SUMMARY}",
    "stop|no|skip|delete|remove|kill|cancel|change|move|set|make|put|switch|turn",
    f"what|which|when|whens|how time|day|days|often|hour * {_SUMMARY}",
    f"{_TELLS_OF_WEEK} * on|at|come|comes|should|arrive|arrives|every|each|back",
    f"{_TELLS_OF_WEEK} {WEEKDAYS_SAID}",
    f"dont|not need|want|send|post * {_SUMMARY}",
)
"""When it is to come, or that it is not to come, is a setting."""
_NOT_OURS = (
    "film|movie|book|novel|episode|match|meeting|series|game|chapter|sermon|lecture|essay|homework",
    "dont|not need|want * week",
)
FORMS = (
    Form(
        "summary",
        "the summary, beside another thing",
        _summary,
        cues=(f"the|a|weekly {_SUMMARY}", f"show|send|give|post * {_SUMMARY}", f"{_SUMMARY} please|pls|plz|too|also"),
        never=(*_NOT_NOW, *_NOT_OURS, f"in|quick|short {_SUMMARY}"),
        strange=0,
        apart=True,
    ),
    Form(
        "summary",
        "the weekly summary",
        _of_our_week,
        cues=(
            f"weekly|weeks|week|wk|wks|monthly|months|month|yearly|years {_SUMMARY}",
            f"{_SUMMARY} of|for|from * week",
            f"the|a|our|this|last|me|us {_SUMMARY}",
            f"^{_SUMMARY}",
            f"send|resend|show|post|repeat * {_SUMMARY}",
            f"send|resend|show|post|repeat * {_SUMMARY} again",
            "where|how * we|the group * stand * this week",
            f"{_SUMMARY} please|pls|now|?",
            "sum up * week",
            "sum up * we * week",
            "sum * week up",
            "hows|howd|how * we|the group|us * last|this|lst week",
            "howd|how we do|did|doing last|this",
            "hows|howd|how * last|this week * look|looking|go|going|for",
            "how * got on last|this week",
            "where * we|us * this week",
            "the|a|our|us rundown",
            "the|a|this|our|weekly run|round down|up",
            f"week * {_SUMMARY}",
            f"weeks|week|wk before last * {_SUMMARY}",
        ),
        never=(
            *_NOT_NOW,
            *_NOT_OURS,
            f"in {_SUMMARY}",
            f"quick|short {_SUMMARY} :|,|-|is",
            f"{_SUMMARY} * moved|changed|sent|send",
            f"{_SUMMARY} * not",
            f"thanks|thank|ty * {_SUMMARY}",
        ),
        strange=6,
    ),
    Form(
        "summary",
        "what tells of the week",
        _of_our_week,
        cues=(
            f"weekly|weeks {_TELLS_OF_WEEK}",
            "weekly please|pls|plz|post|update",
            f"{_TELLS_OF_WEEK} of|for|on the|this|that|our|last week|weeks",
            "week in review|short|brief|numbers|figures",
            "round|wrap|sum|run|write up|down of|for|on the|this|our|last week",
            f"how did|do|have|has|are|were {_US} do|done|doing|fare|fared|look|looking this|last week",
            f"how did|do|have|has|are|were {_US} get|got|getting on|along this|last week",
            "how is|was our week",
            "hows our week",
            "what have|has we|group done this|last week",
            "what * in the books|book|ledger",
        ),
        knows=words("wheres happened review short brief done looking tldr overview highlights digest usually post"),
        never=(*_NOT_NOW, *_NOT_OURS),
        strange=0,
    ),
    Form(
        "summary",
        "what happened, clerk?",
        _when_called,
        cues=(
            "catch|bring|fill me|us up|in|to",
            "how|hows|what|whats * week|lately|overall|since",
            "what|how did|have|has * this|last week",
            "how far|much|many * this|last week",
            "get|got done this|last week",
            "been happening|going|new|up|done",
            "week so far",
            "did|anything|what * miss|missed",
            "what|whats|anything happened|happening|new|up|on|going",
            "how|hows * things|everything|it * look|looking|go|going|overall",
            "give|show|tell me|us * the|this|our|last week",
        ),
        knows=_CALLED,
        never=_NOT_OURS,
        lacks=frozenset((Need.ITEM, Need.AMOUNT)),
        strange=1,
    ),
)
TEACH = (("weekly summary", "also: last week's summary, summary for the week of aug 3"),)


def answer(slots: Summary, desk: Desk) -> Answer:
    """The summary of the week, as the books stand now."""
    ends = summary_day(desk, slots.week)
    if slots.week and slots.week > desk.today:
        return Answer(not_yet(slots.week, desk.settings, desk.today))
    told = week(ends, desk)
    if slots.week is None and told.quiet and not (before := week(ends - timedelta(days=7), desk, latest=True)).quiet:
        told = before if has_just_begun(ends, desk) else told
    return Answer(week_text(told, desk.settings, desk.today))


KIND = Kind("summary", FORMS, answer, TEACH)
