"""Sale windows: those of a year by country, their markdowns, and what a group says of them."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.day_rules import NAMED, DayRule, Fixed, NthWeekday, rule_of
from core.windows import (
    CLEARANCE,
    Markdown,
    SaleWindow,
    WindowRule,
    is_worth_a_look,
    merged,
    next_window,
    next_windows,
    usual_windows,
    windows_between,
)

NEW_YEAR, NEW_YEARS_EVE = date(2026, 1, 1), date(2026, 12, 31)
WINTER = [("2025-12-26", "2026-01-10", "after-Christmas clearance")]
SPRING = [("2026-02-15", "2026-02-25", "Valentine's clearance")]
EASTER = [("2026-04-06", "2026-04-17", "Easter clearance")]
AUTUMN = [("2026-11-01", "2026-11-11", "Halloween clearance")]
DECEMBER = [("2026-12-26", "2027-01-10", "after-Christmas clearance")]
AMERICAN_SCHOOL = [
    ("2026-07-15", "2026-09-07", "back-to-school sales"),
    ("2026-09-08", "2026-09-28", "back-to-school clearance"),
]
BY_COUNTRY = {
    "US": [
        *WINTER,
        *SPRING,
        ("2026-03-18", "2026-03-25", "St. Patrick's clearance"),
        *EASTER,
        ("2026-07-05", "2026-07-14", "Independence Day clearance"),
        *AMERICAN_SCHOOL,
        *AUTUMN,
        ("2026-11-27", "2026-11-30", "Thanksgiving sales"),
        *DECEMBER,
    ],
    "CA": [
        *WINTER,
        *SPRING,
        *EASTER,
        ("2026-07-02", "2026-07-11", "Canada Day clearance"),
        *AMERICAN_SCHOOL,
        ("2026-10-13", "2026-10-20", "Thanksgiving clearance"),
        *AUTUMN,
        *DECEMBER,
    ],
    "GB": [
        *WINTER,
        *SPRING,
        *EASTER,
        ("2026-07-20", "2026-09-04", "back-to-school sales"),
        ("2026-09-05", "2026-09-25", "back-to-school clearance"),
        *AUTUMN,
        *DECEMBER,
    ],
    "AU": [
        *WINTER,
        ("2025-12-28", "2026-01-31", "back-to-school sales"),
        ("2026-02-01", "2026-02-21", "back-to-school clearance"),
        *SPRING,
        *EASTER,
        *AUTUMN,
        *DECEMBER,
        ("2026-12-28", "2027-01-31", "back-to-school sales"),
    ],
}


def rule(starts: str, ends: str | None = None, days: int = 1, name: str = "attic sale") -> WindowRule:
    first, last = rule_of(starts), rule_of(ends) if ends else None
    assert first is not None
    return WindowRule(name, first, days, last)


def window(rule: WindowRule, year: int = 2026, country: str = "US") -> SaleWindow:
    found = rule.in_year(year, country)
    assert found is not None
    return found


def usual(name: str, country: str = "US") -> WindowRule:
    return next(one for one in usual_windows(country) if one.name == name)


@pytest.mark.parametrize("country", BY_COUNTRY)
def test_the_windows_of_a_year_are_in_order(country: str) -> None:
    found = windows_between(usual_windows(country), country, NEW_YEAR, NEW_YEARS_EVE)

    assert [(str(one.starts), str(one.ends), one.name) for one in found] == BY_COUNTRY[country]


def test_an_unknown_country_has_windows_for_all() -> None:
    names = [one.name for one in windows_between(usual_windows("XX"), "XX", NEW_YEAR, NEW_YEARS_EVE)]

    assert names == [name for _, _, name in BY_COUNTRY["GB"]]


def test_a_clearance_takes_more_a_week_later() -> None:
    halloween = window(usual("Halloween clearance"))

    assert halloween.steps == ((date(2026, 11, 1), Fraction(1, 2)), (date(2026, 11, 8), Fraction(3, 4)))
    assert halloween.off == Fraction(1, 2)


def test_a_step_after_the_last_day_is_dropped() -> None:
    steps = (Markdown(0, Fraction(1, 3)), Markdown(4, Fraction(1, 2)), Markdown(5, Fraction(3, 4)))

    short = window(replace(rule("may 1", days=5), markdowns=steps))

    assert [day for day, _ in short.steps] == [date(2026, 5, 1), date(2026, 5, 5)]


@pytest.mark.parametrize("steps", [(), (Markdown(9, Fraction(3, 4)),)])
def test_a_sale_without_steps_promises_no_markdown(steps: tuple[Markdown, ...]) -> None:
    assert window(replace(rule("may 1"), markdowns=steps)).off is None


def test_a_sale_lasts_at_least_a_day() -> None:
    assert window(rule("may 1", days=0)).ends == date(2026, 5, 1)


def test_a_last_day_goes_before_a_length() -> None:
    assert window(rule("may 1", "second sunday of may", days=90)).ends == date(2026, 5, 10)


def test_a_last_day_unknown_here_leaves_the_length() -> None:
    sale = rule("november 1", "thanksgiving", days=3)

    assert window(sale).ends == date(2026, 11, 26)
    assert window(sale, country="GB").ends == date(2026, 11, 3)


def test_a_sale_may_go_over_the_turn() -> None:
    sale = rule("december 28", "january 31")

    assert window(sale).ends == date(2027, 1, 31)
    assert window(sale).earlier(1, "US") == window(sale, 2025)
    for day in (date(2027, 1, 31), NEW_YEARS_EVE, NEW_YEAR + timedelta(days=365)):
        assert windows_between([sale], "US", day, day) == [window(sale)]
        assert next_window(sale, "US", day) == window(sale)
    assert next_window(sale, "US", date(2027, 2, 1)) == window(sale, 2027)


def test_a_sale_may_start_before_its_year() -> None:
    """The one of 2027 starts three days before the New Year's Day of 2027."""
    sale = rule("3 days before new year's day", days=2)

    assert next_window(sale, "US", date(2026, 12, 1)) == window(sale, 2027)
    assert windows_between([sale], "US", date(2026, 12, 1), NEW_YEARS_EVE) == [window(sale, 2027)]


