"""How a skill declares its sentences: cue words, what must be there, and what is built from them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import Enum, auto
from typing import Protocol

from bot.reading.clauses import Clause
from bot.reading.occasions import Sales
from bot.reading.offers import Unclear
from bot.reading.spans import Marked, Reach
from core.money import Currency


class Need(Enum):
    """What a form needs in its sentence."""

    AMOUNT = auto()
    """A price, or a bare number that may be one."""
    ITEM = auto()
    """A known item of the group."""
    THING = auto()
    """An item, known or not."""
    COUNT = auto()
    """A count or a pack."""
    MEMBER = auto()
    """A member of the group, by name."""


class Slots(Protocol):
    """What was read, as the records of a kind; ``as_json`` gives the slots of contract.md."""

    def as_json(self, currency: Currency) -> dict[str, object]:
        """The slots that the message gives, money as decimal strings in major units."""


def words(text: str) -> frozenset[str]:
    """A set of words for ``also``."""
    return frozenset(text.split())


@dataclass(frozen=True, slots=True)
class Heard:
    """A stretch of a message that a form is tried on."""

    marked: Marked
    reach: tuple[int, int]
    clauses: Sequence[Clause]
    speaker: str
    members: tuple[str, ...] = ()
    """All members of the group."""
    kits: tuple[str, ...] = ()
    """All kits of the group."""
    sales: Sales = field(default_factory=dict)
    """The yearly sales of the group, those switched off as well, by the words for them."""
    collected: Mapping[str, date] = field(default_factory=dict)
    """By kit, the day on which it is collected, of some year."""

    @property
    def said(self) -> list[str]:
        """The words of the stretch, taken or not."""
        return [self.marked.text_at(index) for index in range(*self.reach)]

    @property
    def asked(self) -> bool:
        """True where the stretch ends in a question mark."""
        return "?" in self.marked.text_at(self.reach[1])


@dataclass(frozen=True, slots=True)
class Form:
    """One way to say a kind.

    ``cues``: phrases, any one of which must be said; words in a phrase are parted by blanks, alternatives by
    "|", "*" stands for up to three words. Without any, no cue is needed. ``never``: phrases that rule the form out.
    ``strange``: how many words that nothing explains are let pass.
    """

    kind: str
    name: str
    build: Callable[[Heard], Sequence[Slots | Unclear]]
    cues: tuple[str, ...] = ()
    also: tuple[frozenset[str], ...] = ()
    """Sets of words, one word of each of which must be said besides the cue."""
    needs: frozenset[Need] = frozenset()
    lacks: frozenset[Need] = frozenset()
    never: tuple[str, ...] = ()
    strange: int = 2
    knows: frozenset[str] = frozenset()
    """Words that belong to what the form says, and are no strangers to it."""
    found: Callable[[Marked], Iterable[Reach]] | None = None
    """Where besides its cues it is said: what a rule finds that no list of phrases holds."""
    asked: bool = False
    """True where a question mark alone is cue enough."""
    offers: bool = False
    """True for a form of what something costs, which is tried on each statement of a list."""
    yields: bool = False
    """True for a form of an offer that gives way to any other whose cue is said: what was seen may be asked about."""
    lists: bool = False
    """True where a cue may stand in one sentence and what it speaks of in the next ones, as a list."""
    apart: bool = False
    """True where it may be said in one part of a sentence, between commas, with other things beside it."""
    leads: bool = False
    """True where it may be said first, with any other thing behind it: "undo that, 12 pencils 0.57"."""
    spreads: bool = False
    """True where a cue that stands alone speaks of the sentence beside it."""
    whole: bool = False
    """True for a form that is tried on the whole message, before its sentences are."""
    first: bool = False
    """True for a form of the whole message that is tried before other such forms: what it asks for may be anything."""
    alone: bool = False
    """True for a form without a cue that is tried on a short message which nothing else explains."""
    leaves: frozenset[str] = frozenset()
    """Words that, said before the cue of such a form, leave what stands before the cue to other forms."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One thing a person does in a message, under the name of its kind."""

    kind: str
    slots: Slots
