"""Reads a group's folder: group.toml becomes records; a fault is named with its place and the right word."""

from __future__ import annotations

import re
import tomllib
from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError, available_timezones

from bot.group_fields import (
    Field,
    GroupFileError,
    Table,
    count_of,
    day_of,
    decimal_of,
    key_of,
    known,
    names_of,
    nearest_word,
    none_twice,
    text_of,
    texts_of,
)
from core.cautions import Ages, Hazard
from core.choices import MOST_ALERTS, MOST_LEAD_DAYS, NO_LIMIT, OFF, ON, BadChoiceError, Setting, chosen
from core.day_rules import MOST_DAYS, DayRule, Fixed, rule_of
from core.group import Group, Kit, Settings
from core.items import Item, PricePoint
from core.money import Currency, Rounding, TooLargeError, UnknownCurrencyError, currency
from core.windows import Markdown, WindowRule, usual_windows

__all__ = ["FILE_NAME", "GroupFileError", "default_group", "read_group"]

FILE_NAME = "group.toml"
_HIGHEST_PERCENT = 100

_GROUP_FIELDS = {
    "name": 'name = "Harbour Lane packers"',
    "currency": 'currency = "USD"',
    "timezone": 'timezone = "America/Chicago"',
    "country": 'country = "US"',
    "rounding": 'rounding = "up"',
    "tax_rate": 'tax_rate = "8.25"',
    "quiet_hours": 'quiet_hours = "22:00-07:00"',
    "summary": 'summary = "sunday 18:00"',
    "alerts_a_day": "alerts_a_day = 3",
    "lead_days": "lead_days = 3",
    "season": 'season = "01-02"',
    "reactions": "reactions = true",
    "administrators": 'administrators = ["Ines"]',
    "members": 'members = ["Ines", "Tobias"]',
    "stores": 'stores = ["corner store", "Larkmoor Market"]',
    "budget": 'budget = "600.00"',
    "do_not_pack": 'do_not_pack = ["balloon", "toy weapon"]',
    "window": '[[window]] with name = "church rummage sale" on the next line',
    "item": '[[item]] with name = "pencil" on the next line',
    "kit": '[[kit]] with name = "school pouch" on the next line',
}
_ITEM_FIELDS = {
    "name": 'name = "pencil"',
    "aliases": 'aliases = ["no. 2 pencil"]',
    "target": 'target = "0.05"',
    "limit": 'limit = "0.07"',
    "cautions": 'cautions = ["small parts"]',
}
_KIT_FIELDS = {
    "name": 'name = "school pouch"',
    "goal": "goal = 120",
    "by": "by = 2026-11-14",
    "contents": "contents = { pencil = 4, notebook = 1 }",
    "ages": 'ages = "5-9"',
    "costs": 'costs = { carton = "0.60", shipping = "9.00" }',
}
_WINDOW_FIELDS = {
    "name": 'name = "church rummage sale"',
    "from": 'from = "first saturday of october"',
    "to": 'to = "second sunday of october"',
    "days": "days = 9",
    "off": 'off = "50"',
    "look_for": 'look_for = ["toy car", "comb"]',
    "switched_off": "switched_off = true",
}


def default_group() -> Group:
    """The group of a chat without a folder: US dollars, UTC, and no names yet."""
    return Group("Packing group", Settings(currency("USD")))


def read_group(folder: Path) -> Group:
    """The group that a folder describes. Raises GroupFileError, one sentence with file, field and an example.

    Items and kits are counted from 1 in the order of the file: ``item[2].target``.
    """
    file = folder / FILE_NAME
    top = known(Table(file, "", _loaded(folder, file), _GROUP_FIELDS))
    settings = _settings(top)
    item_tables = top.tables("item", _ITEM_FIELDS)
    items = tuple(_item(table, settings.currency) for table in item_tables)
    _no_item_twice(item_tables)
    kit_tables = top.tables("kit", _KIT_FIELDS)
    kits = tuple(_kit(table, items, settings.currency) for table in kit_tables)
    none_twice(table.needed("name") for table in kit_tables)
    budget = top.field("budget")
    return Group(
        text_of(top.needed("name")),
        settings,
        names_of(top, "members"),
        names_of(top, "stores"),
        items,
        kits,
        names_of(top, "do_not_pack"),
        _whole_coins(budget, settings.currency) if budget else None,
        _windows(top.tables("window", _WINDOW_FIELDS), settings.country),
        _administrators(top),
    )


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


def _settings(top: Table) -> Settings:
    money, zone = top.field("currency"), top.field("timezone")
    country, rounding, tax_rate = top.field("country"), top.field("rounding"), top.field("tax_rate")
    settings = Settings(
        _currency(money) if money else currency("USD"),
        _timezone(zone) if zone else "UTC",
        _country(country) if country else "US",
        _rounding(rounding) if rounding else Rounding.UP,
        _percent(tax_rate) if tax_rate else None,
    )
    for setting in _CHOSEN:
        if field := top.field(setting.value):
            settings = _chosen(settings, setting, field)
    return settings


