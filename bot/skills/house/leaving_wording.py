"""Every sentence about leaving: being forgotten, one member under two names, and all data of a group."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from bot.wording.amounts import money
from bot.wording.days import dated
from bot.wording.things import capital, counted, listed, listed_up_to
from core.group import Settings
from core.ledger import Payment

FORGET, KEEP = "Yes, forget me", "No"
DELETE, DELETE_ALL, DELETE_NOTHING = "Yes, delete", "Delete it all", "No"
_MOST_ITEMS = 5

NOTHING_FORGOTTEN = "OK, nothing is forgotten."
NOTHING_DELETED = "OK, nothing is deleted."

YOURS_ALONE = "These books are yours alone. To delete all that is in them, say: delete all our data"
SAY_IT_THERE = "Say that in the group’s own chat, so that everybody sees it."
REALLY = (
    "Really everything? It cannot be undone. When you press, all of it is gone at once, and this is my last post. "
    "If you write to me again, I begin with empty books."
)


def shall_i_forget(
    member: str, payments: Sequence[Payment], held: Mapping[str, int], claimed: Mapping[str, int], settings: Settings
) -> str:
    """The question before somebody is forgotten: what goes, what stays behind them."""
    stays = [_stays(member, payment, settings) for payment in payments]
    if held:
        stays.append(f"You hold {_things(held)}; that stays in the books as held by a former member.")
    if claimed:
        stays.append(
            f"You have asked for {_things(claimed)} of an open case; that stays unless you say first: drop me."
        )
    goes = (
        "Your name and number go out of the books; what you entered stays there as a former member’s. What was written "
        "in this chat is not mine to delete. This cannot be taken back."
    )
    return "\n".join([*stays, goes, f"Shall I forget you, {member}?"])


def _stays(member: str, payment: Payment, settings: Settings) -> str:
    amount = money(payment.amount, settings)
    if payment.payee == member:
        return f"{payment.payer} owes you {amount}; it stays in the books as owed to a former member."
    return f"You owe {payment.payee} {amount}; it stays in the books as owed by a former member."


def _things(units: Mapping[str, int]) -> str:
    return listed_up_to([counted(count, item) for item, count in units.items()], _MOST_ITEMS)


def forgotten(name: str) -> str:
    """Said when somebody has been forgotten."""
    return f"Forgotten. The books say “{name}” now. Whoever writes to me again is new to me."


def shall_i_delete(whose: str, members: int, entries: int, since: date | None, settings: Settings) -> str:
    """The first question before all data of a group is deleted: how much it is."""
    made = f"{counted(entries, 'entry')}{_since(since, settings)}"
    return (
        f"That deletes all that I know of {whose}: {made}, {counted(members, 'member')}, and with them every price, "
        "debt, count of the stock, kit and reminder. What was written in this chat is not mine to delete. "
        "Shall I?"
    )


def _since(since: date | None, settings: Settings) -> str:
    return f" since {dated(since, date.min, settings.country)}" if since else ""


def who_can_delete(administrators: Sequence[str] | None) -> str:
    """Told to somebody who may not delete the group's data."""
    if not administrators:
        return "Only administrators of this chat can ask for that, and I cannot see now who they are. Try again later."
    return f"Only {listed(list(administrators), 'or')} can ask for that."


def yes_i_am(name: str) -> str:
    """The button of the one who is also called so."""
    return f"Yes, I am {name}"


def yes_is(account: str, name: str) -> str:
    """The button where somebody else is spoken of."""
    return f"Yes, {account} is {name}"


def but_called(account: str) -> str:
    """The button of those who keep the name that they go by in the chat."""
    return f"Yes, but say {account}"


def shall_i_join(account: str, name: str, balance: int, settings: Settings) -> str:
    """The question before two names become one member."""
    verb = "is owed" if balance > 0 else "owes"
    debt = f"{name} {verb} {money(abs(balance), settings)}; that goes along. " if balance else ""
    return (
        f"Are {account} and {name} one person? Then all that is booked under either is theirs, and I say {name} from "
        f"now on. {debt}This cannot be taken apart again."
    )


def joined(account: str, name: str, called: str) -> str:
    """Said when two names have become one member."""
    gone = name if called == account else account
    return f"{capital(gone)} is {called} in the books from now on."


def has_account(name: str) -> str:
    """Said of a name that somebody else writes under."""
    return f"{name} has an account of their own."


def nobody_called(name: str) -> str:
    """Said of a name that the books do not know."""
    return f"Nobody is called {name} in the books."


def both_asked(account: str, name: str, items: Sequence[str]) -> str:
    """Said where the newest word of two would be taken for the word of one."""
    return f"{account} and {name} both have a part in the open case of {items[0]}. Close that case first."
