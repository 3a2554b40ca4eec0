"""The settings of a group as text: what they say reads back as itself, and bad values are refused."""

from __future__ import annotations

from dataclasses import replace
from datetime import time
from fractions import Fraction
from zoneinfo import available_timezones

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.choices import BadChoiceError, Setting, chosen, completed, month_day, value_of
from core.group import Quiet, Settings, Weekly
from core.money import Rounding, currency

BEFORE = Settings(currency("EUR"), tax_rate=Fraction(5))
GOOD = [
    (Setting.QUIET_HOURS, "21:30-06:15", replace(BEFORE, quiet=Quiet(time(21, 30), time(6, 15)))),
    (Setting.QUIET_HOURS, "13:00-14:00", replace(BEFORE, quiet=Quiet(time(13), time(14)))),
    (Setting.QUIET_HOURS, "off", replace(BEFORE, quiet=None)),
    (Setting.SUMMARY, "friday 08:05", replace(BEFORE, summary=Weekly(4, time(8, 5)))),
    (Setting.SUMMARY, "off", replace(BEFORE, summary=None)),
    (Setting.ALERTS_A_DAY, "0", replace(BEFORE, alerts_a_day=0)),
    (Setting.ALERTS_A_DAY, "no limit", replace(BEFORE, alerts_a_day=None)),
    (Setting.ALERTS_A_DAY, "50", replace(BEFORE, alerts_a_day=50)),
    (Setting.LEAD_DAYS, "0", replace(BEFORE, lead_days=0)),
    (Setting.LEAD_DAYS, "60", replace(BEFORE, lead_days=60)),
    *((Setting.ROUNDING, one.value, replace(BEFORE, rounding=one)) for one in Rounding),
    (Setting.CURRENCY, "KWD", replace(BEFORE, currency=currency("KWD"))),
    (Setting.TAX_RATE, "8.25", replace(BEFORE, tax_rate=Fraction("8.25"))),
    (Setting.TAX_RATE, "0", replace(BEFORE, tax_rate=Fraction(0))),
    (Setting.TAX_RATE, "100", replace(BEFORE, tax_rate=Fraction(100))),
    (Setting.TAX_RATE, "off", replace(BEFORE, tax_rate=None)),
    (Setting.COUNTRY, "NZ", replace(BEFORE, country="NZ")),
    (Setting.TIMEZONE, "Pacific/Auckland", replace(BEFORE, timezone="Pacific/Auckland")),
    (Setting.SEASON, "02-29", replace(BEFORE, season_starts=(2, 29))),
    (Setting.SEASON, "off", BEFORE),
    (Setting.REACTIONS, "on", replace(BEFORE, reacts=True)),
    (Setting.REACTIONS, "off", BEFORE),
    (Setting.TOPIC, "17", replace(BEFORE, topic="17")),
    (Setting.TOPIC, "off", BEFORE),
]
BAD = {
    Setting.QUIET_HOURS: ["", "on", "22:00", "7-9", "22:00-24:00", "22:00-22:00", "22:00 07:00"],
    Setting.SUMMARY: ["noon", "sun 18:00", "sunday 25:00", "sunday at 18:00", "sunday 6 pm"],
    Setting.ALERTS_A_DAY: ["", "-1", "51", "2.5", "three", "off"],
    Setting.LEAD_DAYS: ["", "-1", "61", "3 days", "off"],
    Setting.ROUNDING: ["", "UP", "sideways"],
    Setting.CURRENCY: ["", "EURO", "ZZZ", "$"],
    Setting.TAX_RATE: ["", "-1", "100.01", "1e1", "1/2", "8,25", "8.", ".5", "8%", "nan", "inf"],
    Setting.COUNTRY: ["", "U", "USA", "U1", "ÄÖ"],
    Setting.TIMEZONE: ["", "Chicago", "UTC+2", "../UTC", "/etc/localtime", "America", "a\0b"],
    Setting.SEASON: ["", "1-2", "02-30", "13-01", "2026-01-02", "january 2"],
    Setting.REACTIONS: ["", "yes", "true", "ON"],
    Setting.TOPIC: ["", " "],
}


@pytest.mark.parametrize(("setting", "value", "after"), GOOD, ids=[f"{name} {value}" for name, value, _ in GOOD])
def test_a_value_is_set_and_reads_back(setting: Setting, value: str, after: Settings) -> None:
    assert chosen(BEFORE, setting, value) == after
    assert value_of(after, setting) == value


