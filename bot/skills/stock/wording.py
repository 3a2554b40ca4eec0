"""Every sentence about units that come and go, and where they lie."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from bot.wording.days import by_day
from bot.wording.things import capital, counted, listed, plural
from core.group import Settings
from core.kits import KitNeed
from core.stock import Held, Move, Packing, Pick, Why

RECORD_ANYWAY = "Record anyway"
NOTHING_HELD = "Nothing is in stock yet. Say what you have, such as: I have 40 notebooks in my hall closet"
_MOST_LINES = 15


def at(member: str) -> str:
    """At whose house: "at Mei’s"."""
    return f"at {member}’s"


def _lying(moved: Move) -> str:
    return f"{at(moved.member)} ({moved.place})" if moved.place else at(moved.member)


def in_all(item: str, units: int) -> str:
    """How many there are then: "52 in all"."""
    return f"{units:,} in all" if units else f"no {plural(item)} left"


def came_in(moved: Move, total: int) -> str:
    """The echo of units that came in."""
    how = "given to us, " if moved.why is Why.GIVEN else ""
    return f"In: {counted(moved.units, moved.item)}, {how}{_lying(moved)}. {capital(in_all(moved.item, total))}."


def same_or_more(item: str, count: int, holder: str, held: int) -> str:
    """The question whether units reported are those that the books have already."""
    return (
        f"The books have {counted(held, item)} {at(holder)} already. Is {count:,} all of them now, or {count:,} more?"
    )


def all_of_them(count: int) -> str:
    """The label: that many in all."""
    return f"{count:,} in all"


def more_of_them(count: int, held: int) -> str:
    """The label: that many on top."""
    return f"{count:,} more, {count + held:,} in all"


def counted_again(item: str, count: int, holder: str, held: int, total: int) -> str:
    """The echo of a new count, with the difference from the books."""
    found = f"{counted(count, item)} {at(holder)}"
    if count == held:
        return f"Counted: {found}, the same as in the books."
    fewer = f"{held - count:,} fewer" if count < held else f"{count - held:,} more"
    return f"Counted: {found}, {fewer} than the books had. {capital(in_all(item, total))}."


def went_out(moved: Move, total: int) -> str:
    """The echo of units taken out."""
    left = f"{total:,} left in all" if total else f"no {plural(moved.item)} left"
    return f"Out: {counted(-moved.units, moved.item)} from {moved.member}’s. {capital(left)}."


def handed_over(item: str, count: int, giver: str, taker: str) -> str:
    """The echo of units that changed hands, in one line."""
    return f"{counted(count, item)} from {giver} to {taker}"


def too_few(item: str, count: int, holder: str, held: int, others: bool = False) -> str:
    """The question where a member is to give more than the books have; ``others`` have enough."""
    there = f"only {counted(held, item)}" if held else f"no {plural(item)}"
    asked = "Whose were they?" if others else f"Record {'it' if count == 1 else 'them'} anyway?"
    return f"The books have {there} {at(holder)}, not {count:,}. {asked}"


def take_from(holder: str) -> str:
    """The label: somebody else's were meant."""
    return f"{holder}’s"


def none_to_move(item: str, holder: str) -> str:
    """The answer where all of nothing is to change hands."""
    return f"The books have no {plural(item)} {at(holder)}. Say how many, such as: gave Tobias 20 {plural(item)}"


def packed_summary(kit: str, count: int, packer: str) -> str:
    """Finished kits in one line."""
    return f"packed {counted(count, kit)}, {packer}"


def packed_answer(need: KitNeed, packing: Packing, picks: Sequence[Pick], settings: Settings) -> str:
    """The echo of finished kits: how far it is, how many more the stock completes, what came from others."""
    done = f"{counted(packing.count, packing.kit)} packed by {packing.packer}"
    lines = [f"{done}. {_how_far(need, packing, settings)}"]
    others: dict[str, list[str]] = {}
    for pick in picks:
        if pick.member != packing.packer:
            others.setdefault(pick.member, []).append(counted(pick.units, pick.item))
    lines += [f"From {member}’s: {listed(things)}." for member, things in others.items()]
    return "\n".join(lines)


def _how_far(need: KitNeed, packing: Packing, settings: Settings) -> str:
    kit = need.kit
    if kit.goal is None:
        return f"{need.packed:,} so far."
    by = by_day(kit.by, packing.on, settings.country)
    if not need.remaining:
        return f"All {kit.goal:,} are done!" if need.packed == kit.goal else _over(need)
    more = f"what we have completes {need.completes:,} more" if need.completes else "not enough left for another one"
    return f"{need.packed:,} of {kit.goal:,} done, {need.remaining:,} to go{by}; {more}."


