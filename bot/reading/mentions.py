"""Mentions: somebody called by a user name, who is no shop: "@hester_k 12 pencils .50 at corner store"."""

from __future__ import annotations

from dataclasses import dataclass

from bot.reading.names import NameSort, named
from bot.reading.spans import Marked
from bot.reading.words import Sort

_SHOP_LEADS = frozenset("at from".split())


@dataclass(frozen=True, slots=True)
class Mention:
    """A user name with its "@"; none of the group's names."""


def find_mentions(marked: Marked) -> None:
    """Mark each "@name" that opens the message or stands beside a shop; alone behind a price it is the shop."""
    for index in range(len(marked.tokens) - 1):
        if not _is_name(marked, index):
            continue
        end = index + 2
        while end < len(marked.tokens) and _goes_on(marked, end):
            end += 1
        opens = index == 0 and marked.text_at(end) != ":"
        if opens or _shop_said(marked):
            marked.mark(index, end, Mention())


def _is_name(marked: Marked, index: int) -> bool:
    joined = marked.glued(index + 1) and not marked.glued(index)
    return marked.word(index) == "@" and joined and marked.is_sort(index + 1, Sort.WORD)


def _goes_on(marked: Marked, index: int) -> bool:
    """Whether a token belongs to the user name before it, which may hold digits and underscores."""
    between = marked.text[marked.tokens[index - 1].end : marked.tokens[index].start]
    return between.strip("_") == "" and " " not in between and marked.tokens[index].sort in (Sort.WORD, Sort.NUMBER)


def _shop_said(marked: Marked) -> bool:
    whole = (0, len(marked.tokens))
    led = any(marked.word(index) in _SHOP_LEADS and marked.is_sort(index + 1, Sort.WORD) for index in range(*whole))
    return led or bool(named(marked, whole, NameSort.STORE))