def _chosen(settings: Settings, setting: Setting, field: Field) -> Settings:
    value = field.value
    if isinstance(value, date) and setting is Setting.SEASON:
        value = f"{value:%m-%d}"
    try:
        return chosen(settings, setting, _written(setting, value))
    except BadChoiceError:
        raise field.fault(
            f"is {str(value).lower() if isinstance(value, bool) else repr(value)}, {_CHOSEN[setting]}"
        ) from None


def _written(setting: Setting, value: object) -> str:
    """A value as the books write it; what may only be true or false is nothing else, and nothing else is that."""
    if isinstance(value, bool) is not (setting is Setting.REACTIONS):
        return ""
    return (ON if value else OFF) if isinstance(value, bool) else str(value)


_CHOSEN = {
    Setting.QUIET_HOURS: 'and must be two times of day, or "off"',
    Setting.SUMMARY: 'and must be a weekday and a time of day, or "off"',
    Setting.ALERTS_A_DAY: f'and must be a number from 0 to {MOST_ALERTS}, or "{NO_LIMIT}"',
    Setting.LEAD_DAYS: f"and must be a number from 0 to {MOST_LEAD_DAYS}",
    Setting.SEASON: "and must be a month and a day of it",
    Setting.REACTIONS: "and must be true or false",
}
"""The settings that are read as the books write them, and what each must be."""


def _administrators(top: Table) -> tuple[str, ...]:
    field, members = top.field("administrators"), names_of(top, "members")
    for entry in texts_of(field) if field else []:
        if text_of(entry) not in members:
            raise entry.fault(f"is {entry.value!r}, who is none of the members")
    return names_of(top, "administrators")


def _currency(field: Field) -> Currency:
    code = text_of(field)
    try:
        return currency(code)
    except UnknownCurrencyError:
        raise field.fault(f"is {code!r}, which is no currency code of ISO 4217") from None


def _timezone(field: Field) -> str:
    zone = text_of(field)
    try:
        return ZoneInfo(zone).key
    except (ZoneInfoNotFoundError, ValueError, OSError):
        nearest = nearest_word(zone.replace(" ", "_"), available_timezones())
        hint = f", the nearest is {nearest!r}" if nearest else ""
        raise field.fault(f"is {zone!r}, which is no IANA time zone{hint}") from None


def _country(field: Field) -> str:
    code = text_of(field).upper()
    if not re.fullmatch("[A-Z]{2}", code):
        raise field.fault(f"is {code!r}, and a country is two letters of ISO 3166")
    return code


def _rounding(field: Field) -> Rounding:
    word = text_of(field)
    if word not in list(Rounding):
        raise field.fault(f'is {word!r}, and can be "up" (to the whole cent) or "tenth" (of a cent)')
    return Rounding(word)


def _no_item_twice(tables: list[Table]) -> None:
    """Item names and aliases share one room: a word can mean one item only."""
    aliases = [alias for table in tables if (field := table.field("aliases")) for alias in texts_of(field)]
    none_twice([table.needed("name") for table in tables] + aliases)


def _item(table: Table, money: Currency) -> Item:
    name = text_of(table.needed("name"))
    target_field, limit_field = table.field("target"), table.field("limit")
    target = _amount(target_field, money) if target_field else None
    limit = _amount(limit_field, money) if limit_field else None
    if limit_field and target is not None and limit is not None and limit < target:
        raise limit_field.fault(f"is {limit_field.value}, less than the target of {table.values['target']}")
    return Item(name, names_of(table, "aliases"), PricePoint(target, limit), _hazards(table))


def _hazards(table: Table) -> frozenset[Hazard]:
    field = table.field("cautions")
    found = set()
    for entry in texts_of(field) if field else []:
        word = key_of(text_of(entry))
        if word not in list(Hazard):
            nearest = nearest_word(word, list(Hazard))
            hint = f"the nearest is {nearest!r}" if nearest else f"there are {', '.join(Hazard)}"
            raise entry.fault(f"is {entry.value!r}, which is no caution, {hint}")
        found.add(Hazard(word))
    return frozenset(found)


def _amount(field: Field, money: Currency) -> Fraction:
    """Minor units of a decimal text, fractions kept: "0.045" USD is 9/2."""
    exact = decimal_of(field, "price")
    try:
        return money.minor_exact(exact)
    except TooLargeError:
        raise field.fault(f"is {field.value}, more than a group can mean") from None


def _whole_coins(field: Field, money: Currency) -> int:
    """Minor units of an amount that must come out in whole coins."""
    amount = _amount(field, money)
    if amount.denominator != 1:
        raise field.fault(f"is {field.value}, with a fraction of the smallest coin")
    return int(amount)


