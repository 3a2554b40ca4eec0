"""What a message says of a claim: how many units, of what, for whom, and how the number is meant."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from bot.reading.form import Heard
from bot.reading.names import Named, NameSort, named, owns
from bot.reading.offers import Choice, Unclear
from bot.reading.packs import Loose
from bot.reading.spans import Found
from bot.skills.shares.parties import ME, parties_in
from bot.skills.shares.people import of_other_things, people_in, side_by_side
from bot.wording.things import plural
from core.counts import MAX_UNITS, Quantity
from core.money import Currency


class Mode(StrEnum):
    """How the units are meant."""

    ASKED = "asked"
    """So many; asked about where the member has some already."""
    IN_ALL = "in all"
    MORE = "more"
    LESS = "less"
    REST = "rest"
    """All that is left, besides what the member has."""


@dataclass(frozen=True, slots=True)
class Claim:
    """Units asked for of an open split; 0 lets go of all."""

    units: int
    item: str | None = None
    who: str | None = None
    mode: Mode = Mode.ASKED
    source: str | None = None
    """Whose case it is: "20 from Tobias"."""

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots of ``claim``."""
        del currency
        slots: dict[str, object] = {"item": self.item, "units": self.units, "who": self.who}
        if self.mode in (Mode.MORE, Mode.LESS, Mode.REST):
            slots["how"] = self.mode.value
        return {name: value for name, value in slots.items() if value is not None}


def claimed(heard: Heard) -> Sequence[Claim | Unclear]:
    """So many units, of one or several items, for one or several members."""
    words = set(heard.said)
    if _carried_to(heard) or named(heard.marked, heard.reach, NameSort.KIT):
        return []
    mode = _mode(heard, words)
    if together := _together(heard, mode):
        return together
    several = _several(heard, mode)
    if _mixed(heard, words, several):
        return [Unclear("One at a time, please, such as: put me down for 24")]
    if several:
        return several
    if unsized := _unsized(heard):
        return [unsized]
    units = _units(heard)
    if units is None or (words & _OF_OTHERS and not words & _OWN and _who(heard) is None):
        return []
    return [Claim(units, _item(heard), _who(heard), mode, _source(heard))]


