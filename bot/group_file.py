"""Reads a group's folder: group.toml becomes records; a fault is named with its place and the right word."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from difflib import get_close_matches
from fractions import Fraction
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from core.counts import CountError, checked
from core.group import Group, Kit, Settings
from core.items import Item, PricePoint
from core.money import Currency, Rounding, TooLargeError, UnknownCurrencyError, currency

FILE_NAME = "group.toml"
_HIGHEST_PERCENT = 100

_GROUP_FIELDS = {
    "name": 'name = "Harbour Lane packers"',
    "currency": 'currency = "USD"',
    "timezone": 'timezone = "America/Chicago"',
    "country": 'country = "US"',
    "rounding": 'rounding = "up"',
    "tax_rate": 'tax_rate = "8.25"',
    "members": 'members = ["Ines", "Tobias"]',
    "stores": 'stores = ["corner store", "Larkmoor Market"]',
    "item": '[[item]] with name = "pencil" on the next line',
    "kit": '[[kit]] with name = "school pouch" on the next line',
}
_ITEM_FIELDS = {
    "name": 'name = "pencil"',
    "aliases": 'aliases = ["no. 2 pencil"]',
    "target": 'target = "0.05"',
    "limit": 'limit = "0.07"',
}
_KIT_FIELDS = {
    "name": 'name = "school pouch"',
    "goal": "goal = 120",
    "by": "by = 2026-11-14",
    "contents": "contents = { pencil = 4, notebook = 1 }",
}


class GroupFileError(Exception):
    """The group folder cannot be read; the text is one sentence for the person who wrote it."""


@dataclass(frozen=True, slots=True)
class _Field:
    """A value of the file, the path it stands at, and an example of it that works."""

    file: Path
    path: str
    value: object
    example: str

    def fault(self, what: str) -> GroupFileError:
        return GroupFileError(f"{self.file}: {self.path} {what}; what works is: {self.example}.")

    def part(self, path: str, value: object) -> _Field:
        return _Field(self.file, self.path + path, value, self.example)


@dataclass(frozen=True, slots=True)
class _Table:
    """A table of the file; ``path`` is empty for the file itself."""

    file: Path
    path: str
    values: dict[str, object]
    examples: dict[str, str]

    def field(self, name: str) -> _Field | None:
        """The field of that name; None where the file leaves it out."""
        if name not in self.values:
            return None
        return _Field(self.file, self.path + name, self.values[name], self.examples[name])

    def needed(self, name: str) -> _Field:
        field = self.field(name)
        if field is None:
            raise _Field(self.file, self.path + name, None, self.examples[name]).fault("is missing")
        return field

    def tables(self, name: str, examples: dict[str, str]) -> list[_Table]:
        """The tables written as [[name]]; their places count from 1."""
        field = self.field(name)
        if field is None:
            return []
        if not isinstance(field.value, list) or not all(isinstance(each, dict) for each in field.value):
            raise field.fault(f"must be written as [[{name}]], once for each {name}")
        return [
            _known(_Table(self.file, f"{name}[{place}].", values, examples))
            for place, values in enumerate(field.value, 1)
        ]


def default_group() -> Group:
    """The group of a chat without a folder: US dollars, UTC, and no names yet."""
    return Group("Packing group", Settings(currency("USD")))


def read_group(folder: Path) -> Group:
    """The group that a folder describes. Raises GroupFileError, one sentence with file, field and an example.

    Items and kits are counted from 1 in the order of the file: ``item[2].target``.
    """
    file = folder / FILE_NAME
    top = _known(_Table(file, "", _loaded(folder, file), _GROUP_FIELDS))
    settings = _settings(top)
    item_tables = top.tables("item", _ITEM_FIELDS)
    items = tuple(_item(table, settings.currency) for table in item_tables)
    _no_item_twice(item_tables)
    kit_tables = top.tables("kit", _KIT_FIELDS)
    kits = tuple(_kit(table, items) for table in kit_tables)
    _none_twice(table.needed("name") for table in kit_tables)
    return Group(_name(top.needed("name")), settings, _names(top, "members"), _names(top, "stores"), items, kits)


def _loaded(folder: Path, file: Path) -> dict[str, object]:
    if not folder.is_dir():
        what = "is a file, not a folder" if folder.exists() else "is not there"
        raise GroupFileError(f"{folder} {what}; give the folder that holds {FILE_NAME}, such as demo_config.")
    if not file.is_file():
        first_line = _GROUP_FIELDS["name"]
        raise GroupFileError(f"{file} is not there; make the file, with a first line such as: {first_line}.")
    try:
        return tomllib.loads(file.read_text(encoding="utf-8-sig"))
    except UnicodeDecodeError:
        raise GroupFileError(f"{file} is not a text file in UTF-8; save it again as UTF-8.") from None
    except ValueError as error:
        fault = str(error)
        example = _GROUP_FIELDS["timezone"]
        raise GroupFileError(f"{file} is not TOML: {fault}; a line that works is: {example}.") from None
    except OSError as error:
        raise GroupFileError(f"{file} cannot be read ({error.strerror}); look at its permissions.") from None


def _known(table: _Table) -> _Table:
    """The table itself, if it holds no field of another name."""
    for name in table.values:
        if name not in table.examples:
            raise _unknown(table, name)
    return table


def _unknown(table: _Table, name: str) -> GroupFileError:
    nearest = _nearest(name, table.examples)
    known = f"the nearest is {nearest!r}" if nearest else f"the fields here are {', '.join(table.examples)}"
    example = table.examples[nearest or "name"]
    return _Field(table.file, table.path + name, None, example).fault(f"is no field of the file, {known}")


def _nearest(word: str, words: Iterable[str]) -> str | None:
    by_key = {_key(each): each for each in words}
    close = get_close_matches(_key(word), by_key, 1, 0.5)
    return by_key[close[0]] if close else None


def _key(name: str) -> str:
    return " ".join(name.split()).casefold()


def _settings(top: _Table) -> Settings:
    money, zone = top.field("currency"), top.field("timezone")
    country, rounding, tax_rate = top.field("country"), top.field("rounding"), top.field("tax_rate")
    return Settings(
        _currency(money) if money else currency("USD"),
        _timezone(zone) if zone else "UTC",
        _country(country) if country else "US",
        _rounding(rounding) if rounding else Rounding.UP,
        _percent(tax_rate) if tax_rate else None,
    )


def _currency(field: _Field) -> Currency:
    code = _name(field)
    try:
        return currency(code)
    except UnknownCurrencyError:
        raise field.fault(f"is {code!r}, which is no currency code of ISO 4217") from None


def _timezone(field: _Field) -> str:
    zone = _name(field)
    try:
        return ZoneInfo(zone).key
    except (ZoneInfoNotFoundError, ValueError, OSError):
        nearest = _nearest(zone.replace(" ", "_"), available_timezones())
        hint = f", the nearest is {nearest!r}" if nearest else ""
        raise field.fault(f"is {zone!r}, which is no IANA time zone{hint}") from None


def _country(field: _Field) -> str:
    code = _name(field).upper()
    if not re.fullmatch("[A-Z]{2}", code):
        raise field.fault(f"is {code!r}, and a country is two letters of ISO 3166")
    return code


def _rounding(field: _Field) -> Rounding:
    word = _name(field)
    if word not in list(Rounding):
        raise field.fault(f'is {word!r}, and can be "up" (to the whole cent) or "tenth" (of a cent)')
    return Rounding(word)


def _name(field: _Field) -> str:
    """The text of a field, trimmed; it must be one line and say something."""
    if not isinstance(field.value, str):
        raise field.fault("must be a text in quotes")
    text = " ".join(field.value.split())
    if not text or not text.isprintable():
        raise field.fault("is empty" if not text else "holds a character that cannot be shown")
    return text


def _texts(field: _Field) -> list[_Field]:
    if not isinstance(field.value, list):
        raise field.fault("must be a list of texts in brackets")
    return [field.part(f"[{place}]", value) for place, value in enumerate(field.value, 1)]


def _names(table: _Table, name: str) -> tuple[str, ...]:
    field = table.field(name)
    entries = _texts(field) if field else []
    names = tuple(_name(entry) for entry in entries)
    _none_twice(entries)
    return names


def _none_twice(names: Iterable[_Field]) -> None:
    """Refuses a name that stands twice, in whatever case; every field must have passed ``_name``."""
    first: dict[str, _Field] = {}
    for field in names:
        earlier = first.setdefault(_key(str(field.value)), field)
        if earlier is not field:
            raise field.fault(f"is {field.value!r}, a name that {earlier.path} has already")


def _no_item_twice(tables: list[_Table]) -> None:
    """Item names and aliases share one room: a word can mean one item only."""
    aliases = [alias for table in tables if (field := table.field("aliases")) for alias in _texts(field)]
    _none_twice([table.needed("name") for table in tables] + aliases)


def _item(table: _Table, money: Currency) -> Item:
    name = _name(table.needed("name"))
    target_field, limit_field = table.field("target"), table.field("limit")
    target = _amount(target_field, money) if target_field else None
    limit = _amount(limit_field, money) if limit_field else None
    if limit_field and target is not None and limit is not None and limit < target:
        raise limit_field.fault(f"is {limit_field.value}, less than the target of {table.values['target']}")
    return Item(name, _names(table, "aliases"), PricePoint(target, limit))


def _amount(field: _Field, money: Currency) -> Fraction:
    """Minor units of a decimal text, fractions kept: "0.045" USD is 9/2."""
    exact = _decimal(field, "price")
    try:
        return money.minor_exact(exact)
    except TooLargeError:
        raise field.fault(f"is {field.value}, more than a group can mean") from None


def _percent(field: _Field) -> Fraction:
    percent = _decimal(field, "rate")
    if percent > _HIGHEST_PERCENT:
        raise field.fault(f"is {field.value} percent, more than a group can mean")
    return percent


def _decimal(field: _Field, what: str) -> Fraction:
    """The exact value of a plain decimal text."""
    if isinstance(field.value, int | float):
        raise field.fault(f"is {field.value} without quotes, so it is not exact, and it must stand in quotes")
    text = _name(field)
    if re.fullmatch(r"-[0-9.]+", text):
        raise field.fault(f"is {text}, and no {what} is below zero")
    if not re.fullmatch(r"[0-9]{1,12}(\.[0-9]{1,12})?|\.[0-9]{1,12}", text):
        raise field.fault(f"is {text!r}, and must be a plain decimal number in quotes")
    return Fraction(text)


def _kit(table: _Table, items: tuple[Item, ...]) -> Kit:
    goal, by, contents = table.field("goal"), table.field("by"), table.field("contents")
    return Kit(
        _name(table.needed("name")),
        _count(goal) if goal else None,
        _day(by) if by else None,
        _contents(contents, items) if contents else {},
    )


def _count(field: _Field) -> int:
    if not isinstance(field.value, int) or isinstance(field.value, bool):
        raise field.fault("must be a whole number without quotes")
    try:
        return checked(field.value)
    except CountError:
        raise field.fault(f"is {field.value}, and must be between 1 and a million") from None


def _day(field: _Field) -> date:
    if not isinstance(field.value, date) or isinstance(field.value, datetime):
        raise field.fault("must be a day, year first, without quotes")
    return field.value


def _contents(field: _Field, items: tuple[Item, ...]) -> dict[str, int]:
    """Units of each item in one kit, by the item's own name; a line may use an alias."""
    if not isinstance(field.value, dict):
        raise field.fault("must be a table of items and counts in braces")
    names = {_key(word): item.name for item in items for word in (item.name, *item.aliases)}
    contents: dict[str, int] = {}
    for word, count in field.value.items():
        line = field.part(f".{word}", count)
        name = names.get(_key(word))
        if name is None:
            raise line.fault(f"is no item of the group{_nearest_item(word, names)}")
        if name in contents:
            raise line.fault(f"says {name} a second time")
        contents[name] = _count(line)
    return contents


def _nearest_item(word: str, names: dict[str, str]) -> str:
    nearest = _nearest(word, names)
    return f", the nearest is {names[nearest]!r}" if nearest else ", so add it as an [[item]]"
