"""The group: who, which shops, which kits, which settings."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, time, tzinfo
from fractions import Fraction
from zoneinfo import ZoneInfo

from core.cautions import Ages
from core.items import Item
from core.money import Currency, Rounding
from core.windows import WindowRule, merged


@dataclass(frozen=True, slots=True)
class Quiet:
    """The hours in which the clerk says nothing unasked, on the group's own clock; they may go past midnight."""

    starts: time
    ends: time


@dataclass(frozen=True, slots=True)
class Weekly:
    """When the weekly summary comes: a weekday (Monday is 0) and a time of the group's own clock."""

    weekday: int
    at: time


USUAL_SUMMARY = Weekly(6, time(18))
"""Sundays at 18:00, where the group has not said when."""


@dataclass(frozen=True, slots=True)
class Settings:
    """What a group chose: its money, its days and how it shows a unit price."""

    currency: Currency
    timezone: str = "UTC"
    country: str = "US"
    rounding: Rounding = Rounding.UP
    tax_rate: Fraction | None = None
    """Sales tax, in percent of a price, that comes on top where somebody says "plus tax"."""
    quiet: Quiet | None = Quiet(time(22), time(7))
    summary: Weekly | None = USUAL_SUMMARY
    alerts_a_day: int | None = 3
    """The most deal alerts in one day, None for no limit; what is beyond is told in one post the next morning."""
    lead_days: int = 3
    """How many days before a sale the clerk reminds the group of it."""
    season_starts: tuple[int, int] | None = None
    """Month and day on which the packing season begins; None for the day after the collection of the year before."""
    reacts: bool = False
    """Whether a price that is no deal gets a sign on its message, where a chat has such, in place of an answer."""
    topic: str | None = None
    """The part of the chat in which the clerk speaks up by itself, by the transport's key; None for its main part."""

    @property
    def zone(self) -> tzinfo:
        """The time zone of the group's days, by its IANA name."""
        return ZoneInfo(self.timezone)

    def day(self, moment: datetime) -> date:
        """The group's calendar day of a moment; a moment without a zone is the group's own clock."""
        return (moment.astimezone(self.zone) if moment.tzinfo else moment).date()


@dataclass(frozen=True, slots=True)
class Kit:
    """A kit: how many of each item go in, how many kits are promised, and by when.

    ``costs`` are what each kit costs besides its items, in minor units: the carton, a share of the shipping.
    """

    name: str
    goal: int | None = None
    by: date | None = None
    contents: dict[str, int] = field(default_factory=dict)
    ages: Ages | None = None
    costs: dict[str, int] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Group:
    """A packing group with everything it has a name for."""

    name: str
    settings: Settings
    members: tuple[str, ...] = ()
    stores: tuple[str, ...] = ()
    items: tuple[Item, ...] = ()
    kits: tuple[Kit, ...] = ()
    not_packed: tuple[str, ...] = ()
    """What the group has said it will not pack, be it an item of its own or not."""
    budget: int | None = None
    """Minor units for the season."""
    windows: tuple[WindowRule, ...] = ()
    """What the group has said of sale windows, be it of the usual ones or of its own."""
    administrators: tuple[str, ...] = ()
    """Who may change the settings where the chat itself does not say; nobody named means everybody."""
    private: bool = False
    """True for the books of one person's private chat, where nothing is said unasked but what they asked for."""

    @property
    def window_rules(self) -> tuple[WindowRule, ...]:
        """The sale windows of the group's country, with what the group has said."""
        return merged(self.windows, self.settings.country)

    def kit(self, name: str) -> Kit | None:
        """The kit of exactly this name."""
        return next((kit for kit in self.kits if kit.name == name), None)

    def item(self, name: str) -> Item | None:
        """The item of exactly this name."""
        return next((item for item in self.items if item.name == name), None)
