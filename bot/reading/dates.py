"""Days: when a price was seen, and until when it holds."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import lru_cache

from dateutil.relativedelta import relativedelta

from bot.reading.numbers import number_at
from bot.reading.spans import Marked
from bot.reading.words import Sort
from core.day_rules import PHRASES, PHRASES_FROM, DayRule, next_on
from core.group import Settings

_WEEKDAYS = {
    word: day
    for day, words in enumerate(
        (
            "monday mon mondays munday",
            "tuesday tue tues tuseday teusday",
            "wednesday wed weds wedensday wensday wednsday wednesdy",
            "thursday thu thur thurs thurday thursady",
            "friday fri firday fridy",
            "saturday sat saterday satuday",
            "sunday sun",
        )
    )
    for word in words.split()
}
_BEGINNINGS = frozenset("starts starting start begins beginning opens opening".split())
_ALONE = frozenset(("only", "just"))
_ALSO_WORDS = frozenset(("sat", "sun", "wed"))
_WE_WOULD = frozenset(("wed", verb) for verb in "go pay like love need want be have rather prefer take buy get".split())
_BEFORE_A_WORD = frozenset("the we i he she they you who and".split())
"""Words after which "sat" and "sun" are no days."""
_RELATIVE = {
    "today": 0,
    "tonight": 0,
    "yesterday": -1,
    "yest": -1,
    "yday": -1,
    "tomorrow": 1,
    "tmrw": 1,
    "tmw": 1,
    "tmr": 1,
    "tomo": 1,
    "tmrow": 1,
    "tomoz": 1,
    "tom": 1,
}
ORDINAL_ENDS = frozenset(("st", "nd", "rd", "th"))
"""What ends a number that tells a place: 2nd."""
_PARTS_OF_DAY = frozenset(("morning", "afternoon", "evening"))
_MONTHS = {
    word: month
    for month, words in enumerate(
        "january jan|february feb|march mar|april apr|may|june jun|july jul|august aug|september sept sep"
        "|october oct|november nov|december dec".split("|"),
        start=1,
    )
    for word in words.split()
}
_ORDINALS = {
    word: value
    for value, word in enumerate(
        "first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth"
        " fifteenth sixteenth seventeenth eighteenth nineteenth twentieth".split(),
        start=1,
    )
} | {"thirtieth": 30}
_UNTIL = frozenset(
    "thru through till til until untill closes closing"
    " ends end ending expires expiring finish finishes finishing".split()
)
_STARTERS = frozenset(
    {*_RELATIVE, *_WEEKDAYS, *_MONTHS, *_ORDINALS, *PHRASES_FROM}
    | set("this last next coming the end close of a an one two three four five six seven couple".split())
)
"""The words a day can begin with; any other is no day, which is most of them."""
_SPAN_STARTERS = _STARTERS | _UNTIL | frozenset("good valid runs only just on from".split())


@dataclass(frozen=True, slots=True)
class Day:
    """The day a price was seen or a thing bought."""

    day: date


@dataclass(frozen=True, slots=True)
class Until:
    """The last day a price holds."""

    day: date


def find_dates(marked: Marked) -> None:
    """Mark the days named in a message: the last day of an offer looks ahead, every other day looks back."""
    marked.mark_where(_SPAN_STARTERS, lambda index: _until(marked, index) or _seen(marked, index))


def _until(marked: Marked, index: int) -> tuple[Until, int] | None:
    return _until_said(marked, index) or _last_day(marked, index) or _this_day_only(marked, index)


def _this_day_only(marked: Marked, index: int) -> tuple[Until, int] | None:
    """Today only; only today; just for today."""
    at = index
    while marked.word(at) in _ALONE or (at > index and marked.word(at) == "for"):
        at += 1
    if marked.word(at) not in ("today", "tonight"):
        return None
    after = at + 1 + (marked.word(at + 1) in _ALONE)
    return (Until(marked.today), after) if after - index > 1 else None


def _last_day(marked: Marked, index: int) -> tuple[Until, int] | None:
    """Last day the 15th; tomorrow is the last day."""
    if marked.has_phrase(index, ("last", "day")):
        at = index + 2
        while marked.word(at) in ("is", ":", "on", "of"):
            at += 1
        found = day_at(marked, at, ahead=True)
        return (Until(found[0]), found[1]) if found else None
    found = day_at(marked, index, ahead=True)
    if found is None:
        return None
    at = found[1] + (marked.word(found[1]) == "is")
    at += marked.word(at) == "the"
    return (Until(found[0]), at + 2) if marked.has_phrase(at, ("last", "day")) else None


def _until_said(marked: Marked, index: int) -> tuple[Until, int] | None:
    at = index
    if marked.word(at) in ("good", "valid", "runs", "only") and marked.word(at + 1) in _UNTIL:
        at += 1
    if marked.word(at) not in _UNTIL:
        return None
    at += 1
    while marked.word(at) in ("on", "the", "this", "by") and not day_at(marked, at, ahead=True):
        at += 1
    found = day_at(marked, at, ahead=True)
    return (Until(found[0]), found[1]) if found else None


def _seen(marked: Marked, index: int) -> tuple[Day, int] | None:
    at = index + (marked.word(index) in ("on", "from"))
    found = day_at(marked, at, ahead=False)
    if found is None or found[0] > marked.today or marked.word(index - 1) in _BEGINNINGS:
        return None
    return Day(found[0]), found[1]


def day_at(marked: Marked, index: int, *, ahead: bool) -> tuple[date, int] | None:
    """The day named at a token, and the index after it; ``ahead`` looks to the future where no year is said."""
    if marked.word(index) not in _STARTERS and not marked.is_sort(index, Sort.NUMBER):
        return None
    return (
        _relative(marked, index)
        or _feast(marked, index)
        or _weekday(marked, index, ahead)
        or _end_of(marked, index, ahead)
        or _days_ago(marked, index)
        or _calendar(marked, index, ahead)
    )


def _relative(marked: Marked, index: int) -> tuple[date, int] | None:
    word = marked.word(index)
    if word == "this" and marked.word(index + 1) in _PARTS_OF_DAY:
        return marked.today, index + 2
    if word == "last" and marked.word(index + 1) == "night":
        return marked.today - timedelta(days=1), index + 2
    if word not in _RELATIVE:
        return None
    end = index + 1 + (marked.word(index + 1) in _PARTS_OF_DAY)
    return marked.today + timedelta(days=_RELATIVE[word]), end


def _weekday(marked: Marked, index: int, ahead: bool) -> tuple[date, int] | None:
    word = marked.word(index)
    modifier = word if word in ("next", "last", "this", "coming") else ""
    at = index + bool(modifier)
    weekday = _WEEKDAYS.get(marked.word(at))
    if not modifier and marked.text_at(index - 1) in ("next", "coming"):
        return None
    if weekday is None or (marked.word(at) in _ALSO_WORDS and _is_a_word(marked, at)):
        return None
    today = marked.today
    monday = today - timedelta(days=today.weekday())
    if modifier == "next":
        return monday + timedelta(days=7 + weekday), at + 1
    back = (today.weekday() - weekday) % 7
    if not ahead:
        return today - timedelta(days=back or 7 * (modifier == "last")), at + 1
    return today + timedelta(days=(-back) % 7), at + 1


def _is_a_word(marked: Marked, index: int) -> bool:
    """Whether "sat", "sun" or "wed" is no day: "we sat", "we'd go"; in "fri and sat" it is one."""
    before, token = marked.text_at(index - 1), marked.tokens[index]
    if "'" in marked.text[token.start : token.end] or (token.text, marked.text_at(index + 1)) in _WE_WOULD:
        return True
    return before in _BEFORE_A_WORD and not (before == "and" and marked.text_at(index - 2) in _WEEKDAYS)


def no_such_day(marked: Marked, index: int) -> int | None:
    """Where a date ends that a token begins and that no year has: "feb 30", "the 31st of september", 2026-02-30."""
    end = _calendar_end(marked, index, ahead=True)
    if end is None or _calendar(marked, index, ahead=True):
        return None
    return end if _MONTHS.keys() & {marked.word(at) for at in range(index, end)} or _iso_end(marked, index) else None


def _feast(marked: Marked, index: int) -> tuple[date, int] | None:
    for words in PHRASES_FROM.get(marked.word(index), ()):
        if marked.has_phrase(index, words):
            found = next_on(DayRule(PHRASES[words]), marked.settings.country, marked.today)
            return (found, index + len(words)) if found else None
    return None


def _end_of(marked: Marked, index: int, ahead: bool) -> tuple[date, int] | None:
    at = index + (marked.word(index) == "the")
    if not ahead:
        return None
    if marked.word(at) in ("end", "close") and marked.word(at + 1) == "of":
        at += 2
    elif marked.has_phrase(at, ("last", "day", "of")):
        at += 3
    elif marked.text_at(index - 1) not in ("end", "ends") or marked.word(at) != "of":
        return None
    else:
        at += 1
    at += marked.word(at) in ("the", "this")
    word = marked.word(at)
    if word == "month":
        return marked.today + relativedelta(day=31), at + 1
    if word == "week":
        return marked.today + timedelta(days=6 - marked.today.weekday()), at + 1
    if word == "year":
        return marked.today + relativedelta(month=12, day=31), at + 1
    if word in _MONTHS:
        last = marked.today + relativedelta(month=_MONTHS[word], day=31)
        return (last if last >= marked.today else last + relativedelta(years=1, day=31)), at + 1
    return None


def _days_ago(marked: Marked, index: int) -> tuple[date, int] | None:
    number = number_at(marked, index)
    if number is None or number[0].whole is None:
        return None
    unit = marked.word(number[1]).removesuffix("s")
    if unit not in ("day", "week") or marked.word(number[1] + 1) != "ago":
        return None
    return marked.today - timedelta(days=number[0].whole * (7 if unit == "week" else 1)), number[1] + 2


def _calendar(marked: Marked, index: int, ahead: bool) -> tuple[date, int] | None:
    end = _calendar_end(marked, index, ahead)
    if end is None:
        return None
    words = [_as_digits(marked, at) for at in range(index, end) if marked.word(at) not in _NO_PART_OF_A_DATE]
    if len(words) == 1:
        return _day_of_month(marked.today, int(words[0]), ahead), end
    joint = "" if "/" in words else "-" if len(words[0]) == 4 else " "
    found = _parsed(joint.join(words), marked.today, marked.settings, ahead)
    return (found, end) if found else None


_NO_PART_OF_A_DATE = frozenset("the of , st nd rd th".split())


def _day_of_month(today: date, number: int, ahead: bool) -> date:
    """The nearest month, this one counted, that has such a day on or after (on or before) today."""
    for months in range(3):
        month = today + relativedelta(months=months if ahead else -months)
        day = month + relativedelta(day=number)
        if day.day == number and (day >= today if ahead else day <= today):
            return day
    return today


def _as_digits(marked: Marked, index: int) -> str:
    word = marked.word(index)
    return str(_ORDINALS[word]) if word in _ORDINALS else word


def _calendar_end(marked: Marked, index: int, ahead: bool) -> int | None:
    """Where a span that can be a date ends: "aug 14", "14th of august", "the 14th", 2026-08-14, 14/8."""
    at = index + (marked.word(index) == "the")
    day_end = _day_number(marked, at)
    if iso := _iso_end(marked, index):
        return iso
    if marked.word(at) in _MONTHS:
        day_after = _day_number(marked, at + 1 + (marked.word(at + 1) == "the"))
        return _past_year(marked, day_after) if day_after else None
    if day_end is None:
        return None
    month_at = day_end + (marked.word(day_end) == "of")
    if marked.word(month_at) in _MONTHS:
        return _past_year(marked, month_at + 1)
    if ahead and (numeric := _numeric_end(marked, day_end)):
        return numeric
    ordinal = day_end - at == 2 or marked.word(at) in _ORDINALS
    return day_end if ordinal and (at > index or ahead) else None


def _iso_end(marked: Marked, index: int) -> int | None:
    """2026-08-14, whose hyphens only glue (ISO 8601)."""
    parts = [marked.word(at) for at in range(index, index + 3)]
    if all(part.isdigit() for part in parts) and [len(part) for part in parts] == [4, 2, 2]:
        return index + 3 if marked.glued(index + 1) and marked.glued(index + 2) else None
    return None


def _day_number(marked: Marked, index: int) -> int | None:
    if marked.word(index) in _ORDINALS:
        return index + 1
    if not (marked.is_sort(index, Sort.NUMBER) and marked.word(index).isdigit() and 0 < int(marked.word(index)) <= 31):
        return None
    suffixed = marked.word(index + 1) in ORDINAL_ENDS and marked.glued(index + 1)
    return index + 2 if suffixed else index + 1


def _past_year(marked: Marked, index: int) -> int:
    at = index + (marked.word(index) == ",")
    return at + 1 if marked.word(at).isdigit() and len(marked.word(at)) == 4 else index


def _numeric_end(marked: Marked, stroke: int) -> int | None:
    if marked.word(stroke) not in ("/", ".") or not marked.glued(stroke):
        return None
    if not (marked.word(stroke + 1).isdigit() and marked.glued(stroke + 1)):
        return None
    end = stroke + 2
    if marked.word(end) in ("/", ".") and marked.word(end + 1).isdigit():
        end += 2
    return end


@lru_cache(maxsize=1024)
def _parsed(words: str, day: date, settings: Settings, ahead: bool) -> date | None:
    import dateparser

    found = dateparser.parse(
        words,
        languages=["en"],
        settings={
            "RELATIVE_BASE": datetime.combine(day, time()),
            "PREFER_DATES_FROM": "future" if ahead else "past",
            "DATE_ORDER": "MDY" if settings.country in ("US", "FM", "MH", "PW") else "DMY",
        },
    )
    return found.date() if found else None
