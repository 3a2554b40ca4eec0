"""A year in the chat of five packers: what the clerk says unasked, reckoned a second way, and what restarts change."""

from __future__ import annotations

import re
from collections import Counter
from contextlib import closing
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from itertools import chain, pairwise
from pathlib import Path
from random import Random

import pytest
from dateutil.easter import easter

from bot.group_file import read_group
from bot.messages import Post
from bot.storage.books import Database
from bot.transports.replay import Replay
from bot.transports.written_chat import ClockMove, Line, Pressed, Said, read_chat
from tests.chat import in_memory

FOLDER = Path(__file__).parent / "calendar_year"
LINES = tuple(read_chat((FOLDER / "chat.txt").read_text("utf-8")))
BEGINS, ENDS = LINES[0].at, LINES[-1].at
DAYS = [BEGINS.date() + timedelta(days=number) for number in range((ENDS.date() - BEGINS.date()).days + 1)]
RESTARTS = 50
SEED = 2026
MORNING = time(9)

LEAD_DAYS = ((date(2026, 1, 5), 3), (date(2026, 5, 2), 5), (date(2026, 11, 30), 2))
"""From which day on the group is reminded how many days before a sale."""
QUIET_HOURS = (
    ("2026-01-05T00:00", time(22), time(7)),
    ("2026-01-07T08:52", time(21), time(8)),
    ("2026-08-03T09:05", time(22), time(7)),
)
"""From when on the clerk is quiet between which hours."""
ASKED_REMINDERS = {
    ("2026-01-09T09:00", "Wanda", "call the hall"),  # asked on Tuesday the 6th for Friday
    ("2026-02-03T09:00", None, "count the combs"),  # January 20 and a fortnight
    ("2026-02-14T17:00", "Kofi", "feed the hall cat"),
    ("2026-04-02T09:00", None, "bring the big bags"),  # Easter Monday is April 6; moved from the 3rd to Thursday
    ("2026-07-08T09:00", "Yusuf", "ring lanternhouse"),  # July 15 less a week
    ("2026-07-15T09:00", None, "the cartons"),  # [In a week] on the 8th
    ("2026-08-20T23:00", "Kofi", "lock the hall"),  # asked for at that hour, quiet or not
    ("2026-10-20T10:00", None, "book the van"),  # moved from the 19th
    ("2026-11-14T09:00", None, "order ribbon"),  # collection day is November 21 by then
    ("2026-11-27T09:00", None, "fetch the urn"),  # Thanksgiving is the 26th
    ("2027-01-03T09:00", "Yusuf", "bring the urn back"),  # December 29 and five days
}
ALERTS_AT_ONCE = {
    "2026-01-05T10:20": ["pencils"],
    "2026-02-02T17:05": ["bars of soap"],  # 20 were bought, 20 more are needed; in March none are
    "2026-02-15T13:20": ["pencils", "notebooks", "pens"],
    "2026-04-08T17:15": ["crayons"],  # pressed away, so that 2.5¢ on the 20th brings nothing
    "2026-04-21T16:45": ["crayons"],  # 2¢
    "2026-07-18T10:30": ["pencils"],
    "2026-07-18T11:20": ["notebooks", "crayons"],
    "2026-07-25T10:16": ["pens"],
    "2026-12-26T21:15": ["washcloths"],  # at night one is quiet from ten on again
}
ALERTS_HELD = {
    "2026-01-15T08:00": ["crayons"],
    "2026-02-16T08:00": ["combs", "washcloths"],  # the fourth and fifth of a day, in one post
    "2026-07-05T08:00": ["pens"],
    "2026-07-19T08:00": ["pens"],  # the fourth of its day
    "2026-08-13T07:00": ["notebooks"],
}
DEAL = re.compile(r"(?:Deal:|•) (.+?) [\d.]+¢ each")
REMINDER = re.compile(r"(?:Reminder for all|\w+, a reminder)(?: \(from \w+\))?: (.+)")
SMALL_TALK = ("happy new year", "who is baking", "my tomatoes", "hooray", "i am a lighthouse")


