"""The group folder: what it becomes, and what each fault in it is answered with."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from bot.group_file import GroupFileError, default_group, read_group
from core.money import Rounding
from tests.group_files import fault_of, folder_with

HARBOUR_LANE = Path(__file__).parent / "corpora" / "harbour_lane"
QUARRY_STREET = Path(__file__).parent / "corpora" / "quarry_street"
PENCIL = '[[item]]\nname = "pencil"\naliases = ["yellow pencil"]\n'
NOTEBOOK = '[[item]]\nname = "notebook"\n'


def test_folder_becomes_the_group() -> None:
    group = read_group(HARBOUR_LANE)

    assert group.name == "Harbour Lane packers"
    assert group.settings.currency.code == "USD"
    assert group.settings.timezone == "America/Chicago"
    assert group.members == ("Ines", "Tobias", "Mei", "Amara")
    assert group.stores == ("corner store", "Larkmoor Market", "Wickerby Hall")
    pencil = group.item("pencil")
    assert pencil is not None
    assert pencil.aliases == ("no. 2 pencil", "yellow pencil")
    assert pencil.price_point.target == 5
    assert pencil.price_point.limit == 7
    assert group.kits[0].goal == 120
    assert group.kits[0].by == date(2026, 11, 14)
    assert group.kits[0].contents["colored pencil"] == 6


def test_every_corpus_group_is_readable() -> None:
    group = read_group(QUARRY_STREET)

    assert group.settings.currency.code == "GBP"
    assert "Lúcia" in group.members


def test_group_without_a_folder_has_defaults() -> None:
    group = default_group()

    assert group.name == "Packing group"
    assert (group.settings.currency.code, group.settings.timezone, group.settings.country) == (
        "USD",
        "UTC",
        "US",
    )
    assert (group.members, group.stores, group.items, group.kits) == ((), (), (), ())


def test_name_alone_makes_a_group(tmp_path: Path) -> None:
    group = read_group(folder_with(tmp_path, 'name = "Pell Row packers"'))

    assert group.name == "Pell Row packers"
    assert group.settings == default_group().settings


def test_rounding_to_tenths_is_kept(tmp_path: Path) -> None:
    group = read_group(folder_with(tmp_path, 'name = "Pell Row packers"\nrounding = "tenth"'))

    assert group.settings.rounding is Rounding.TENTH


def test_tax_rate_is_an_exact_percentage(tmp_path: Path) -> None:
    group = read_group(folder_with(tmp_path, 'name = "Pell Row packers"\ntax_rate = "8.25"'))

    assert group.settings.tax_rate == Fraction(33, 4)


def test_price_point_keeps_fractions_of_cents(tmp_path: Path) -> None:
    group = read_group(folder_with(tmp_path, f'name = "Pell Row"\n{PENCIL}target = "0.045"\nlimit = ".05"'))

    # 0.045 USD = 4.5 cents = 9/2 cents
    assert group.items[0].price_point.target == Fraction(9, 2)
    assert group.items[0].price_point.limit == 5


def test_file_saved_with_windows_marks_reads(tmp_path: Path) -> None:
    (tmp_path / "group.toml").write_bytes(b'\xef\xbb\xbfname = "Pell Row"\r\ncurrency = "EUR"\r\n')

    assert read_group(tmp_path).settings.currency.code == "EUR"


def test_kit_line_may_use_an_alias(tmp_path: Path) -> None:
    kit = '[[kit]]\nname = "school pouch"\ncontents = { "Yellow Pencil" = 4 }'

    group = read_group(folder_with(tmp_path, f'name = "Pell Row"\n{PENCIL}{kit}'))

    assert group.kits[0].contents == {"pencil": 4}


def test_missing_folder_is_named(tmp_path: Path) -> None:
    with pytest.raises(GroupFileError, match=r"harbor is not there; give the folder that holds group\.toml"):
        read_group(tmp_path / "harbor")


def test_folder_without_the_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(GroupFileError, match=r"group\.toml is not there; make the file"):
        read_group(tmp_path)


def test_file_given_as_folder_is_named(tmp_path: Path) -> None:
    folder_with(tmp_path, 'name = "Pell Row"')

    with pytest.raises(GroupFileError, match=r"group\.toml is a file, not a folder"):
        read_group(tmp_path / "group.toml")


def test_file_in_another_encoding_is_named(tmp_path: Path) -> None:
    (tmp_path / "group.toml").write_bytes('name = "Lúcia\'s packers"'.encode("latin-1"))

    with pytest.raises(GroupFileError, match="not a text file in UTF-8"):
        read_group(tmp_path)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("name = Pell Row", "is not TOML: "),
        ("name = Pell Row", "line 1"),
        ('currency = "USD"', "name is missing"),
        ("name = 7", "name must be a text in quotes"),
        ('name = "  "', "name is empty"),
        ('name = "Pell\\u0007 Row"', "name holds a character that cannot be shown"),
        ('name = "Pell Row"\ncurency = "USD"', "curency is no field of the file, the nearest is 'currency'"),
        ('name = "Pell Row"\nzzz = 1', "zzz is no field of the file, the fields here are name, currency"),
        ('name = "Pell Row"\n[[items]]\nname = "pencil"', "the nearest is 'item'"),
        ('name = "Pell Row"\n[item]\nname = "pencil"', "item must be written as [[item]]"),
        ('name = "Pell Row"\ncurrency = "USX"', "currency is 'USX', which is no currency code"),
        ('name = "Pell Row"\ntimezone = "America/Chcago"', "the nearest is 'America/Chicago'"),
        ('name = "Pell Row"\ntimezone = "Chicago"', "the nearest is 'America/Chicago'"),
        ('name = "Pell Row"\ntimezone = "/etc"', "timezone is '/etc', which is no IANA time zone"),
        ('name = "Pell Row"\ncountry = "USA"', "country is 'USA', and a country is two letters"),
        ('name = "Pell Row"\nrounding = "down"', "rounding is 'down', and can be \"up\""),
        ('name = "Pell Row"\ntax_rate = 8.25', "tax_rate is 8.25 without quotes"),
        ('name = "Pell Row"\ntax_rate = "-1"', "tax_rate is -1, and no rate is below zero"),
        ('name = "Pell Row"\ntax_rate = "825"', "tax_rate is 825 percent, more than a group can mean"),
        ('name = "Pell Row"\nmembers = "Mei"', "members must be a list of texts"),
        ('name = "Pell Row"\nmembers = ["Mei", 4]', "members[2] must be a text in quotes"),
        ('name = "Pell Row"\nmembers = ["Mei", "mei"]', "members[2] is 'mei', a name that members[1] has"),
        ('name = "Pell Row"\nstores = ["Pell\'s", "pell\'s "]', "a name that stores[1] has already"),
    ],
)
def test_fault_of_the_group_is_named(tmp_path: Path, text: str, fault: str) -> None:
    said = fault_of(tmp_path, text)

    assert said.startswith(str(tmp_path / "group.toml"))
    assert fault in said


@pytest.mark.parametrize(
    ("lines", "fault"),
    [
        ("target = 0.05", "item[2].target is 0.05 without quotes"),
        ("target = 1", "item[2].target is 1 without quotes"),
        ('target = "$0.05"', "item[2].target is '$0.05', and must be a plain decimal number"),
        ('target = "-0.05"', "item[2].target is -0.05, and no price is below zero"),
        ('target = "5000000"', "item[2].target is 5000000, more than a group can mean"),
        (f'target = "{"9" * 5000}"', "must be a plain decimal number"),
        ('target = "0.70"\nlimit = "0.60"', "item[2].limit is 0.60, less than the target of 0.70"),
        ('targte = "0.70"', "item[2].targte is no field of the file, the nearest is 'target'"),
        (
            'aliases = ["Yellow pencil"]',
            "item[2].aliases[1] is 'Yellow pencil', a name that item[1].aliases[1]",
        ),
        ('aliases = ["pencil"]', "item[2].aliases[1] is 'pencil', a name that item[1].name has already"),
        ('[[item]]\nname = "PENCIL"', "item[3].name is 'PENCIL', a name that item[1].name has already"),
        ("[[item]]", "item[3].name is missing"),
    ],
)
def test_fault_of_an_item_is_named(tmp_path: Path, lines: str, fault: str) -> None:
    assert fault in fault_of(tmp_path, f'name = "Pell Row"\n{PENCIL}{NOTEBOOK}{lines}')


@pytest.mark.parametrize(
    ("lines", "fault"),
    [
        (
            "contents = { pencl = 4 }",
            "kit[1].contents.pencl is no item of the group, the nearest is 'pencil'",
        ),
        ("contents = { kazoo = 4 }", "kit[1].contents.kazoo is no item of the group, so add it"),
        ("contents = { pencil = 0 }", "kit[1].contents.pencil is 0, and must be between 1 and a million"),
        ("contents = { pencil = 1.5 }", "kit[1].contents.pencil must be a whole number"),
        ("contents = { pencil = true }", "kit[1].contents.pencil must be a whole number"),
        ('contents = { pencil = 1, "yellow pencil" = 2 }', "yellow pencil says pencil a second time"),
        ("contents = 4", "kit[1].contents must be a table of items and counts"),
        ("goal = -3", "kit[1].goal is -3, and must be between 1 and a million"),
        ('by = "2026-11-14"', "kit[1].by must be a day, year first, without quotes"),
        ("by = 2026-11-14T10:00:00", "kit[1].by must be a day"),
        ("gaol = 120", "kit[1].gaol is no field of the file, the nearest is 'goal'"),
        ('[[kit]]\nname = "School Pouch"', "kit[2].name is 'School Pouch', a name that kit[1].name has"),
    ],
)
def test_fault_of_a_kit_is_named(tmp_path: Path, lines: str, fault: str) -> None:
    kit = f'[[kit]]\nname = "school pouch"\n{lines}'

    assert fault in fault_of(tmp_path, f'name = "Pell Row"\n{PENCIL}{kit}')


@pytest.mark.parametrize(
    ("text", "example"),
    [
        ('name = "Pell Row"\n[[item]]\nname = "pencil"\ntarget = 0.05', 'target = "0.05"'),
        ('name = "Pell Row"\n[[kit]]\nname = "pouch"\nby = "soon"', "by = 2026-11-14"),
        ('name = "Pell Row"\ncurency = "USD"', 'currency = "USD"'),
    ],
)
def test_advice_of_a_fault_works(tmp_path: Path, text: str, example: str) -> None:
    assert f"what works is: {example}." in fault_of(tmp_path, text)

    mended = text.rsplit("\n", 1)[0] + "\n" + example
    assert read_group(folder_with(tmp_path, mended)).name == "Pell Row"
