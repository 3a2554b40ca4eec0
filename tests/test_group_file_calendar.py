"""The calendar in group.toml: quiet hours, summary, alerts, sales and who may change them, and each fault in it."""

from __future__ import annotations

from datetime import date, time
from fractions import Fraction
from pathlib import Path

import pytest

from bot.group_file import read_group
from core.group import Quiet, Weekly
from core.windows import WindowRule, usual_windows
from tests.group_files import fault_of, folder_with

NAME = 'name = "Pell Row"\n'
JUMBLE = '[[window]]\nname = "hall jumble sale"\nfrom = "first saturday of october"\n'


def windows_of(folder: Path, text: str) -> dict[str, WindowRule]:
    """The sale windows of a group that says nothing else, the country's usual ones among them, by name."""
    return {rule.name: rule for rule in read_group(folder_with(folder, NAME + text)).window_rules}


# What the clerk does by the clock.


@pytest.mark.parametrize(
    ("line", "quiet"),
    [
        ('quiet_hours = "21:00-08:00"', Quiet(time(21), time(8))),
        ('quiet_hours = " 13:30 - 15:00 "', Quiet(time(13, 30), time(15))),
        ('quiet_hours = "off"', None),
        ("", Quiet(time(22), time(7))),
    ],
)
def test_quiet_hours_are_kept(tmp_path: Path, line: str, quiet: Quiet | None) -> None:
    group = read_group(folder_with(tmp_path, NAME + line))

    assert group.settings.quiet == quiet


@pytest.mark.parametrize(
    ("line", "summary"),
    [
        ('summary = "friday 17:00"', Weekly(4, time(17))),
        ('summary = "Monday"', Weekly(0, time(18))),
        ('summary = "9:30"', Weekly(6, time(9, 30))),
        ('summary = "off"', None),
        ("", Weekly(6, time(18))),
    ],
)
def test_time_of_the_summary_is_kept(tmp_path: Path, line: str, summary: Weekly | None) -> None:
    group = read_group(folder_with(tmp_path, NAME + line))

    assert group.settings.summary == summary


def test_numbers_of_the_calendar_are_kept(tmp_path: Path) -> None:
    group = read_group(folder_with(tmp_path, f'{NAME}alerts_a_day = 0\nlead_days = 10\nseason = "01-02"'))

    assert (group.settings.alerts_a_day, group.settings.lead_days) == (0, 10)
    assert group.settings.season_starts == (1, 2)


def test_calendar_has_defaults_that_are_told(tmp_path: Path) -> None:
    settings = read_group(folder_with(tmp_path, NAME)).settings

    assert (settings.alerts_a_day, settings.lead_days, settings.season_starts) == (3, 3, None)


@pytest.mark.parametrize(("line", "reacts"), [("reactions = true", True), ("reactions = false", False), ("", False)])
def test_whether_prices_get_a_sign_is_kept(tmp_path: Path, line: str, reacts: bool) -> None:
    assert read_group(folder_with(tmp_path, NAME + line)).settings.reacts is reacts


def test_deal_alerts_may_have_no_limit(tmp_path: Path) -> None:
    group = read_group(folder_with(tmp_path, f'{NAME}alerts_a_day = "no limit"'))

    assert group.settings.alerts_a_day is None


def test_administrators_are_members_by_name(tmp_path: Path) -> None:
    group = read_group(folder_with(tmp_path, f'{NAME}members = ["Ida", "Bo"]\nadministrators = ["Bo"]'))

    assert group.administrators == ("Bo",)


