"""Every sentence of the calendar's skills."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time

from bot.skills.supply import Wanted
from bot.wording.amounts import exact_unit_price, unit_prices
from bot.wording.days import clock_time, day, in_days
from bot.wording.things import capital, counted, listed, listed_up_to
from bot.wording.windows import markdown_words, window_days
from core.group import Settings
from core.items import PricePoint
from core.reminders import Reminder
from core.windows import SaleWindow, WindowRule

SOME_DAYS = ("Tomorrow", "In a week")
NOTHING_SAID = "you asked for this reminder"
ONLY_ONCE = "I can remind once, not again and again. This time?"
NO_REMINDERS = "No reminders are set. Set one, such as: remind us on friday to bring bags"
ADD_EXAMPLE = "add a window: church rummage sale first saturday of october"
NO_DAY_OF_WINDOW = f"On which days of the year is that sale? Say it, such as: {ADD_EXAMPLE}"
WHICH_WINDOW = "Which sale? Name it, such as: switch off the halloween window"
_MOST_WINDOWS = 6
_MOST_ITEMS = 5
_MOST_ITEMS_OF_SEVERAL = 2
_MOST_REMINDERS = 12


def which_day(what: str) -> str:
    """The question when a reminder is to come."""
    of = f" of “{what}”" if what else ""
    example = f"remind us friday at 5pm about {what}" if what else "remind us friday at 5pm to bring bags"
    return f"When shall I remind{of}? Say the day, such as: {example}"


def past(on: date, at: time | None, settings: Settings, today: date) -> str:
    """A reminder that would come too late."""
    clock = f", {at:%H:%M}," if at else ""
    gone = f"{capital(day(on, today, settings.country))}{clock} is over"
    return f"{gone}. Say a time ahead, such as: remind us friday at 5pm"


def reminder_line(reminder: Reminder, at: datetime, settings: Settings, today: date) -> str:
    """A reminder as lists show it: when, for whom, of what."""
    return f"{clock_time(at, today, settings.country)}, for {reminder.whom or 'all'}: {reminder.what}"


def noted(line: str) -> str:
    """The echo of a reminder."""
    return f"Reminder set: {line}"


def reminder_summary(reminder: Reminder) -> str:
    """The line that names it when taken back."""
    return f"reminder: {reminder.what}"


def reminder_list(lines: Sequence[str]) -> str:
    """All reminders that stand."""
    more = [f"… and {len(lines) - _MOST_REMINDERS} more"] if len(lines) > _MOST_REMINDERS else []
    return "\n".join(["Reminders:", *(f"• {line}" for line in lines[:_MOST_REMINDERS]), *more])


def moved(line: str) -> str:
    """The echo of a reminder that comes at another time."""
    return f"Moved: {line}"


def dropped(reminder: Reminder) -> str:
    """The echo of a reminder that does not come."""
    return f"Dropped the reminder: {reminder.what}."


def no_such_reminder(about: str) -> str:
    """No reminder is of that."""
    return f"No reminder speaks of “{about}”. Ask for all of them: what reminders are set?"


WHICH_REMINDER = "Which reminder?"
NEW_TIME = "To which day or time? Say it, such as: move the soap reminder to friday"


def windows_answer(windows: Sequence[tuple[SaleWindow, Sequence[Wanted]]], settings: Settings, today: date) -> str:
    """The sales to come: their days, how far off, what is short that drops then, and what it cost there before."""
    most = _MOST_ITEMS if len(windows) == 1 else _MOST_ITEMS_OF_SEVERAL
    lines = [_window_line(window, wanted, most, settings, today) for window, wanted in windows[:_MOST_WINDOWS]]
    return "\n".join(lines)


def _window_line(window: SaleWindow, wanted: Sequence[Wanted], most: int, settings: Settings, today: date) -> str:
    when = "on now" if window.starts <= today else in_days(window.starts, today)
    days = window_days(window, settings, today)
    head = f"{capital(window.name)}: {days} ({when}){markdown_words(window)}."
    return f"{head} {_look_for(wanted, most, settings)}" if wanted else head


def _look_for(wanted: Sequence[Wanted], most: int, settings: Settings) -> str:
    return f"Short of {listed_up_to([_wanted(one, settings) for one in wanted], most)}."


def _wanted(one: Wanted, settings: Settings) -> str:
    if one.before is not None:
        then = one.before.unit_price
        return f"{counted(one.units, one.item)} (then {unit_prices([then], settings, PricePoint(one.target))(then)})"
    if one.target is not None:
        return f"{counted(one.units, one.item)} (price point {exact_unit_price(one.target, settings)})"
    return counted(one.units, one.item)


def no_such_window(event: str, names: Sequence[str]) -> str:
    """No sale is called so."""
    known = f" I know of: {listed(list(names))}." if names else ""
    return f"No sale is called “{event}” here.{known} Add one, such as: {ADD_EXAMPLE}"


def switched_off_window(rule: WindowRule) -> str:
    """A sale asked for that the group does not care for."""
    return f"The {rule.name} is switched off. Say: switch the {rule.name} on"


NO_WINDOWS = f"All sales are switched off. Add one, such as: {ADD_EXAMPLE}"


def added(window: SaleWindow, settings: Settings, today: date, was: bool) -> str:
    """The echo of a sale that the group has told of."""
    days = window_days(window, settings, today)
    soon = (window.starts - today).days <= settings.lead_days
    lead = "" if soon else f" I remind you {counted(settings.lead_days, 'day')} before."
    return f"{'Changed' if was else 'Added'}: {window.name}, {days}, every year.{lead}"


def window_summary(rule: WindowRule) -> str:
    """The line that names a change of a sale when taken back."""
    return f"{rule.name}{'' if rule.on else ' off'}"


def switched(rule: WindowRule) -> str:
    """The echo of a sale switched on or off."""
    name = rule.name
    return f"I will speak of the {name} again." if rule.on else f"I will no longer speak of the {name}."
