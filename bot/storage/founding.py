"""A new group's first rows, from its group file."""

from __future__ import annotations

from sqlalchemy import Connection, Table, insert

from bot.storage.calendar_tables import settings_said, window_rules
from bot.storage.stock_tables import (
    budgets,
    hazards,
    kit_ages,
    kit_contents,
    kit_costs,
    kit_goals,
    kits,
    not_packed,
)
from bot.storage.tables import aliases, chats, groups, items, members, price_points, stores
from bot.storage.window_rows import window_row
from core.choices import Setting, value_of
from core.group import Group, Kit, Settings
from core.items import Item


def found(connection: Connection, chat: str, group: Group) -> None:
    """Write down the group and whatever it has a name for. Raises IntegrityError for a name given twice."""
    settings = group.settings
    group_id = _add(
        connection,
        groups,
        name=group.name,
        currency=settings.currency.code,
        timezone=settings.timezone,
        country=settings.country,
        rounding=settings.rounding.value,
        tax_rate=settings.tax_rate,
        private=group.private,
        home=chat,
    )
    connection.execute(insert(chats), {"chat": chat, "group_id": group_id})
    if group.stores:
        connection.execute(insert(stores), [{"group_id": group_id, "name": name} for name in group.stores])
    for name in group.members:
        _add(connection, members, group_id=group_id, name=name, administrator=name in group.administrators)
    numbers = {item.name: _add_item(connection, group_id, item) for item in group.items}
    for kit in group.kits:
        _add_kit(connection, group_id, kit, numbers)
    _add_plans(connection, group_id, group)


def _add_item(connection: Connection, group_id: int, item: Item) -> int:
    number = _add(connection, items, group_id=group_id, name=item.name, live=True)
    for alias in item.aliases:
        _add(connection, aliases, group_id=group_id, item_id=number, alias=alias, live=True)
    for hazard in sorted(item.hazards):
        _add(connection, hazards, group_id=group_id, item_id=number, hazard=hazard.value, live=True)
    if item.price_point.most is not None:
        said = {"target": item.price_point.target, "limit": item.price_point.limit}
        _add(connection, price_points, group_id=group_id, item_id=number, live=True, **said)
    return number


def _add_kit(connection: Connection, group_id: int, kit: Kit, numbers: dict[str, int]) -> None:
    own = {"group_id": group_id, "live": True, "kit_id": _add(connection, kits, group_id=group_id, name=kit.name)}
    _add(connection, kit_goals, **own, goal=kit.goal, due=kit.by)
    for item, count in kit.contents.items():
        _add(connection, kit_contents, **own, item_id=numbers[item], count=count)
    for what, amount in kit.costs.items():
        _add(connection, kit_costs, **own, what=what, amount=amount)
    if kit.ages:
        _add(connection, kit_ages, **own, low=kit.ages.low, high=kit.ages.high)


def _add_plans(connection: Connection, group_id: int, group: Group) -> None:
    for name in group.not_packed:
        _add(connection, not_packed, group_id=group_id, name=name, lifted=False, live=True)
    if group.budget is not None:
        _add(connection, budgets, group_id=group_id, amount=group.budget, live=True)
    for rule in group.windows:
        _add(connection, window_rules, group_id=group_id, live=True, **window_row(rule))
    own = group.settings
    in_columns = Settings(own.currency, own.timezone, own.country, own.rounding, own.tax_rate)
    for setting in Setting:
        value = value_of(own, setting)
        if value != value_of(in_columns, setting):
            _add(connection, settings_said, group_id=group_id, setting=setting.value, value=value, live=True)


def _add(connection: Connection, table: Table, **values: object) -> int:
    number: int = connection.execute(insert(table).values(**values).returning(table.c.id)).scalar_one()
    return number
