"""Settings of which a message tells half, or that mean another thing in another country; who may change them."""

from __future__ import annotations

from contextlib import closing
from dataclasses import replace

import pytest

from bot.group_file import read_group
from tests.chat import Chat
from tests.conftest import HARBOUR_LANE
from tests.skills.test_quiet_answers import started


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("no messages after 9 pm pls", "Quiet hours: 21:00 to 07:00 (was 22:00 to 07:00)."),
        ("dont message us after 11pm", "Quiet hours: 23:00 to 07:00 (was 22:00 to 07:00)."),
        ("quiet hours end at 8am", "Quiet hours: 22:00 to 08:00 (was 22:00 to 07:00)."),
        ("pls no messages before 8", "Quiet hours: 22:00 to 08:00 (was 22:00 to 07:00)."),
        ("turn quiet hours on", "Quiet hours: 22:00 to 07:00, as before."),
    ],
)
def test_one_end_of_the_quiet_hours_leaves_the_other(said: str, told: str) -> None:
    with closing(started()) as chat:
        [post] = chat.says("Mei", said)

    assert post.text == told


@pytest.mark.parametrize(
    ("said", "question", "typed"),
    [
        ("no messages after 9pm", "Quiet from 21:00 until when? Say it, such as: 7am", "7am"),
        ("quiet hours end at 7am", "Quiet until 07:00 from when? Say it, such as: 10pm", "9pm"),
    ],
)
def test_an_end_that_is_not_known_is_asked_for(said: str, question: str, typed: str) -> None:
    with closing(started(quiet=None)) as chat:
        [asked] = chat.says("Mei", said)
        [told] = chat.says("Mei", typed)

    assert asked.text == question
    assert told.text == "Quiet hours: 21:00 to 07:00 (was none)."


@pytest.mark.parametrize(
    ("country", "said", "zone"),
    [
        ("US", "timezone est", "America/New_York"),
        ("US", "timezone cdt", "America/Chicago"),
        ("US", "our time zone is mst", "America/Denver"),
        ("CA", "set timezone to est", "America/Toronto"),
        ("CA", "timezone pt", "America/Vancouver"),
        ("IE", "timezone gmt", "Europe/Dublin"),
        ("DE", "timezone cet", "Europe/Berlin"),
        ("AU", "timezone awst", "Australia/Perth"),
    ],
)
def test_an_abbreviation_is_the_zone_of_the_country(country: str, said: str, zone: str) -> None:
    with closing(started(country=country)) as chat:
        [post] = chat.says("Mei", said)

    assert post.text.startswith(f"Time zone: {zone}")


def test_an_abbreviation_of_elsewhere_is_asked_about() -> None:
    with closing(started(country="DE")) as chat:
        [asked] = chat.says("Mei", "timezone est")
        [told] = chat.says("Mei", "berlin")

    assert asked.text == "Which city’s time? Say it, such as: set the time zone to America/Denver"
    assert told.text == "Time zone: Europe/Berlin (was America/Chicago)."


def test_what_was_off_is_on_as_usual() -> None:
    with closing(started(summary=None, quiet=None, alerts_a_day=0)) as chat:
        told = [
            chat.says("Mei", said)[0].text
            for said in ("turn the summary back on", "quiet hours on", "turn on alerts", "no limit on alerts")
        ]

    assert told == [
        "Weekly summary: Sundays at 18:00 (was none).",
        "Quiet hours: 22:00 to 07:00 (was none).",
        "Deal alerts: at most 3 a day (was none).",
        "Deal alerts: no limit (was at most 3 a day).",
    ]


def test_removing_the_tax_takes_no_entry_back() -> None:
    with closing(started()) as chat:
        chat.says("Mei", "sales tax is 8%")
        chat.says("Mei", "12 pencils 0.47 at corner store")
        [removed] = chat.says("Mei", "remove the tax rate")
        [undone] = chat.says("Mei", "undo the tax rate")

    assert removed.text == "Sales tax: none (was 8%)."
    assert undone.text == "Taken back: sales tax none."


@pytest.mark.parametrize("said", ["who are the admins?", "make Ines admin"])
def test_who_may_change_settings_is_told_with_how_it_is_chosen(said: str) -> None:
    group = replace(read_group(HARBOUR_LANE), administrators=("Amara",))
    with closing(Chat(group)) as chat:
        [post] = chat.says("Mei", said)

    assert post.text == (
        "Amara can change the settings: the chat’s administrators on Telegram, elsewhere whom the group file names."
    )