@dataclass(frozen=True, slots=True)
class Told:
    """A post as people see it: when, to whom (None: all), its words and its buttons."""

    at: datetime
    to: str | None
    text: str
    buttons: tuple[str, ...]


@dataclass(slots=True)
class Notebook:
    """A page that keeps posts apart by what brought them: an answer, a press, an open case, or nothing of that."""

    posts: list[Told] = field(default_factory=list)
    answers: list[tuple[int, Told]] = field(default_factory=list)
    unasked: list[Told] = field(default_factory=list)
    _latest: Line = LINES[0]

    def line(self, line: Line) -> None:
        """Note what a person did."""
        self._latest = line

    def post(self, at: datetime, post: Post) -> None:
        """Note what the clerk said."""
        told = Told(at.replace(tzinfo=None), post.to, post.text, tuple(button.label for button in post.buttons))
        self.posts.append(told)
        pressed = isinstance(self._latest, Pressed) and told.at == self._latest.at
        if post.answers is not None:
            self.answers.append((int(post.answers.partition("@")[0]), told))
        elif post.split is None and not pressed:
            self.unasked.append(told)

    def beginning(self, *words: str) -> list[Told]:
        """The unasked posts that begin with one of these."""
        return [told for told in self.unasked if told.text.startswith(words)]


def play(lines: tuple[Line, ...], database: Database, page: Notebook) -> None:
    """Play lines with a new transport and a new assistant."""
    Replay(lines, read_group(FOLDER), database, page).run()


@pytest.fixture(scope="module")
def year() -> Notebook:
    """The whole year, without a break."""
    page = Notebook()
    with closing(in_memory()) as database:
        play(LINES, database, page)
    return page


def nth_weekday(nth: int, weekday: int, year: int, month: int) -> date:
    """The nth (from 1) of a weekday, Monday 0, of a month."""
    first = date(year, month, 1)
    return first + timedelta(days=(weekday - first.weekday()) % 7 + 7 * (nth - 1))


def sales(year: int) -> dict[str, date]:
    """The first day of each sale by the words that its reminder begins with: the usual ones of the United States, but
    for Halloween, which is switched off, one of group.toml and one of the chat."""
    one_day = timedelta(days=1)
    return {
        "Valentine's clearance": date(year, 2, 14) + one_day,
        "St. Patrick's clearance": date(year, 3, 17) + one_day,
        "Easter clearance": easter(year) + one_day,
        "Corrow stocktaking": date(year, 5, 20),
        "Independence Day clearance": date(year, 7, 4) + one_day,
        "Back-to-school sales": date(year, 7, 15),
        "Back-to-school clearance": nth_weekday(1, 0, year, 9) + one_day,
        "Church rummage sale": nth_weekday(1, 5, year, 10),
        "Thanksgiving sales": nth_weekday(4, 3, year, 11) + one_day,
        "After-Christmas clearance": date(year, 12, 25) + one_day,
    }


def lead_on(day: date) -> int:
    """How many days before a sale the group is reminded of it, as set on a day."""
    return next(lead for since, lead in reversed(LEAD_DAYS) if since <= day)


def sale_reminders() -> list[tuple[datetime, str]]:
    """When each sale of the year is spoken of: on the day that is so many days before it."""
    found = [
        (datetime.combine(day, MORNING), name)
        for year in (BEGINS.year, ENDS.year)
        for name, starts in sales(year).items()
        for day in DAYS
        if day + timedelta(days=lead_on(day)) == starts
    ]
    return sorted(one for one in found if BEGINS < one[0] <= ENDS)


def deadlines() -> list[tuple[datetime, str]]:
    """The stages before both collection days: the wash rolls are all done before their last one."""
    wash, school = date(2026, 6, 6), date(2026, 11, 21)
    stages = [(wash, weeks, "Jun 6") for weeks in (6, 4, 2)] + [(school, weeks, "Nov 21") for weeks in (6, 4, 2, 1)]
    return [(datetime.combine(day - timedelta(weeks=weeks), MORNING), name) for day, weeks, name in stages]


def sundays() -> list[datetime]:
    """Each Sunday at six of the year."""
    return [at for day in DAYS if day.isoweekday() == 7 and BEGINS < (at := datetime.combine(day, time(18))) <= ENDS]


