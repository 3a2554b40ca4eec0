"""Kits and what is said of them, and what the group plans by: its budget, what it will not pack."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, datetime
from typing import Any

from sqlalchemy import Table, insert, or_, select

from bot.storage.books import Books
from bot.storage.rows import living, number_of, say
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
from bot.storage.tables import entries, items
from core.cautions import Ages, Hazard
from core.group import Kit

_NEITHER = (None, None)


def load_kits(books: Books) -> tuple[Kit, ...]:
    """The kits of which something is said, in the order in which they were first named."""
    contents: dict[int, dict[str, int]] = defaultdict(dict)
    lines = select(kit_contents.c.kit_id, items.c.name, kit_contents.c.count).join(
        items, (items.c.group_id == kit_contents.c.group_id) & (items.c.id == kit_contents.c.item_id)
    )
    for kit, item, count in living(books, kit_contents, lines):
        contents[kit][item] = count
    costs: dict[int, dict[str, int]] = defaultdict(dict)
    told = select(kit_costs.c.kit_id, kit_costs.c.what, kit_costs.c.amount)
    for kit, what, amount in living(books, kit_costs, told):
        costs[kit][what] = amount
    goals = _of_kits(books, kit_goals, "goal", "due")
    ages = _of_kits(books, kit_ages, "low", "high")
    names = select(kits.c.id, kits.c.name).where(kits.c.group_id == books.group_id).order_by(kits.c.id)
    return tuple(
        Kit(
            name,
            goals.get(number, _NEITHER)[0],
            goals.get(number, _NEITHER)[1],
            {item: count for item, count in contents[number].items() if count},
            Ages(*ages[number]) if number in ages else None,
            {what: amount for what, amount in costs[number].items() if amount},
        )
        for number, name in books.connection.execute(names)
        if number in contents or number in goals or number in ages or number in costs
    )


def _of_kits(books: Books, table: Table, *columns: str) -> dict[int, Any]:
    """By kit, what its newest living row says."""
    rows = living(books, table, select(table.c.kit_id, *(table.c[column] for column in columns)))
    return {row[0]: tuple(row[1:]) for row in rows}


def flagged(books: Books) -> dict[str, frozenset[Hazard]]:
    """What each item is flagged for."""
    named = select(items.c.name, hazards.c.hazard).join(
        items, (items.c.group_id == hazards.c.group_id) & (items.c.id == hazards.c.item_id)
    )
    found: dict[str, set[Hazard]] = defaultdict(set)
    for item, hazard in living(books, hazards, named):
        found[item].add(Hazard(hazard))
    return {item: frozenset(held) for item, held in found.items()}


def barred(books: Books) -> tuple[str, ...]:
    """What the group will not pack, in the order in which it was said."""
    said = dict(living(books, not_packed, select(not_packed.c.name, not_packed.c.lifted)))
    return tuple(name for name, lifted in said.items() if not lifted)


def budget(books: Books) -> int | None:
    """The season's budget in minor units, None where nobody set one."""
    amounts = [amount for (amount,) in living(books, budgets, select(budgets.c.amount))]
    return amounts[-1] if amounts else None


def goals_at(books: Books, moment: datetime) -> dict[str, tuple[int | None, date | None]]:
    """By kit, the goal and the collection day that stood at a moment; what came with the group stood from the first."""
    told = (
        select(kits.c.name, kit_goals.c.goal, kit_goals.c.due)
        .join(kits, (kits.c.group_id == kit_goals.c.group_id) & (kits.c.id == kit_goals.c.kit_id))
        .outerjoin(entries, (entries.c.group_id == kit_goals.c.group_id) & (entries.c.id == kit_goals.c.entry_id))
        .where(or_(kit_goals.c.entry_id.is_(None), entries.c.made_at <= moment))
    )
    return {name: (goal, due) for name, goal, due in living(books, kit_goals, told)}


def goals_in(books: Books, entry: int) -> list[tuple[str, int | None, date | None]]:
    """The goals that an entry has set: the kit, how many, by which day."""
    told = select(kits.c.name, kit_goals.c.goal, kit_goals.c.due).join(
        kits, (kits.c.group_id == kit_goals.c.group_id) & (kits.c.id == kit_goals.c.kit_id)
    )
    own = (kit_goals.c.group_id == books.group_id, kit_goals.c.entry_id == entry)
    return [(row.name, row.goal, row.due) for row in books.connection.execute(told.where(*own))]


def contents_in(books: Books, entry: int) -> list[tuple[str, str, int]]:
    """The lines of kits that an entry has said: the kit, the item, how many in each."""
    told = (
        select(kits.c.name, items.c.name, kit_contents.c.count)
        .join(kits, (kits.c.group_id == kit_contents.c.group_id) & (kits.c.id == kit_contents.c.kit_id))
        .join(items, (items.c.group_id == kit_contents.c.group_id) & (items.c.id == kit_contents.c.item_id))
    )
    own = (kit_contents.c.group_id == books.group_id, kit_contents.c.entry_id == entry)
    return [(kit, item, count) for kit, item, count in books.connection.execute(told.where(*own))]


def set_contents(books: Books, entry: int | None, kit: str, item: str, count: int) -> None:
    """Say how many of an item go in each kit, 0 for none; a new kit is added. Raises KeyError for an unknown item."""
    values = {"kit_id": _kit(books, kit), "item_id": number_of(books, items, item), "count": count}
    say(books, kit_contents, entry, values)


def set_goal(books: Books, entry: int | None, kit: str, goal: int | None, due: date | None) -> None:
    """Say how many kits are promised by when; a new kit is added."""
    say(books, kit_goals, entry, {"kit_id": _kit(books, kit), "goal": goal, "due": due})


def set_ages(books: Books, entry: int | None, kit: str, ages: Ages) -> None:
    """Say for which ages a kit is; a new kit is added."""
    say(books, kit_ages, entry, {"kit_id": _kit(books, kit), "low": ages.low, "high": ages.high})


def set_cost(books: Books, entry: int | None, kit: str, what: str, amount: int) -> None:
    """Say what each kit costs besides its items, in minor units, 0 for nothing any more; a new kit is added."""
    say(books, kit_costs, entry, {"kit_id": _kit(books, kit), "what": what, "amount": amount})


def flag(books: Books, entry: int | None, item: str, hazard: Hazard) -> None:
    """Flag an item for a hazard. Raises KeyError for an unknown item."""
    say(books, hazards, entry, {"item_id": number_of(books, items, item), "hazard": hazard.value})


def bar(books: Books, entry: int | None, name: str, lifted: bool = False) -> None:
    """Say that something is not packed, or (``lifted``) may be packed again."""
    say(books, not_packed, entry, {"name": name, "lifted": lifted})


def set_budget(books: Books, entry: int | None, amount: int) -> None:
    """Set the season's budget, in minor units."""
    say(books, budgets, entry, {"amount": amount})


def _kit(books: Books, name: str) -> int:
    """The number of a kit, which is added where there is none of this name."""
    try:
        return number_of(books, kits, name)
    except KeyError:
        books.connection.execute(insert(kits), {"group_id": books.group_id, "name": name})
        return number_of(books, kits, name)
