"""Every sentence with which the clerk arrives in a group."""

from __future__ import annotations

from collections.abc import Sequence

from bot.wording.things import counted, listed
from core.entries import Entry
from core.group import Group

HELLO = (
    "Hello, I am the packing clerk. Write what you see in a shop, as in “12 pencils 0.47 at corner store”: I say"
    " whether that is a good price, and keep the books."
)
WHICH_CURRENCY = "Three questions to begin with, for an administrator. In which currency do you pay?"
WRITE_CURRENCY = "Another currency: write it, as in “set the currency to CHF”."
WHICH_ZONE = "Which time zone are you in? (You can type a big city of it.)"
WRITE_ZONE = "Another time zone: write it, as in “set the time zone to Europe/Zurich”, and “set the country to CH”."
WHICH_KIT = "Which kit do you pack first?"
WRITE_KIT = "Your own kit: write it, as in “new kit: toy pouch, 1 ball and 8 crayons”."
ANOTHER = "Another"
READY = "Ready. Write “goal 100 school pouches by november 14” to set a goal, “help” for more."
HEARING = "Thank you: now I hear plain messages here."
DEAF = (
    "I cannot hear plain messages here, only commands and replies to my posts. An administrator can mend that: make me"
    " an administrator of this group (its settings, Administrators, Add; I need none of the rights). Or write"
    " /setprivacy to @BotFather, choose me, then Disable; then remove me from this group and add me again."
)


def known(group: Group) -> str:
    """The welcome of a group whose names are known already."""
    settings = group.settings
    kits = listed([kit.name for kit in group.kits]) or "no kit yet"
    return (
        f"{HELLO}\n{group.name}: {settings.currency.code}, {settings.timezone}; {counted(len(group.items), 'item')},"
        f" {kits}. “show settings” shows how I work, “help” what I understand."
    )


def back(last: Entry) -> str:
    """The welcome of a group that the clerk was in before."""
    return f"I am back. The books are as I left them; the last entry is {last.by}’s: {last.summary}."


def no_such_zone(place: str) -> str:
    """A place that names no time zone."""
    return f"I know no time zone “{place}”. Write the biggest city of yours, such as: new york"


def no_such_currency(words: str) -> str:
    """Words that name no currency."""
    return f"I know no currency “{words}”. Write its code, such as: CHF"


def noted(what: str) -> str:
    """A first choice, before which there was none."""
    return f"Noted: {what}."


def first_kit(name: str, contents: Sequence[tuple[str, int]]) -> str:
    """A first kit, and how to change it."""
    lines = listed([counted(count, item) for item, count in contents])
    return (
        f"New kit: each {name} gets {lines}. Change it in your own words: “each {name} gets 2 {contents[0][0]}s”."
        f" What one should cost: “price point for {contents[0][0]}s 5 cents”."
    )


def kit_summary(name: str) -> str:
    """A first kit, as the line that names it when it is taken back."""
    return f"the kit {name}"