def minute(at: datetime) -> str:
    """A moment as the tables above write it."""
    return at.isoformat(timespec="minutes")


def is_quiet(at: datetime) -> bool:
    """Whether a moment lies in the quiet hours of its time; all of them go past midnight."""
    starts, ends = next((starts, ends) for since, starts, ends in reversed(QUIET_HOURS) if since <= minute(at))
    return at.time() >= starts or at.time() < ends


def alert_posts(year: Notebook) -> list[Told]:
    """The posts that tell of deals; one that comes late has a line of its own before."""
    return [told for told in year.unasked if re.match(r"(Late, .+\n)?(Deal|Other deals since yesterday):", told.text)]


def alerts(year: Notebook) -> dict[str, list[str]]:
    """By moment, every deal told of; a post that gathers several has a line for each."""
    found: dict[str, list[str]] = {}
    for told in alert_posts(year):
        found.setdefault(minute(told.at), []).extend(DEAL.findall(told.text))
    return found


# What comes by itself.


def test_the_chat_is_as_long_as_promised() -> None:
    weeks = (ENDS - BEGINS) / timedelta(weeks=1)

    assert 52 < weeks <= 53
    assert 60 <= len(LINES) <= 80
    assert {line.name for line in LINES if isinstance(line, Said)} == set(read_group(FOLDER).members)


def test_each_sunday_has_exactly_one_summary(year: Notebook) -> None:
    summaries = year.beginning("The week to ")

    assert len(sundays()) == 52
    assert [told.at for told in summaries] == sundays()
    assert all(told.text.startswith(f"The week to Sun {told.at:%b} {told.at.day}") for told in summaries)


def test_a_week_without_a_word_is_one_line(year: Notebook) -> None:
    summaries, week = year.beginning("The week to "), timedelta(weeks=1)

    silent = [told for told in summaries if not any(told.at - week < line.at <= told.at for line in LINES)]

    assert len(silent) >= 10
    assert all(" was quiet; " in told.text and "\n" not in told.text for told in silent)


def test_each_sale_is_spoken_of_once(year: Notebook) -> None:
    expected = sale_reminders()

    told = [
        (post.at, name)
        for post in year.unasked
        for name in (*sales(BEGINS.year), "Halloween clearance")
        if re.match(rf"{re.escape(name)} (begins?|is on|are on)\b", post.text)
    ]

    assert len(expected) == 10
    assert told == expected


def test_each_stage_before_collection_is_told(year: Notebook) -> None:
    told = [(post.at, post.text.partition(",")[0]) for post in year.beginning("Collection day ")]

    assert told == [(at, f"Collection day is {name}") for at, name in deadlines()]


def test_each_reminder_asked_for_comes_once(year: Notebook) -> None:
    told = [(minute(post.at), post.to, found[1]) for post in year.unasked if (found := REMINDER.fullmatch(post.text))]

    assert Counter(told) == Counter(ASKED_REMINDERS)


def test_alerts_by_day_come_with_their_price(year: Notebook) -> None:
    spoken = {minute(line.at) for line in LINES}

    at_once = {moment: items for moment, items in alerts(year).items() if moment in spoken}

    assert at_once == ALERTS_AT_ONCE


def test_number_of_alerts_is_as_expected(year: Notebook) -> None:
    expected = [*ALERTS_AT_ONCE.values(), *ALERTS_HELD.values()]

    assert Counter(chain(*alerts(year).values())) == Counter(chain(*expected))


def test_held_alerts_come_when_quiet_hours_end(year: Notebook) -> None:
    assert alerts(year) == ALERTS_AT_ONCE | ALERTS_HELD


def test_no_alert_comes_in_quiet_hours(year: Notebook) -> None:
    by_night = [told for told in alert_posts(year) if is_quiet(told.at)]

    assert by_night == []


def test_nothing_says_that_it_is_late(year: Notebook) -> None:
    assert year.beginning("Late") == []


