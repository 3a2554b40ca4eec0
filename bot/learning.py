"""Words that a group learns: its items by name, those most like a new word, and the group with a new name."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from rapidfuzz import fuzz, process

from bot.reading.marking import Listener, mark
from bot.reading.names import NameSort, named
from bot.reading.words import clean
from bot.skills.answering import NewMember, NewName
from core.group import Group
from core.items import Item

_LIKE_NAMES = 3
_LIKENESS = 70


def item_of(words: str, at: datetime, listener: Listener) -> str | None:
    """The item that words are a name of, be it in the plural or with a slip; None where they say anything else."""
    marked = mark(clean(words), at, listener)
    whole = (0, len(marked.tokens))
    names = [span for span in named(marked, whole, NameSort.ITEM) if (span.start, span.end) == whole]
    return names[0].value.name if names and not names[0].value.rivals else None


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
