"""What an offer is, and the question asked in place of a guess."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction

from bot.reading.packs import Loose
from core.counts import Quantity
from core.money import Currency


@dataclass(frozen=True, slots=True)
class Offer:
    """A price as reported: ``price`` minor units for ``count`` units, after any markdown.

    It is whole unless it is a unit price ("4.5c each"); ``regular`` is the price of the same count before
    the markdown; ``limit`` counts packs.
    """

    item: str
    count: int
    price: Fraction
    store: str | None = None
    seen_on: date | None = None
    regular: int | None = None
    until: date | None = None
    limit: int | None = None


@dataclass(frozen=True, slots=True)
class Choice:
    """An answer to a question: its button's label, and the message that choosing it amounts to.

    ``sure`` tells that choosing it confirms what was asked about; ``joins`` names somebody whom it makes a member.
    """

    label: str
    says: str
    sure: bool = False
    joins: str | None = None
    own: bool = False
    """True where only whoever was asked may choose it."""


@dataclass(frozen=True, slots=True)
class Unclear:
    """A question instead of a guess. ``hole`` is a message with "{}" where a typed answer goes."""

    question: str
    choices: tuple[Choice, ...] = ()
    hole: str | None = None
    names: bool = False
    """True where it is names that fill the hole."""
    words: bool = False
    """True where it is a few words that fill the hole, such as a day, as far as the whole then makes sense."""
    about: object = None
    """The slots of the kind that may know more, as far as they are said; ``kind`` is its name."""
    kind: str = ""


def place_words(store: str | None, seen_on: date | None, until: date | None, limit: int | None) -> str:
    """The shop, the days and the limit of an offer, as they are said again behind its price."""
    parts = [f" at {store}" if store else ""]
    parts.append(f", on {seen_on.isoformat()}" if seen_on else "")
    parts.append(f", until {until.isoformat()}" if until else "")
    parts.append(f", limit {limit}" if limit is not None else "")
    return "".join(parts)


class AskError(Exception):
    """A question must be asked; it carries the question."""

    def __init__(self, unclear: Unclear) -> None:
        super().__init__(unclear.question)
        self.unclear = unclear


@dataclass(frozen=True, slots=True)
class Frame:
    """The words around an offer that keep its kind and place when it is said again: "bought {} at Pell's"."""

    before: str = ""
    after: str = ""

    def says(self, middle: str) -> str:
        """The whole message around the words of an offer."""
        return f"{self.before}{middle}{self.after}"


def coins_or_notes(number: int, currency: Currency, around: Frame) -> Unclear:
    """Asked of a price without point or sign: 47 may be 0.47 or 47.00."""
    shown = dict.fromkeys((currency.plain(number), currency.plain(number * 10**currency.digits)))
    choices = tuple(Choice(value, around.says(value)) for value in shown)
    return Unclear(f"{number}: is that {' or '.join(shown)}?", choices, around.says("{}"))


@dataclass(frozen=True, slots=True)
class Terms:
    """What a clause says of its item and count, before it is worked out."""

    item: str
    packs: list[Quantity] = field(default_factory=list)
    multi: int | None = None
    loose: Loose | None = None
    bare: list[int] = field(default_factory=list)
    """Numbers that are neither a count beside the item nor money."""

    @property
    def units_said(self) -> str:
        """The count as it would be said again, with a blank after it; empty where nothing was counted."""
        if self.packs and self.packs[0].pack_size:
            packs, size = self.packs[0].packs, self.packs[0].pack_size
            return f"{packs} packs of {size} " if packs > 1 else f"pack of {size} "
        count = self.loose.units if self.loose else self.multi
        return f"{count} " if count else ""