@pytest.mark.parametrize(
    ("line", "fault", "example"),
    [
        ('quiet_hours = "late"', "quiet_hours is 'late'", 'quiet_hours = "22:00-07:00"'),
        ('quiet_hours = "22:00"', "quiet_hours is '22:00'", 'quiet_hours = "22:00-07:00"'),
        ('quiet_hours = "22:00-22:00"', "quiet_hours is '22:00-22:00'", 'quiet_hours = "22:00-07:00"'),
        ('quiet_hours = "22:00-25:00"', "quiet_hours is '22:00-25:00'", 'quiet_hours = "22:00-07:00"'),
        ("quiet_hours = 22", "quiet_hours is 22", 'quiet_hours = "22:00-07:00"'),
        ("quiet_hours = true", "quiet_hours is ", 'quiet_hours = "22:00-07:00"'),
        ('summary = "funday"', "summary is 'funday'", 'summary = "sunday 18:00"'),
        ('summary = "sunday 24:00"', "summary is 'sunday 24:00'", 'summary = "sunday 18:00"'),
        ('summary = ""', "summary is ''", 'summary = "sunday 18:00"'),
        ('summary = ["sunday"]', "summary is ['sunday']", 'summary = "sunday 18:00"'),
        ("alerts_a_day = -1", "alerts_a_day is -1", "alerts_a_day = 3"),
        ("alerts_a_day = 51", "alerts_a_day is 51", "alerts_a_day = 3"),
        ("alerts_a_day = 2.5", "alerts_a_day is 2.5", "alerts_a_day = 3"),
        ('alerts_a_day = "many"', "alerts_a_day is 'many'", "alerts_a_day = 3"),
        ("lead_days = -3", "lead_days is -3", "lead_days = 3"),
        ("lead_days = 61", "lead_days is 61", "lead_days = 3"),
        ('season = "02-30"', "season is '02-30'", 'season = "01-02"'),
        ('season = "january 2"', "season is 'january 2'", 'season = "01-02"'),
        ('reactions = "yes"', "reactions is 'yes', and must be true or false", "reactions = true"),
        ("reactions = 1", "reactions is 1, and must be true or false", "reactions = true"),
        ("reacts = true", "reacts is no field of the file", "reactions = true"),
        ('administrators = "Ines"', "administrators must be a list of texts in brackets", 'administrators = ["Ines"]'),
        ("administrators = [7]", "administrators[1] must be a text in quotes", 'administrators = ["Ines"]'),
        (
            'administrators = ["Ines", "Bo"]',
            "administrators[2] is 'Bo', who is none of the members",
            'administrators = ["Ines"]',
        ),
        (
            'administrators = ["Ines", "Ines"]',
            "administrators[2] is 'Ines', a name that administrators[1] has already",
            'administrators = ["Ines"]',
        ),
        ('quite_hours = "off"', "quite_hours is no field of the file", 'quiet_hours = "22:00-07:00"'),
        ("lead_day = 3", "lead_day is no field of the file", "lead_days = 3"),
    ],
)
def test_fault_of_the_calendar_is_one_sentence(tmp_path: Path, line: str, fault: str, example: str) -> None:
    head = f'{NAME}members = ["Ines", "Tobias"]\n'

    said = fault_of(tmp_path, head + line)

    assert said.startswith(f"{tmp_path / 'group.toml'}: {fault}")
    assert said.endswith(f"; what works is: {example}.")
    assert "\n" not in said
    assert read_group(folder_with(tmp_path, head + example)).name == "Pell Row"


# Sale windows.


def test_window_of_its_own_comes_every_year(tmp_path: Path) -> None:
    text = f'{JUMBLE}days = 2\noff = "40"\nlook_for = ["comb", "toy car"]'

    rule = windows_of(tmp_path, text)["hall jumble sale"]

    for year, first, last in ((2026, 3, 4), (2027, 2, 3)):  # the first Saturdays of October
        window = rule.in_year(year, "US")
        assert window is not None
        assert (window.starts, window.ends) == (date(year, 10, first), date(year, 10, last))
        assert window.off == Fraction(2, 5)
    assert rule.look_for == ("comb", "toy car")
    assert rule.on


@pytest.mark.parametrize(
    ("lines", "starts", "ends"),
    [
        ("from = 2019-05-20", date(2026, 5, 20), date(2026, 5, 20)),
        ("from = 2019-05-20\nto = 2019-05-24", date(2026, 5, 20), date(2026, 5, 24)),
        ("from = 2019-12-27\nto = 2020-01-04", date(2026, 12, 27), date(2027, 1, 4)),
        ('from = "dec 27"\nto = "jan 4"', date(2026, 12, 27), date(2027, 1, 4)),
        ('from = "day after easter"\ndays = 6', date(2026, 4, 6), date(2026, 4, 11)),
        ('from = "2 weeks before thanksgiving"', date(2026, 11, 12), date(2026, 11, 12)),
        ('from = "last monday of may"\nto = "may 31"', date(2026, 5, 25), date(2026, 5, 31)),
    ],
)
def test_days_of_a_window_are_dates_or_words(tmp_path: Path, lines: str, starts: date, ends: date) -> None:
    rule = windows_of(tmp_path, f'[[window]]\nname = "hall jumble sale"\n{lines}')["hall jumble sale"]

    window = rule.in_year(2026, "US")

    assert window is not None
    assert (window.starts, window.ends) == (starts, ends)
    assert window.off == Fraction(1, 2)  # what is usual where nothing is said


