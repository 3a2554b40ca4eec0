"""What a skill gets to answer with, and what it gives back: a reply, records, a question."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from enum import Enum, auto

from bot.messages import Button
from bot.reading.form import Slots
from bot.reading.offers import Choice
from bot.storage.books import Books
from core.cautions import Ages, Hazard
from core.choices import Setting
from core.due import wall_clock
from core.group import Group, Settings
from core.items import Note, PricePoint
from core.ledger import Debt, Payment
from core.prices import Purchase, Sighting, Verdict
from core.reminders import Reminder, ReminderChange
from core.shares import Offer, Split, Wanted
from core.stock import Move, Packing, Reservation
from core.windows import WindowRule


@dataclass(frozen=True, slots=True)
class Desk:
    """What lies before the clerk as it answers one reading.

    ``sure`` tells that the person has confirmed what would else be asked about; ``is_reply`` that the message replies
    to another or to a post, and ``replied_entry`` is the entry behind that, if there is one; ``said`` are the records
    of what the same message said before.
    """

    books: Books
    group: Group
    speaker: str
    at: datetime
    sure: bool = False
    is_reply: bool = False
    replied_entry: int | None = None
    said: tuple[Record, ...] = ()
    heard: tuple[Slots, ...] = ()
    """What the same message says in all."""
    only_asked: bool = False
    """True where the speaker's last message was answered with nothing but questions."""
    who_may_set: Callable[[], tuple[str, ...] | None] = lambda: None
    """Looks up who may change the settings; None for everybody."""
    topic: str | None = None
    """The part of the chat in which the message was said; None for its main part."""

    @property
    def administrators(self) -> tuple[str, ...] | None:
        """Who may change the settings; None for everybody. Raises AdministratorsWantedError where nobody has asked."""
        return self.who_may_set()

    @property
    def may_set(self) -> bool:
        """Whether the speaker may change the settings. Raises AdministratorsWantedError."""
        return self.administrators is None or self.speaker in self.administrators

    @property
    def settings(self) -> Settings:
        """The group's settings."""
        return self.group.settings

    @property
    def today(self) -> date:
        """The day of the message in the group's time zone."""
        return self.settings.day(self.at)

    @property
    def wall(self) -> datetime:
        """What the group's own clock shows as the message is sent, without a zone."""
        return wall_clock(self.at, self.settings.zone)


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


@dataclass(frozen=True, slots=True)
class NewMember:
    """A record: somebody joins the group under this name."""

    name: str


@dataclass(frozen=True, slots=True)
class NewSplit:
    """A record: a case is shared out; ``bought_in`` is the entry of its purchase, None for this one."""

    split: Split
    bought_in: int | None = None


@dataclass(frozen=True, slots=True)
class NewClaim:
    """A record: a member asks for so many units in all of an open split."""

    number: int
    wanted: Wanted


@dataclass(frozen=True, slots=True)
class Closing:
    """A record: an open split is shared out."""

    number: int
    split: Split


@dataclass(frozen=True, slots=True)
class CallingOff:
    """A record: an open split comes to nothing."""

    number: int


@dataclass(frozen=True, slots=True)
class NewContents:
    """A record: so many of an item go in each kit, 0 for none any more."""

    kit: str
    item: str
    count: int


@dataclass(frozen=True, slots=True)
class NewGoal:
    """A record: so many kits are promised, by a day."""

    kit: str
    goal: int | None
    due: date | None


@dataclass(frozen=True, slots=True)
class NewAges:
    """A record: the ages that a kit is for."""

    kit: str
    ages: Ages


@dataclass(frozen=True, slots=True)
class NewCost:
    """A record: what each kit costs besides its items, in minor units."""

    kit: str
    what: str
    amount: int


@dataclass(frozen=True, slots=True)
class NewFlag:
    """A record: an item is flagged for a hazard."""

    item: str
    hazard: Hazard


@dataclass(frozen=True, slots=True)
class NewBar:
    """A record: something is not packed, or (``lifted``) may be packed again."""

    name: str
    lifted: bool = False


@dataclass(frozen=True, slots=True)
class NewBudget:
    """A record: the season's budget, in minor units."""

    amount: int


@dataclass(frozen=True, slots=True)
class NewSetting:
    """A record: a setting of the group, as core.choices writes it."""

    setting: Setting
    value: str


@dataclass(frozen=True, slots=True)
class Declined:
    """A record: a price that the group does not want to hear of again."""

    sighting: Sighting
    day: date


Dated = Declined | Reminder | ReminderChange | WindowRule | NewSetting
"""What is said of the calendar and of how the clerk works."""
Plan = NewContents | NewGoal | NewAges | NewCost | NewFlag | NewBar | NewBudget
"""What is said of kits and of what the group plans by."""
Record = (
    Plan
    | Dated
    | Move
    | Packing
    | Reservation
    | Sighting
    | Purchase
    | Note
    | NewPricePoint
    | NewName
    | NewMember
    | NewSplit
    | Offer
    | NewClaim
    | Closing
    | CallingOff
    | Payment
    | Debt
)
OPENED = 0
"""Stands for the split that an answer's own records open."""


class Place(Enum):
    """Where the answer to a pressed button goes, where a transport can change a post."""

    ANEW = auto()
    BELOW = auto()
    """Under the words of the pressed post, which keeps its buttons."""
    INSTEAD = auto()
    """In the place of the pressed post."""


@dataclass(frozen=True, slots=True)
class Answer:
    """A reply, with the records that the assistant keeps and the line that names them when taken back.

    ``offer_take_back`` is an entry that a button below the reply takes out of the books; ``split`` is the split
    whose post is to be brought up to date; ``buttons`` stand beside the one that takes back. Without a text
    nothing else is said. ``sign`` is an emoji that says as much where a group wants no more; ``picture`` the key of
    one to be shown; ``undone`` the entry that was taken back; ``verdict`` is what was said of a price, for an alert
    that shows the same figures.
    """

    text: str
    records: tuple[Record, ...] = ()
    summary: str = ""
    offer_take_back: int | None = None
    split: int | None = None
    buttons: tuple[Button, ...] = ()
    sign: str | None = None
    picture: str | None = None
    place: Place = Place.ANEW
    undone: int | None = None
    verdict: Verdict | None = None


@dataclass(frozen=True, slots=True)
class Ask:
    """A question in place of an answer; nothing is recorded until it is answered.

    ``unknown`` is the word that the group has no name for, which the answer may teach.
    """

    question: str
    choices: tuple[Choice, ...] = ()
    hole: str | None = None
    unknown: str | None = None
    names: bool = False
    words: bool = False
    declined: str | None = None
    """What is said where the answer is no."""
