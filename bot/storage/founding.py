"""A new group's first rows, from its group file."""

from __future__ import annotations

from sqlalchemy import Connection, Table, insert

from bot.storage.tables import aliases, chats, groups, items, kit_lines, kits, members, price_points, stores
from core.group import Group, Kit
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
    )
    connection.execute(insert(chats), {"chat": chat, "group_id": group_id})
    for table, names in ((members, group.members), (stores, group.stores)):
        if names:
            connection.execute(insert(table), [{"group_id": group_id, "name": name} for name in names])
    numbers = {item.name: _add_item(connection, group_id, item) for item in group.items}
    for kit in group.kits:
        _add_kit(connection, group_id, kit, numbers)


def _add_item(connection: Connection, group_id: int, item: Item) -> int:
    number = _add(connection, items, group_id=group_id, name=item.name, live=True)
    for alias in item.aliases:
        _add(connection, aliases, group_id=group_id, item_id=number, alias=alias, live=True)
    if item.price_point.most is not None:
        said = {"target": item.price_point.target, "limit": item.price_point.limit}
        _add(connection, price_points, group_id=group_id, item_id=number, live=True, **said)
    return number


def _add_kit(connection: Connection, group_id: int, kit: Kit, numbers: dict[str, int]) -> None:
    number = _add(connection, kits, group_id=group_id, name=kit.name, goal=kit.goal, due=kit.by)
    for item, count in kit.contents.items():
        line = {"group_id": group_id, "kit_id": number, "item_id": numbers[item], "count": count}
        connection.execute(insert(kit_lines), line)


def _add(connection: Connection, table: Table, **values: object) -> int:
    number: int = connection.execute(insert(table).values(**values).returning(table.c.id)).scalar_one()
    return number