def test_nothing_else_is_said_unasked(year: Notebook) -> None:
    others = [told for told in year.unasked if told not in alert_posts(year)]

    expected = [*sundays(), *(at for at, _ in sale_reminders()), *(at for at, _ in deadlines())]
    expected += [datetime.fromisoformat(at) for at, _, _ in ASKED_REMINDERS]
    assert [told.at for told in others] == sorted(expected)


# What is asked for.


def test_small_talk_of_the_year_gets_no_post(year: Notebook) -> None:
    answered = {number for number, _ in year.answers}

    silent = [line for line in LINES if isinstance(line, Said) and line.number not in answered]

    assert len(silent) == len(SMALL_TALK)
    assert all(line.text.startswith(words) for line, words in zip(silent, SMALL_TALK, strict=True))


def test_settings_are_refused_to_others(year: Notebook) -> None:
    refused = [told for _, told in year.answers if told.text == "Only Orla can change that: please ask."]

    assert [minute(told.at) for told in refused] == ["2026-01-07T08:40", "2026-03-03T18:11", "2026-08-03T08:45"]
    assert not any(told.buttons for told in refused)


def test_past_week_is_summed_up_when_asked(year: Notebook) -> None:
    [may, july] = [told.text for _, told in year.answers if told.text.startswith("The week to ")]

    assert may.startswith("The week to Sun May 17 was quiet")
    assert july.startswith("The week to Sun Jul 19:")
    # 5 packs of 24 pencils for 4.20 on July 19; before that 4.70 + 7.60 + 9.12 + 4.80 + 18.00 = 44.22
    assert "Spent $4.20, $48.42 this season" in july


# What a restart changes: nothing.


def moments(number: int, seed: int) -> list[datetime]:
    """So many moments of the year by chance, in order: half of them right after a line, half of them anywhere."""
    chance = Random(seed)  # noqa: S311 - no secret
    spoken = [line.at for line in LINES[:-1]]
    minutes = int((ENDS - BEGINS) / timedelta(minutes=1))
    after_lines = chance.sample(spoken, number // 2)
    anywhere = [BEGINS + timedelta(minutes=chance.randrange(minutes)) for _ in range(number - number // 2)]
    return sorted(after_lines + anywhere)


def in_pieces(restarts: list[datetime], folder: Path) -> list[Told]:
    """The posts of the year where everything is closed and opened anew at these moments."""
    page = Notebook()
    for since, until in pairwise([BEGINS - timedelta(days=1), *restarts, ENDS]):
        piece = (line for line in LINES if since < line.at <= until)
        with closing(Database(f"sqlite:///{folder / 'books.db'}")) as database:
            database.migrate()
            play((*piece, ClockMove(0, until)), database, page)
    return page.posts


def test_fifty_restarts_change_no_post(year: Notebook, tmp_path: Path) -> None:
    restarts = moments(RESTARTS, SEED)

    posts = in_pieces(restarts, tmp_path)

    assert len(set(restarts)) == RESTARTS
    assert posts == year.posts


@pytest.mark.parametrize("seed", range(3))
def test_one_restart_changes_no_post(year: Notebook, tmp_path: Path, seed: int) -> None:
    posts = in_pieces(moments(1, seed), tmp_path)

    assert posts == year.posts


def test_whole_file_played_again_adds_the_rest(year: Notebook, tmp_path: Path) -> None:
    half = tuple(line for line in LINES if line.at.date() < date(2026, 6, 15))
    first, again = Notebook(), Notebook()

    for lines, page in ((half, first), (LINES, again)):
        with closing(Database(f"sqlite:///{tmp_path / 'books.db'}")) as database:
            database.migrate()
            play(lines, database, page)

    assert first.posts + again.posts == year.posts


def test_restart_before_a_typed_answer_loses_nothing(tmp_path: Path) -> None:
    asked, typed = (line for line in LINES if line.at.date() == date(2026, 7, 25))
    page = Notebook()

    for line in (asked, typed):
        with closing(Database(f"sqlite:///{tmp_path / 'books.db'}")) as database:
            database.migrate()
            play((line,), database, page)

    assert [told.text.partition("\n")[0] for told in page.posts[:2]] == [
        "How many pens are in one pack?",
        "Good price: pens at 8¢ each (price point 10¢). Buy.",
    ]
