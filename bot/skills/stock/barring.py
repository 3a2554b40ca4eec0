"""What the group will not pack: which things are spoken of, and whether one is on its list."""

from __future__ import annotations

from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.strangers import named_as
from bot.reading.words import Sort, fold, singular
from bot.skills.stock.said import kits_in
from core.group import Group

_LONGEST = 3
_OF_THE_RULE = frozenset(
    "we i you they our us the a an any no not never dont do does wont cant cannot can may must should shall will are is be"
    " it that this those these please pack packs packing packed put add keep leave stop on off in into onto of out from for"
    " list kits kit again more anymore longer ever once as well and or so to allowed fine ok okay now back all take took"
    " goes go rule has been withdrawn lifted banned ban bans forbidden remember everyone everybody guys also let lets"
    " what whats about if there anything something safe caution cautions with little ones kids them supposed".split()
)


def barred_as(item: str, group: Group) -> str | None:
    """The name on the list that a thing falls under: "water balloon" under "balloon"; None where it is not on it."""
    own = group.item(item)
    words = [_words(name) for name in (item, *(own.aliases if own else ()))]
    return next((name for name in group.not_packed if any(_ends_with(one, _words(name)) for one in words)), None)


def _words(name: str) -> list[str]:
    return [singular(fold(word)) for word in name.split()]


def _ends_with(words: list[str], ending: list[str]) -> bool:
    return bool(ending) and words[-len(ending) :] == ending


def things_told(heard: Heard) -> list[str]:
    """The things a rule speaks of: the group's own items, else the first words that are none of the rule's.

    None where the rule is asked about, or is one of a single kit.
    """
    if "?" in heard.marked.text_at(heard.reach[1]) or any(not kit.rivals for kit in kits_in(heard)):
        return []
    return things_in(heard)


def things_in(heard: Heard) -> list[str]:
    """The group's own items named in a stretch, else the first words that can be a thing."""
    marked = heard.marked
    items = [named_as(marked, span) for span in named(marked, heard.reach, NameSort.ITEM)]
    if items:
        return list(dict.fromkeys(items))
    of_kits = {index for kit in kits_in(heard) for index in range(kit.start, kit.end)}
    free = [index for index in range(*heard.reach) if index not in of_kits and _may_be_thing(heard, index)]
    if not free:
        return []
    end = free[0] + 1
    while end in free and end - free[0] < _LONGEST:
        end += 1
    *first, last = marked.said(free[0], end).lower().split()
    return [" ".join([*first, singular(last)])]


def _may_be_thing(heard: Heard, index: int) -> bool:
    return heard.marked.tokens[index].sort is Sort.WORD and heard.marked.text_at(index) not in _OF_THE_RULE
