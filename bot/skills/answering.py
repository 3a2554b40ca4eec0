"""What a skill gets to answer with, and what it gives back: a reply, records, a question."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from bot.reading.offers import Choice
from bot.storage.books import Books
from core.group import Group, Settings
from core.items import Note, PricePoint
from core.prices import Purchase, Sighting


@dataclass(frozen=True, slots=True)
class Desk:
    """What lies before the clerk as it answers one reading.

    ``sure`` tells that the person has confirmed what would else be asked about; ``replied_entry`` is the entry
    behind the post that the message replies to.
    """

    books: Books
    group: Group
    speaker: str
    at: datetime
    sure: bool = False
    replied_entry: int | None = None

    @property
    def settings(self) -> Settings:
        """The group's settings."""
        return self.group.settings

    @property
    def today(self) -> date:
        """The day of the message in the group's time zone."""
        return self.settings.day(self.at)


@dataclass(frozen=True, slots=True)
class NewPricePoint:
    """A record: from now on the item is judged by this price point."""

    item: str
    point: PricePoint


@dataclass(frozen=True, slots=True)
class NewName:
    """A record: a word that the group has learnt, for a new item or as another name of one."""

    word: str
    item: str

    @property
    def is_item(self) -> bool:
        """True where the word is the item's own name."""
        return self.word == self.item


Record = Sighting | Purchase | Note | NewPricePoint | NewName


@dataclass(frozen=True, slots=True)
class Answer:
    """A reply, with the records that the assistant keeps and the line that names them when taken back.

    ``offer_take_back`` is an entry that a button below the reply takes out of the books.
    """

    text: str
    records: tuple[Record, ...] = ()
    summary: str = ""
    offer_take_back: int | None = None


@dataclass(frozen=True, slots=True)
class Ask:
    """A question in place of an answer; nothing is recorded until it is answered.

    ``unknown`` is the word that the group has no name for, which the answer may teach.
    """

    question: str
    choices: tuple[Choice, ...] = ()
    hole: str | None = None
    unknown: str | None = None