def _together(heard: Heard, mode: Mode) -> list[Claim | Unclear]:
    """The claims of several who are said in one breath: "me and Ines will have 10 each"."""
    names = [person.name for person in side_by_side(heard.marked, people_in(heard))]
    units, item = _units(heard), _item(heard)
    counts = heard.marked.each(Loose, *heard.reach)
    if not names or not units or len(counts) > 1:
        return []
    if set(heard.said) & _FOR_EACH:
        return [Claim(units, item, None if name == ME else name, mode) for name in names]
    shares = [units] if units % len(names) else [units, units // len(names)]
    says = f"put {' and '.join(names)} down for {{}} {plural(item) if item else ''} each".replace("  ", " ")
    choices = tuple(Choice(f"{share} each", says.format(share)) for share in shares)
    return [Unclear(f"{units} for each of them, or in all?", choices)]


def _mixed(heard: Heard, words: set[str], several: list[Claim]) -> bool:
    """True where units are said for several members in a way that leaves open who has which."""
    spans = named(heard.marked, heard.reach, NameSort.MEMBER)
    if all(_is_source(heard, span) for span in spans):
        return False
    said = [span.value.units for span in heard.marked.each(Loose, *heard.reach)]
    split_up = len(said) > 1 and sorted(said) != sorted(claim.units for claim in several)
    return split_up or bool(words & _AND_ALSO)


def _mode(heard: Heard, words: set[str]) -> Mode:
    if words & _LESS:
        return Mode.LESS
    if words & _MORE:
        return Mode.MORE
    down_to = any(
        heard.marked.text_at(span.start - 1) == "to"
        and heard.marked.text_at(span.start - 2) in ("me", "down", "up", "mine")
        for span in heard.marked.each(Loose, *heard.reach)
    )
    return Mode.IN_ALL if down_to or words & _CHANGES else Mode.ASKED


def _unsized(heard: Heard) -> Unclear | None:
    """The question about boxes whose size is not said."""
    if all(span.value.pack_size for span in heard.marked.each(Quantity, *heard.reach)):
        return None
    return Unclear("How many units is that in all? Type the number.", (), f"make it {{}} {_item(heard) or ''}".strip())


def rest(heard: Heard) -> Sequence[Claim]:
    """All that is left."""
    return [Claim(0, _item(heard), _who(heard), Mode.REST, _source(heard))]


def vague(heard: Heard) -> Sequence[Unclear]:
    """A claim that says no number: "put me down for some pens"."""
    item = _item(heard)
    hole = f"put me down for {{}} {item or ''}".strip()
    return [Unclear(f"How many {plural(item)}? Type the number." if item else "How many? Type the number.", (), hole)]


def alone(heard: Heard) -> Sequence[Claim]:
    """A number alone, with small words: "30 please", "+5"."""
    marked = heard.marked
    loose = marked.each(Loose, *heard.reach)
    if len(loose) != 1 or not loose[0].value.firm or loose[0].value.other is not None:
        return []
    if loose[0].value.units > MAX_UNITS:
        return []
    others = [index for index in range(*heard.reach) if not loose[0].start <= index < loose[0].end]
    words = {marked.text_at(index) for index in others}
    if not words <= _AROUND:
        return []
    mode = Mode.MORE if "+" in words or words & _MORE else Mode.IN_ALL if words & _RATHER else Mode.ASKED
    return [Claim(loose[0].value.units, None, None, mode)]


def _source(heard: Heard) -> str | None:
    members = named(heard.marked, heard.reach, NameSort.MEMBER)
    return next((span.value.name for span in members if _is_source(heard, span)), None)


def _is_source(heard: Heard, span: Found[Named]) -> bool:
    """Whether it is a member's case that is spoken of: "20 from Tobias", "20 of Tobias's pens"."""
    return heard.marked.text_at(span.start - 1) == "from" or owns(heard.marked, span)


def _several(heard: Heard, mode: Mode) -> list[Claim]:
    """The claims of a message that names several members, or several items, each with its number."""
    parties = [party for party in parties_in(heard).takers if party.units]
    if len(parties) > 1:
        return [Claim(one.units or 0, _item(heard), None if one.name == ME else one.name, mode) for one in parties]
    counts = [(span.end, span.value.units) for span in heard.marked.each(Loose, *heard.reach)]
    counted = [
        (units, item.value.name)
        for end, units in counts
        for item in named(heard.marked, heard.reach, NameSort.ITEM)
        if item.start == end
    ]
    return [Claim(units, item, _who(heard), mode) for units, item in counted] if len(counted) > 1 else []


def _carried_to(heard: Heard) -> bool:
    """True where things are brought to a member: "I'll take 24 pens to Ines"."""
    return any(
        heard.marked.text_at(span.start - 1) == "to" for span in named(heard.marked, heard.reach, NameSort.MEMBER)
    )


def _units(heard: Heard) -> int | None:
    """The count said; of two, the one that is not taken back: "30 for me not 20"."""
    packs = [span.value.units for span in heard.marked.each(Quantity, *heard.reach)]
    if packs:
        return packs[0]
    loose = [
        span.value
        for span in heard.marked.each(Loose, *heard.reach)
        if heard.marked.text_at(span.start - 1) not in ("not", "from", "at") and not of_other_things(heard, span.end)
    ]
    if not loose or any(one.other is not None or not one.firm for one in loose):
        return None
    words = set(heard.said)
    return loose[-1 if words & _CORRECTS else 0].units


def _item(heard: Heard) -> str | None:
    items = named(heard.marked, heard.reach, NameSort.ITEM)
    return items[0].value.name if items else None


def _who(heard: Heard) -> str | None:
    """The member it is for, where that is not the speaker."""
    spans = named(heard.marked, heard.reach, NameSort.MEMBER)
    members = [span.value.name for span in spans if not _is_source(heard, span)]
    return next((name for name in members if name != heard.speaker), None)


def fewer(heard: Heard) -> Sequence[Claim]:
    """So many less than before."""
    units = _units(heard)
    return [] if units is None else [Claim(units, _item(heard), _who(heard), Mode.LESS)]


def let_go(heard: Heard) -> Sequence[Claim | Unclear]:
    """None after all."""
    return [Claim(0, _item(heard), _who(heard), Mode.IN_ALL)]


_FOR_EACH = frozenset("each apiece ea".split())
_AND_ALSO = frozenset("same drop remove likewise".split())
_OF_OTHERS = frozenset("wants needs takes hell shell hed shed theyd says".split())
_OWN = frozenset("i ill id me my".split())
_LESS = frozenset("less fewer".split())
_RATHER = frozenset("just only actually instead rather".split())
_AROUND = _RATHER | frozenset("me please pls plz yes yep yeah thanks ta for + ! , . ok oh i ill take".split())
_CORRECTS = frozenset("wait sorry rather".split())
_MORE = frozenset("more extra additional another add".split())
_CHANGES = frozenset("make change bump raise lower reduce actually instead now only set".split())