def test_a_feast_of_another_country_opens_no_sale() -> None:
    assert rule("day after canada day").in_year(2026, "US") is None
    assert next_windows([rule("day after canada day")], "US", NEW_YEAR) == []


def test_the_groups_own_rule_replaces_the_usual() -> None:
    own = rule("october 20", days=4, name="HALLOWEEN Clearance")
    sale = rule("may 1", days=3)

    rules = merged([own, sale], "US")

    assert len(rules) == len(usual_windows("US")) + 1
    assert [one for one in rules if one.name.casefold() == "halloween clearance"] == [own]
    assert {one.name for one in rules} - {one.name for one in usual_windows("US")} == {own.name, sale.name}


def test_a_window_switched_off_never_comes() -> None:
    rules = merged([replace(usual("Easter clearance"), on=False)], "US")

    assert "Easter clearance" not in {one.name for one in windows_between(rules, "US", NEW_YEAR, NEW_YEARS_EVE)}
    assert "Easter clearance" not in {one.name for one in next_windows(rules, "US", NEW_YEAR)}


def test_the_next_windows_come_soonest_first() -> None:
    found = next_windows(usual_windows("US"), "US", date(2026, 9, 10))

    assert [(one.starts.year, one.name) for one in found][:4] == [
        (2026, "back-to-school clearance"),
        (2026, "Halloween clearance"),
        (2026, "Thanksgiving sales"),
        (2026, "after-Christmas clearance"),
    ]
    assert {one.starts.year for one in found[4:]} == {2027}
    assert len(found) == len(usual_windows("US"))


@pytest.mark.parametrize("country", ["US", "CA", "GB", "IE", "AU", "NZ", "XX"])
def test_usual_windows_have_words_and_names(country: str) -> None:
    rules = usual_windows(country)

    assert len({one.name.casefold() for one in rules}) == len(rules)
    assert all(one.called and one.look_for and one.on for one in rules)
    assert all(one.markdowns == CLEARANCE for one in rules if "clearance" in one.name)


@pytest.mark.parametrize(
    ("names", "worth"),
    [
        (["pencil"], True),
        (["colored pencil"], True),
        (["Box of Pencil"], True),
        (["pencil sharpener"], True),
        (["blue glue stick"], True),
        (["felt tip"], True),
        (["pencil case"], True),
        (["pencil bag"], False),
        (["comb"], False),
        (["comb", "marker"], True),
        ([], False),
    ],
)
def test_things_that_drop_are_worth_a_look(names: list[str], worth: bool) -> None:
    assert is_worth_a_look(usual("back-to-school sales"), names) is worth


FEASTS = st.sampled_from([NAMED["Easter"], NAMED["Christmas"], NAMED["Thanksgiving"], NAMED["New Year's Day"]])
FIXED = st.builds(Fixed, st.integers(1, 12), st.integers(1, 29))
WEEKDAYS = st.builds(NthWeekday, st.sampled_from([1, 4, -1]), st.integers(0, 6), st.integers(1, 12))
STARTS = st.builds(DayRule, FIXED | WEEKDAYS | FEASTS, st.integers(0, 40))
RULES = st.lists(st.builds(WindowRule, st.sampled_from("abc"), STARTS, st.integers(1, 60)), max_size=3)


@given(RULES, st.dates(NEW_YEAR, date(2029, 12, 31)), st.integers(0, 400))
def test_windows_between_are_all_that_run(rules: list[WindowRule], first: date, length: int) -> None:
    last = first + timedelta(days=length)
    of_all_years = [window(one, year) for one in rules for year in range(2023, 2035)]

    found = windows_between(rules, "US", first, last)

    running = [one for one in of_all_years if one.starts <= last and first <= one.ends]
    assert Counter(found) == Counter(running)
    assert [one.starts for one in found] == sorted(one.starts for one in found)