def _over(need: KitNeed) -> str:
    return f"{need.packed:,} done, {need.packed - (need.kit.goal or 0):,} more than the goal."


def not_all_there(kit: str, count: int, missing: Mapping[str, int], wanted: Mapping[str, int]) -> str:
    """The question where the books lack what finished kits must hold."""
    there = {item: wanted[item] - short for item, short in missing.items()}
    some = [f"{units:,} of {counted(wanted[item], item)}" for item, units in there.items() if units]
    none = [plural(item) for item, units in there.items() if not units]
    parts = [f"only {listed(some)}"] * bool(some) + [f"no {listed(none, 'or')}"] * bool(none)
    them = "it" if count == 1 else "them"
    return f"For {counted(count, kit)} the books have {', and '.join(parts)}. Record {them} anyway?"


def no_contents(kit: str) -> str:
    """Said of a kit of which nobody has told what it holds."""
    return f"I do not know yet what goes in a {kit}. Say it, such as: each {kit} gets 4 pencils and 1 notebook"


def who_holds(item: str, held: Sequence[Held], short: int) -> str:
    """Who has how many of one item, where, and how many are still short."""
    things = capital(plural(item))
    missing = f" Still short: {short:,}." if short else ""
    if not held:
        return f"{things}: none in stock.{missing}"
    total = f"{sum(one.units for one in held):,} in all: " if len(held) > 1 else ""
    return f"{things}: {total}{'; '.join(map(_holding, held))}.{missing}"


def of_one(item: str, member: str, own: Sequence[Held], held: Sequence[Held]) -> str:
    """What one member has of an item; where that is nothing, who has."""
    if own:
        return f"{capital(plural(item))}: {_holding(own[0])}."
    return f"No {plural(item)} {at(member)}. {who_holds(item, held, 0)}" if held else who_holds(item, held, 0)


def _holding(one: Held) -> str:
    where = f" ({one.place})" if one.place else ""
    odd = ", more given away than the books had: please count again" if one.units < 0 else ""
    return f"{one.member} {one.units:,}{where}{odd}"


def held_by(member: str, held: Sequence[tuple[str, Held]]) -> str:
    """All that one member holds."""
    if not held:
        return f"The books have nothing {at(member)}."
    lines = [f"• {counted(one.units, item)}{f' ({one.place})' if one.place else ''}" for item, one in held]
    return "\n".join([f"{capital(at(member))}:", *_cut(lines)])


def all_stock(stock: Mapping[str, Sequence[Held]]) -> str:
    """All that the group holds, and whose it is with."""
    if not stock:
        return NOTHING_HELD
    lines = []
    for item, held in stock.items():
        whose = ", ".join(f"{one.member} {one.units:,}" for one in held) if len(held) > 1 else held[0].member
        lines.append(f"• {counted(sum(one.units for one in held), item)}: {whose}")
    return "\n".join(["In stock:", *_cut(lines)])


def _cut(lines: Sequence[str]) -> list[str]:
    """As many lines as fit on a phone, and how many more there are."""
    more = len(lines) - _MOST_LINES
    return (
        [*lines[:_MOST_LINES], f"… and {more} more; ask for one, such as: who has the pencils"]
        if more > 0
        else list(lines)
    )


def in_summary(moved: Move) -> str:
    """Units that came in, in the line that names them when taken back."""
    how = ", given to us" if moved.why is Why.GIVEN else ""
    return f"{counted(moved.units, moved.item)} {at(moved.member)}{how}"


def count_summary(item: str, count: int, holder: str) -> str:
    """A new count, in the line that names it when taken back."""
    return f"the count of {counted(count, item)} {at(holder)}"


def out_summary(item: str, count: int, holder: str) -> str:
    """Units that are gone, in the line that names them when taken back."""
    return f"{counted(count, item)} out of {holder}’s stock"


def moved_answer(line: str, item: str, held: Mapping[str, int]) -> str:
    """The echo of units that changed hands, with who then holds how many."""
    now = ", ".join(f"{name} {units:,}" for name, units in sorted(held.items(), key=lambda one: -one[1]))
    return f"Moved: {line}. {capital(plural(item))} now: {now}."
