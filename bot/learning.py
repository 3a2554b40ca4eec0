"""Words that a group learns: its items by name, those most like a new word, and the group with a new name."""

from __future__ import annotations

from dataclasses import replace

from rapidfuzz import fuzz, process

from bot.skills.answering import NewMember, NewName
from core.group import Group
from core.items import Item

_LIKE_NAMES = 3
_LIKENESS = 70


def items_by_name(group: Group) -> dict[str, str]:
    """The item that each of the group's names means, by the name in lower case."""
    return {name.casefold(): item.name for item in group.items for name in (item.name, *item.aliases)}


def like(group: Group, word: str) -> list[str]:
    """The group's items most like an unknown word."""
    names = [item.name for item in group.items]
    near = process.extract(word, names, scorer=fuzz.WRatio, score_cutoff=_LIKENESS, limit=_LIKE_NAMES)
    return [name for name, _, _ in near]


def with_name(group: Group, learnt: NewName | NewMember) -> Group:
    """The group as it will be with the new name, for reading what it was learnt from."""
    if isinstance(learnt, NewMember):
        return replace(group, members=(*group.members, learnt.name))
    if learnt.is_item:
        return replace(group, items=(*group.items, Item(learnt.word)))
    items = (
        replace(item, aliases=(*item.aliases, learnt.word)) if item.name == learnt.item else item
        for item in group.items
    )
    return replace(group, items=tuple(items))