def _percent(field: Field) -> Fraction:
    percent = decimal_of(field, "rate")
    if percent > _HIGHEST_PERCENT:
        raise field.fault(f"is {field.value} percent, more than a group can mean")
    return percent


def _kit(table: Table, items: tuple[Item, ...], money: Currency) -> Kit:
    goal, by, contents = table.field("goal"), table.field("by"), table.field("contents")
    ages, costs = table.field("ages"), table.field("costs")
    return Kit(
        text_of(table.needed("name")),
        count_of(goal) if goal else None,
        day_of(by) if by else None,
        _contents(contents, items) if contents else {},
        _ages(ages) if ages else None,
        _costs(costs, money) if costs else {},
    )


def _ages(field: Field) -> Ages:
    """Ages in years: "5-9", "10+"."""
    said = re.fullmatch(r"([0-9]{1,2})(?:-([0-9]{1,2})|\+)", text_of(field).replace(" ", ""))
    if said is None:
        raise field.fault(f'is {field.value!r}, and must be written as "5-9" or "10+"')
    try:
        return Ages(int(said[1]), int(said[2]) if said[2] else None)
    except ValueError:
        raise field.fault(f"is {field.value!r}, and the first age must be the lower one") from None


def _costs(field: Field, money: Currency) -> dict[str, int]:
    """What each kit costs besides its items, in minor units."""
    if not isinstance(field.value, dict):
        raise field.fault("must be a table of names and amounts in braces")
    return {what: _whole_coins(field.part(f".{what}", amount), money) for what, amount in field.value.items()}


def _windows(tables: list[Table], country: str) -> tuple[WindowRule, ...]:
    """What the group says of sale windows; one with the name of a usual one changes that."""
    usual = {rule.name.casefold(): rule for rule in usual_windows(country)}
    none_twice(table.needed("name") for table in tables)
    return tuple(_window(table, usual.get(key_of(text_of(table.needed("name"))))) for table in tables)


def _window(table: Table, usual: WindowRule | None) -> WindowRule:
    starts, ends, days = table.field("from"), table.field("to"), table.field("days")
    off, look_for, switched_off = table.field("off"), table.field("look_for"), table.field("switched_off")
    if ends and days:
        raise days.fault("stands beside a last day; say one of the two")
    if usual is None:
        name = table.needed("name")
        if switched_off and not starts:
            raise name.fault(f"is {text_of(name)!r}, which is no usual sale here")
        usual = WindowRule(text_of(name), _day_rule(table.needed("from")))
    rule = replace(
        usual,
        starts=_day_rule(starts) if starts else usual.starts,
        ends=_day_rule(ends) if ends else None if days else usual.ends,
        days=_length(days) if days else usual.days,
        markdowns=(Markdown(0, _percent(off) / _HIGHEST_PERCENT),) if off else usual.markdowns,
        look_for=names_of(table, "look_for") if look_for else usual.look_for,
        on=not (switched_off and _is_true(switched_off)),
    )
    if (
        starts
        and ends
        and isinstance(starts.value, date)
        and isinstance(ends.value, date)
        and ends.value < starts.value
    ):
        raise ends.fault(f"is {ends.value}, before the first day")
    return rule


def _length(field: Field) -> int:
    days = count_of(field)
    if days > MOST_DAYS:
        raise field.fault(f"is {days}, more than a year")
    return days


def _is_true(field: Field) -> bool:
    if not isinstance(field.value, bool):
        raise field.fault(f"is {field.value!r}, and must be true or false")
    return field.value


def _day_rule(field: Field) -> DayRule:
    """A day of every year: a TOML date, whose year does not count, or words."""
    if isinstance(field.value, date):
        day = day_of(field)
        return DayRule(Fixed(day.month, day.day))
    found = rule_of(text_of(field))
    if found is None:
        raise field.fault(f"is {field.value!r}, which names no day of the year")
    return found


def _contents(field: Field, items: tuple[Item, ...]) -> dict[str, int]:
    """Units of each item in one kit, by the item's own name; a line may use an alias."""
    if not isinstance(field.value, dict):
        raise field.fault("must be a table of items and counts in braces")
    names = {key_of(word): item.name for item in items for word in (item.name, *item.aliases)}
    contents: dict[str, int] = {}
    for word, count in field.value.items():
        line = field.part(f".{word}", count)
        name = names.get(key_of(word))
        if name is None:
            raise line.fault(f"is no item of the group{_nearest_item(word, names)}")
        if name in contents:
            raise line.fault(f"says {name} a second time")
        contents[name] = count_of(line)
    return contents


def _nearest_item(word: str, names: dict[str, str]) -> str:
    nearest = nearest_word(word, names)
    return f", the nearest is {names[nearest]!r}" if nearest else ", so add it as an [[item]]"