def test_every_setting_has_its_cases() -> None:
    assert {setting for setting, _, _ in GOOD} == set(BAD) == set(Setting)


@pytest.mark.parametrize("setting", Setting)
def test_setting_what_is_set_changes_nothing(setting: Setting) -> None:
    assert chosen(BEFORE, setting, value_of(BEFORE, setting)) == BEFORE


@pytest.mark.parametrize(
    ("setting", "value"), [(setting, value) for setting, values in BAD.items() for value in values]
)
def test_a_bad_value_is_refused(setting: Setting, value: str) -> None:
    with pytest.raises(BadChoiceError):
        chosen(BEFORE, setting, value)


@pytest.mark.parametrize(
    ("setting", "said", "value"),
    [
        (Setting.QUIET_HOURS, " 22:00 - 07:00 ", "22:00-07:00"),
        (Setting.SUMMARY, "18:30 Friday", "friday 18:30"),
        (Setting.SUMMARY, "monday", "monday 18:00"),
        (Setting.SUMMARY, "09:30", "sunday 09:30"),
        (Setting.CURRENCY, "usd", "USD"),
        (Setting.TAX_RATE, "8.250", "8.25"),
        (Setting.COUNTRY, "ca", "CA"),
    ],
)
def test_a_value_may_be_said_otherwise(setting: Setting, said: str, value: str) -> None:
    assert value_of(chosen(BEFORE, setting, said), setting) == value


def test_a_summary_comes_back_after_off() -> None:
    without = chosen(BEFORE, Setting.SUMMARY, "off")

    assert chosen(without, Setting.SUMMARY, "friday").summary == Weekly(4, time(18))


TIMES = st.times().map(lambda at: at.replace(second=0, microsecond=0))
ALL = st.builds(
    Settings,
    st.sampled_from(["USD", "JPY", "KWD"]).map(currency),
    st.sampled_from(sorted(available_timezones())),
    st.from_regex("[A-Z]{2}", fullmatch=True),
    st.sampled_from(Rounding),
    st.none() | st.integers(0, 100_000).map(lambda thousandths: Fraction(thousandths, 1000)),
    st.none() | st.builds(Quiet, TIMES, TIMES).filter(lambda quiet: quiet.starts != quiet.ends),
    st.none() | st.builds(Weekly, st.integers(0, 6), TIMES),
    st.integers(0, 50),
    st.integers(0, 60),
    st.none() | st.dates().map(lambda day: (day.month, day.day)),
    st.booleans(),
    st.none() | st.integers(1, 9_999).map(str),
)


@given(ALL)
def test_settings_are_carried_by_their_values(settings: Settings) -> None:
    carried = BEFORE
    for setting in Setting:
        carried = chosen(carried, setting, value_of(settings, setting))

    assert carried == settings


@pytest.mark.parametrize(
    ("setting", "value"),
    [
        (Setting.QUIET_HOURS, "22:00-07:00-08:00"),
        (Setting.QUIET_HOURS, "22:00:10-22:00:20"),
        (Setting.SUMMARY, "sunday 18:00+01:00"),
        (Setting.SUMMARY, "sunday 18:00:30"),
        (Setting.TAX_RATE, "1/0"),
        (Setting.TAX_RATE, "12.34567"),
        (Setting.TAX_RATE, "0.00001"),
    ],
)
def test_a_fine_value_is_refused_or_kept(setting: Setting, value: str) -> None:
    try:
        settings = chosen(BEFORE, setting, value)
    except BadChoiceError:
        return

    assert chosen(BEFORE, setting, value_of(settings, setting)) == settings


@pytest.mark.parametrize(("value", "words"), [("01-02", "January 2"), ("12-31", "December 31")])
def test_a_day_is_said_in_words(value: str, words: str) -> None:
    assert month_day(value) == words


@pytest.mark.parametrize(
    ("quiet", "value", "whole"),
    [
        (Quiet(time(22), time(7)), "21:00-", "21:00-07:00"),
        (Quiet(time(22), time(7)), "-08:00", "22:00-08:00"),
        (Quiet(time(22), time(7)), "20:00-06:00", "20:00-06:00"),
        (Quiet(time(23), time(6)), "on", "23:00-06:00"),
        (None, "on", "22:00-07:00"),
        (None, "off", "off"),
        (None, "21:00-", None),
    ],
)
def test_quiet_hours_are_completed(quiet: Quiet | None, value: str, whole: str | None) -> None:
    assert completed(replace(BEFORE, quiet=quiet), Setting.QUIET_HOURS, value) == whole