def test_usual_window_is_switched_off_by_name(tmp_path: Path) -> None:
    text = '[[window]]\nname = "Halloween Clearance"\nswitched_off = true'

    windows = windows_of(tmp_path, text)

    usual = {rule.name: rule for rule in usual_windows("US")}
    assert not windows["Halloween clearance"].on
    assert windows["Halloween clearance"].starts == usual["Halloween clearance"].starts
    assert {name for name, rule in windows.items() if rule.on} == set(usual) - {"Halloween clearance"}


def test_usual_window_keeps_what_is_not_said(tmp_path: Path) -> None:
    text = '[[window]]\nname = "Easter clearance"\ndays = 3\noff = "60"'

    rule = windows_of(tmp_path, text)["Easter clearance"]

    window = rule.in_year(2026, "US")
    assert window is not None
    assert (window.starts, window.ends, window.off) == (date(2026, 4, 6), date(2026, 4, 8), Fraction(3, 5))
    assert "chalk" in rule.look_for


@pytest.mark.parametrize(
    ("lines", "fault", "example"),
    [
        ('[[window]]\nfrom = "may 1"', "window[2].name is missing", 'name = "church rummage sale"'),
        ('[[window]]\nname = "spring sale"', "window[2].from is missing", 'from = "first saturday of october"'),
        (
            '[[window]]\nname = "spring sale"\nfrom = "someday"',
            "window[2].from is 'someday', which names no day of the year",
            'from = "first saturday of october"',
        ),
        (
            'to = "someday"',
            "window[1].to is 'someday', which names no day of the year",
            'to = "second sunday of october"',
        ),
        (
            'to = "february 30"',
            "window[1].to is 'february 30', which names no day of the year",
            'to = "second sunday of october"',
        ),
        ("to = 2026-10-04T10:00:00", "window[1].to must be a day, year first", 'to = "second sunday of october"'),
        ("to = 4", "window[1].to must be a text in quotes", 'to = "second sunday of october"'),
        ("days = 0", "window[1].days is 0, and must be between 1 and a million", "days = 9"),
        ('days = "9"', "window[1].days must be a whole number without quotes", "days = 9"),
        ("off = 50", "window[1].off is 50 without quotes", 'off = "50"'),
        ('off = "120"', "window[1].off is 120 percent, more than a group can mean", 'off = "50"'),
        ('off = "half"', "window[1].off is 'half', and must be a plain decimal number", 'off = "50"'),
        ('look_for = "comb"', "window[1].look_for must be a list of texts", 'look_for = ["toy car", "comb"]'),
        ("look_for = [4]", "window[1].look_for[1] must be a text in quotes", 'look_for = ["toy car", "comb"]'),
        (
            "lok_for = []",
            "window[1].lok_for is no field of the file, the nearest is 'look_for'",
            'look_for = ["toy car", "comb"]',
        ),
        pytest.param(
            'switched_off = "yes"',
            "window[1].switched_off",
            "switched_off = true",
        ),
    ],
)
def test_fault_of_a_window_is_one_sentence(tmp_path: Path, lines: str, fault: str, example: str) -> None:
    said = fault_of(tmp_path, NAME + JUMBLE + lines)

    assert said.startswith(f"{tmp_path / 'group.toml'}: {fault}")
    assert said.endswith(f"; what works is: {example}.")
    assert "\n" not in said


@pytest.mark.parametrize("field", ["to", "days", "off", "look_for"])
def test_example_of_a_window_field_works(tmp_path: Path, field: str) -> None:
    example = fault_of(tmp_path, f"{NAME}{JUMBLE}{field} = 1979-05-27T07:32:00").partition("works is: ")[2]

    assert "hall jumble sale" in windows_of(tmp_path, f"{JUMBLE}{example.removesuffix('.')}")


def test_last_day_before_the_first_is_named(tmp_path: Path) -> None:
    text = '[[window]]\nname = "hall jumble sale"\nfrom = 2026-05-20\nto = 2026-05-18'

    said = fault_of(tmp_path, NAME + text)

    assert "window[1].to is 2026-05-18, before the first day; what works is: " in said


def test_window_named_twice_is_a_fault(tmp_path: Path) -> None:
    said = fault_of(tmp_path, f"{NAME}{JUMBLE}{JUMBLE.replace('hall', 'Hall')}")

    assert "window[2].name is 'Hall jumble sale', a name that window[1].name has already" in said
