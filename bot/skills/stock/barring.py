"""What the group will not pack: which things are spoken of, and whether one is on its list."""

from __future__ import annotations

from bot.reading.form import Heard
from bot.reading.names import NameSort, named
from bot.reading.strangers import named_as
from bot.reading.words import Sort, fold, lexicon, singular
from bot.skills.stock.said import kits_in
from core.group import Group

_LONGEST = 3
_OF_THE_RULE = frozenset(
    "we i you they our us the a an any no not never dont do does wont cant cannot can may must should shall will"
    " are is be it that this those these please pack packs packing packed put add keep leave stop on off in into"
    " onto of out from for list kits kit again more anymore longer ever once as well and or so to allowed fine ok"
    " okay now back all take took goes go rule has been withdrawn lifted banned ban bans forbidden remember"
    " everyone everybody guys also let lets what whats about if there anything something safe caution cautions"
    " with little ones kids them supposed shouldnt couldnt wouldnt isnt arent dnt include included includes"
    " including warning warnings hazard hazards alright lift lifting drop remove unban strike delete rules"
    " dangerous watch careful year years olds age ages toddler toddlers children babies dropped".split()
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

    None where the rule is asked about, is one of a single kit, or is one for another place: "banned in class".
    """
    marked = heard.marked
    single = any(singular(marked.text_at(kit.start)) != "kit" for kit in kits_in(heard))
    if heard.asked or single or goes_on(heard):
        return []
    return things_in(heard)


def goes_on(heard: Heard) -> bool:
    """Whether words that are no rule's stand behind a thing, up to a comma or a reason."""
    marked = heard.marked
    ends = [span.end for span in named(marked, heard.reach, NameSort.ITEM)] or [run[1] for run in _runs(heard)]
    if not ends:
        return False
    rest = range(ends[-1], heard.reach[1])
    stop = next((index for index in rest if marked.text_at(index) in _REASONS), heard.reach[1])
    of_kits = _of_kits(heard)
    return any(index not in of_kits and _may_be_thing(heard, index) for index in range(ends[-1], stop))


def _of_kits(heard: Heard) -> set[int]:
    return {index for kit in kits_in(heard) for index in range(kit.start, kit.end)}


def things_in(heard: Heard) -> list[str]:
    """The group's own items named in a stretch, else the first words that can be a thing."""
    marked = heard.marked
    items = [named_as(marked, span) for span in named(marked, heard.reach, NameSort.ITEM)]
    if items:
        return list(dict.fromkeys(items))
    return [_thing(heard, run) for run in _runs(heard)]


def _runs(heard: Heard) -> list[tuple[int, int]]:
    """The first words that can be a thing, and those joined to them: "knives or needles"."""
    marked = heard.marked
    of_kits = _of_kits(heard)
    free = [index for index in range(*heard.reach) if index not in of_kits and _may_be_thing(heard, index)]
    runs: list[tuple[int, int]] = []
    for index in free:
        if runs and index == runs[-1][1] and index - runs[-1][0] < _LONGEST:
            runs[-1] = (runs[-1][0], index + 1)
        elif not runs or (index == runs[-1][1] + 1 and marked.text_at(index - 1) in ("and", "or", "nor")):
            runs.append((index, index + 1))
        else:
            break
    return runs


def _thing(heard: Heard, run: tuple[int, int]) -> str:
    *first, last = heard.marked.said(*run).lower().split()
    return " ".join([*first, last if last in _PAIRS else singular(last)])


def _may_be_thing(heard: Heard, index: int) -> bool:
    if heard.marked.tokens[index].sort is not Sort.WORD:
        return False
    word = heard.marked.text_at(index)
    if word in _THINGS and index > heard.reach[0]:
        return _may_be_thing(heard, index - 1)
    return word not in _OF_THE_RULE and word not in lexicon()["filler"]


_REASONS = frozenset(", because since as cause cos but until unless".split())
_PAIRS = frozenset("scissors tweezers clippers pliers glasses sunglasses goggles tights".split())
_THINGS = frozenset(("thing", "things", "stuff"))
"""Words that are none of a thing, unless it is said which: "sharp things"."""
