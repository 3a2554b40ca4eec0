"""The settings of a group by name, as text and back: what group.toml, the chat and the books all write."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, time
from decimal import Decimal
from enum import StrEnum
from fractions import Fraction
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from core.day_rules import MONTHS, WEEKDAYS
from core.group import USUAL_SUMMARY, Quiet, Settings, Weekly
from core.money import Rounding, UnknownCurrencyError, currency

OFF = "off"
ON = "on"
NO_LIMIT = "no limit"
MOST_ALERTS = 50
MOST_LEAD_DAYS = 60
_HIGHEST_PERCENT = 100


class Setting(StrEnum):
    """What a group may choose, by name."""

    QUIET_HOURS = "quiet_hours"
    SUMMARY = "summary"
    ALERTS_A_DAY = "alerts_a_day"
    LEAD_DAYS = "lead_days"
    ROUNDING = "rounding"
    CURRENCY = "currency"
    TAX_RATE = "tax_rate"
    COUNTRY = "country"
    TIMEZONE = "timezone"
    SEASON = "season"
    REACTIONS = "reactions"
    TOPIC = "topic"


class BadChoiceError(ValueError):
    """The value is none that the setting can have."""


@dataclass(frozen=True, slots=True)
class _Choice:
    """How a setting is written and read."""

    set: Callable[[Settings, str], Settings]
    get: Callable[[Settings], str]


def chosen(settings: Settings, setting: Setting, value: str) -> Settings:
    """The settings with one changed: quiet_hours "22:00-07:00", summary "sunday 18:00", season "01-02".

    Raises BadChoiceError for a value that the setting cannot have.
    """
    try:
        return _CHOICES[setting].set(settings, value.strip())
    except (ValueError, ZoneInfoNotFoundError, OSError):
        raise BadChoiceError(value) from None


def value_of(settings: Settings, setting: Setting) -> str:
    """The value of a setting, as ``chosen`` reads it."""
    return _CHOICES[setting].get(settings)


def completed(settings: Settings, setting: Setting, value: str) -> str | None:
    """A value with what the settings have for the rest of it: "21:00-" with quiet till 07:00 is "21:00-07:00".

    What is off and turned on is as usual. None where the other end of the quiet hours is not known.
    """
    if value == ON and setting in (Setting.QUIET_HOURS, Setting.SUMMARY, Setting.ALERTS_A_DAY):
        is_off = value_of(settings, setting) in (OFF, "0")
        return value_of(Settings(settings.currency) if is_off else settings, setting)
    starts, stroke, ends = value.partition("-")
    if setting is not Setting.QUIET_HOURS or not stroke or (starts and ends):
        return value
    known = value_of(settings, setting)
    return None if known == OFF else f"{starts or known.partition('-')[0]}-{ends or known.partition('-')[2]}"


def _quiet(settings: Settings, value: str) -> Settings:
    if value == OFF:
        return replace(settings, quiet=None)
    starts, _, ends = value.partition("-")
    quiet = Quiet(_time(starts), _time(ends))
    if quiet.starts == quiet.ends:
        raise BadChoiceError(value)
    return replace(settings, quiet=quiet)


def _quiet_said(settings: Settings) -> str:
    quiet = settings.quiet
    return f"{quiet.starts:%H:%M}-{quiet.ends:%H:%M}" if quiet else OFF


def _summary(settings: Settings, value: str) -> Settings:
    """Day and hour, or one of them, where the other stays as it is."""
    if value == OFF:
        return replace(settings, summary=None)
    before = settings.summary or USUAL_SUMMARY
    day, at = before.weekday, before.at
    words = value.casefold().split()
    if not words:
        raise BadChoiceError(value)
    for word in words:
        if word in WEEKDAYS:
            day = WEEKDAYS.index(word)
        else:
            at = _time(word)
    return replace(settings, summary=Weekly(day, at))


def _summary_said(settings: Settings) -> str:
    weekly = settings.summary
    return f"{WEEKDAYS[weekly.weekday]} {weekly.at:%H:%M}" if weekly else OFF


def _time(value: str) -> time:
    """Hours and minutes: "22:00". Raises ValueError."""
    if not re.fullmatch(r"[0-9]{1,2}:[0-9]{2}", value.strip()):
        raise BadChoiceError(value)
    hours, minutes = value.split(":")
    return time(int(hours), int(minutes))


def _number(value: str, most: int) -> int:
    number = int(value)
    if not 0 <= number <= most:
        raise BadChoiceError(value)
    return number


def _alerts(settings: Settings, value: str) -> Settings:
    return replace(settings, alerts_a_day=None if value == NO_LIMIT else _number(value, MOST_ALERTS))


def _alerts_said(settings: Settings) -> str:
    return NO_LIMIT if settings.alerts_a_day is None else str(settings.alerts_a_day)


def _tax(settings: Settings, value: str) -> Settings:
    if value == OFF:
        return replace(settings, tax_rate=None)
    if not re.fullmatch(r"[0-9]{1,3}(\.[0-9]{1,6})?", value) or Fraction(value) > _HIGHEST_PERCENT:
        raise BadChoiceError(value)
    return replace(settings, tax_rate=Fraction(value))


def _tax_said(settings: Settings) -> str:
    if settings.tax_rate is None:
        return OFF
    digits = f"{Decimal(settings.tax_rate.numerator) / settings.tax_rate.denominator:.6f}"
    return digits.rstrip("0").removesuffix(".")


def _country(settings: Settings, value: str) -> Settings:
    if not re.fullmatch("[A-Za-z]{2}", value):
        raise BadChoiceError(value)
    return replace(settings, country=value.upper())


def _currency(settings: Settings, value: str) -> Settings:
    try:
        return replace(settings, currency=currency(value))
    except UnknownCurrencyError:
        raise BadChoiceError(value) from None


def _season(settings: Settings, value: str) -> Settings:
    if value == OFF:
        return replace(settings, season_starts=None)
    if not re.fullmatch("[0-9]{2}-[0-9]{2}", value):
        raise BadChoiceError(value)
    leap_year = 2000
    day = date.fromisoformat(f"{leap_year}-{value}")
    return replace(settings, season_starts=(day.month, day.day))


def _season_said(settings: Settings) -> str:
    starts = settings.season_starts
    return f"{starts[0]:02}-{starts[1]:02}" if starts else OFF


def _reactions(settings: Settings, value: str) -> Settings:
    if value not in (ON, OFF):
        raise BadChoiceError(value)
    return replace(settings, reacts=value == ON)


def _topic(settings: Settings, value: str) -> Settings:
    if not value:
        raise BadChoiceError(value)
    return replace(settings, topic=None if value == OFF else value)


_CHOICES: dict[Setting, _Choice] = {
    Setting.QUIET_HOURS: _Choice(_quiet, _quiet_said),
    Setting.SUMMARY: _Choice(_summary, _summary_said),
    Setting.ALERTS_A_DAY: _Choice(_alerts, _alerts_said),
    Setting.LEAD_DAYS: _Choice(
        lambda settings, value: replace(settings, lead_days=_number(value, MOST_LEAD_DAYS)),
        lambda settings: str(settings.lead_days),
    ),
    Setting.ROUNDING: _Choice(
        lambda settings, value: replace(settings, rounding=Rounding(value)),
        lambda settings: settings.rounding.value,
    ),
    Setting.CURRENCY: _Choice(_currency, lambda settings: settings.currency.code),
    Setting.TAX_RATE: _Choice(_tax, _tax_said),
    Setting.COUNTRY: _Choice(_country, lambda settings: settings.country),
    Setting.TIMEZONE: _Choice(
        lambda settings, value: replace(settings, timezone=ZoneInfo(value).key),
        lambda settings: settings.timezone,
    ),
    Setting.SEASON: _Choice(_season, _season_said),
    Setting.REACTIONS: _Choice(_reactions, lambda settings: ON if settings.reacts else OFF),
    Setting.TOPIC: _Choice(_topic, lambda settings: settings.topic or OFF),
}


def month_day(value: str) -> str:
    """A month and day "01-02" in words: "January 2"."""
    month, day = map(int, value.split("-"))
    return f"{MONTHS[month - 1].capitalize()} {day}"
