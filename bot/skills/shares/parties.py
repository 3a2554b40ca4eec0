"""Who is to have how much of a case: each name with its number, the rest, or an equal share."""

from __future__ import annotations

from dataclasses import dataclass, replace

from bot.reading.form import Heard
from bot.skills.shares.party_doubts import in_doubt
from bot.skills.shares.party_marks import ME, Mark, Marks
from bot.skills.shares.party_names import drop_weak, find_names
from bot.skills.shares.party_numbers import find_none, find_numbers, find_rest
from bot.skills.shares.party_ways import find_everyone, find_ways

__all__ = ["ME", "Parties", "Party", "parties_in"]


@dataclass(frozen=True, slots=True)
class Party:
    """One who is to have a part: so many units, an equal share (None), or the rest."""

    name: str
    units: int | None = None
    rest: bool = False


@dataclass(frozen=True, slots=True)
class Parties:
    """Who is to have parts, who paid, and the tokens that say so; ``odd`` where shares are said but not in units."""

    takers: tuple[Party, ...] = ()
    payer: str | None = None
    ways: int | None = None
    tokens: frozenset[int] = frozenset()
    odd: bool = False
    doubt: bool = False
    """True where it is open who shares, or who paid."""

    @property
    def names(self) -> tuple[str, ...]:
        """The takers' names."""
        return tuple(party.name for party in self.takers)


def parties_in(heard: Heard) -> Parties:
    """The parties named in a stretch; what is shared "with" somebody counts the speaker in, who comes first."""
    found = Marks(heard)
    for find in (find_ways, find_everyone, find_names, find_numbers, find_none, find_rest, drop_weak):
        find(found)
    takers = [party for party in _paired(found.marks) if party.units != 0 and party.name not in found.excluded]
    if found.others:
        named = {party.name for party in takers} | found.excluded
        everybody = (ME, *(name for name in heard.members if name != heard.speaker))
        takers += [Party(name) for name in everybody if name not in named]
    by_number = found.ways is not None and found.ways == len(heard.members)
    all_of_us = found.everyone and {party.name for party in takers} <= {ME} and not any(party.units for party in takers)
    if all_of_us or (not takers and by_number):
        others = [name for name in heard.members if name != heard.speaker]
        takers = [Party(name) for name in (ME, *others) if name not in found.excluded]
    elif takers and found.with_somebody and ME not in [party.name for party in takers] and ME not in found.excluded:
        takers = [Party(ME), *takers]
    doubt = in_doubt(found) or (found.everyone and not all_of_us)
    return Parties(tuple(takers), found.payer, found.ways, frozenset(found.tokens), found.odd, doubt)


def _paired(marks: list[Mark]) -> list[Party]:
    """The names with their numbers, numbers before names or behind them as the first pair has it."""
    number_first = bool(marks) and marks[0].units is not None
    parties: dict[str, Party] = {}
    waiting: Mark | None = None
    for place, mark in enumerate(marks):
        if mark.each:
            waiting = _for_each(parties, marks, place)
        elif mark.name is None:
            waiting = _given(parties, marks, place, number_first)
        else:
            party = parties.get(mark.name, Party(mark.name))
            parties[mark.name] = _with(party, waiting) if waiting else party
            waiting = waiting if waiting and waiting.each else None
    return list(parties.values())


def _for_each(parties: dict[str, Party], marks: list[Mark], place: int) -> Mark | None:
    """Give a number for each to the names before it that have none, else keep it for all that follow."""
    before = [mark.name for mark in marks[:place] if mark.name]
    bare = [name for name in before if _is_open(parties[name])]
    for name in bare:
        parties[name] = _with(parties[name], marks[place])
    return None if bare else marks[place]


def _given(parties: dict[str, Party], marks: list[Mark], place: int, number_first: bool) -> Mark | None:
    """Give a number or the rest to the name before it, or keep it for the name that follows."""
    mark = marks[place]
    before = marks[place - 1].name if place else None
    follows = place + 1 < len(marks) and marks[place + 1].name is not None
    again = sum(one.name == before for one in marks[:place]) > 1
    open_before = before is not None and (_is_open(parties[before]) or again)
    if follows and (number_first or (mark.is_rest and not _last_pair(marks, place)) or not open_before):
        return mark
    if open_before and before is not None:
        parties[before] = _with(parties[before], mark)
    return None


def _last_pair(marks: list[Mark], place: int) -> bool:
    """True where the name behind "the rest" has a number of its own: "Amara the rest, Mei 40"."""
    return place + 2 < len(marks) and marks[place + 2].units is not None


def _is_open(party: Party) -> bool:
    return party.units is None and not party.rest


def _with(party: Party, mark: Mark) -> Party:
    if mark.is_rest:
        return replace(party, rest=True)
    return replace(party, units=(party.units or 0) + (mark.units or 0))
