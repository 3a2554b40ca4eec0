"""Every sentence of the calendar's skills."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time

from bot.skills.supply import Wanted
from bot.wording.amounts import exact_unit_price, unit_prices
from bot.wording.days import clock_time, dated, day, in_days
from bot.wording.things import capital, counted, listed, listed_up_to, plural
from bot.wording.windows import markdown_words, window_days
from core.day_rules import written
from core.group import Settings
from core.items import PricePoint
from core.reminders import Reminder
from core.windows import SaleWindow, WindowRule

SOME_DAYS = ("Tomorrow", "In a week")
ONLY_ONCE = "I can remind once, not again and again. This time?"
WHICH_DAY = "On which day?"
ONE_AT_A_TIME = "Those are two reminders. Say one at a time, such as: remind us friday at 5pm to bring bags"
WHOM = "Whom shall I remind?"
WHAT = "What shall I remind of? Say it, such as: bring bags"
ALL = "All"
NO = "No"
NO_REMINDERS = "No reminders are set. Set one, such as: remind us on friday to bring bags"
ADD_EXAMPLE = "add a window: church rummage sale first saturday of october"
NO_DAY_OF_WINDOW = f"On which days of the year is that sale? Say it, such as: {ADD_EXAMPLE}"
NEW_DAYS = "To which days of the year? Say it, such as: move the church rummage sale to october 10"
WHICH_SALE = "Which sale?"
WHICH_WINDOW = "Which sale? Name it, such as: switch off the halloween window"
_MOST_WINDOWS = 6
_MOST_ITEMS = 5
_MOST_ITEMS_OF_SEVERAL = 2
_MOST_REMINDERS = 40


def which_day(what: str) -> str:
    """The question when a reminder is to come."""
    of = f" of “{what}”" if what else ""
    return f"When shall I remind{of}? Say the day, such as: {remind_example(what)}"


def remind_example(what: str) -> str:
    """How a reminder is asked for."""
    return f"remind us friday at 5pm about {what}" if what else "remind us friday at 5pm to bring bags"


def day_label(on: date, today: date, country: str) -> str:
    """A day as a button shows it: "Fri Aug 14"."""
    return f"{on:%a} {dated(on, today, country)}"


def is_it_a_time(said: str, clock: str) -> str:
    """The question whether a number is the time of a reminder."""
    return f"“{said}”: is that the time, {clock}?"


def no_such_time(said: str, example: str) -> str:
    """A date or time of day that there is none of."""
    return f"There is no “{said}”. Say another day or time, such as: {example}"


def no_such_member(name: str) -> str:
    """The question whom to remind, where the one named is no member."""
    return f"I can remind all or one member, and “{name}” is none. Whom?"


def unknown_day(anchor: str) -> str:
    """The question for the day that a reminder hangs on."""
    return f"Which day is “{anchor}”? Say it, such as: august 20"


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
    """Reminders that stand, each with its place among all."""
    more = [f"… and {len(lines) - _MOST_REMINDERS} later ones"] if len(lines) > _MOST_REMINDERS else []
    return "\n".join(["Reminders:", *lines[:_MOST_REMINDERS], *more])


def placed(place: int, line: str) -> str:
    """A reminder in the list of all."""
    return f"{place}. {line}"


def moved(line: str) -> str:
    """The echo of a reminder that comes at another time."""
    return f"Moved: {line}"


def dropped(reminder: Reminder) -> str:
    """The echo of a reminder that does not come."""
    return f"Dropped the reminder: {reminder.what}."


def drop_these(lines: Sequence[str]) -> str:
    """The question before several reminders are dropped."""
    return "\n".join([f"Drop {len(lines)} reminders?", *(f"• {line}" for line in lines[:_MOST_REMINDERS])])


def drop_them(count: int) -> str:
    """The button that drops them."""
    return f"Drop all {count}"


def dropped_several(count: int) -> str:
    """The echo of several reminders that do not come."""
    return f"Dropped {count} reminders."


def several_summary(count: int) -> str:
    """The line that names them when taken back."""
    return f"{count} reminders, dropped"


def none_for(speaker: str) -> str:
    """No reminder is for the speaker alone."""
    return f"No reminder is for {speaker} alone. To drop those of others too: drop all reminders"


def which_reminder(count: int, shown: int) -> str:
    """The question which of several reminders is meant, some of which are shown as buttons."""
    return "Which reminder?" if count == shown else f"Which of {count} reminders? Say a word of it, or press one"


def no_such_reminder(about: str) -> str:
    """No reminder is of that."""
    return f"No reminder speaks of “{about}”. Ask for all of them: what reminders are set?"


MOVE_EXAMPLE = "move the soap reminder to friday"
NEW_TIME = f"To which day or time? Say it, such as: {MOVE_EXAMPLE}"


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


def window_line(window: SaleWindow, settings: Settings, today: date) -> str:
    """A sale in one line: its days, how far off, its usual markdowns."""
    return _window_line(window, (), 0, settings, today)


def no_such_window(called: str, told: str, *, near: bool) -> str:
    """No sale is called so; ``told`` is the line of the nearest by its name, or of the next one."""
    other = f" {'The nearest' if near else 'Next'}: {told}" if told else ""
    return f"No sale is called “{called}” here.{other}"


def none_on(days: tuple[date, date], told: str, settings: Settings, today: date) -> str:
    """No sale is on from one day to another; ``told`` is the line of the next one."""
    first, last = (day(one, today, settings.country) for one in days)
    asked = first if first == last else f"from {first} to {last}"
    return f"No sale is on {asked}." + (f" Next: {told}" if told else "")


def switched_off_window(rule: WindowRule) -> str:
    """A sale asked for that the group does not care for."""
    return f"The {rule.name} is switched off. Say: switch the {rule.name} on"


def switched_off(names: Sequence[str]) -> str:
    """The sales that the group does not care for."""
    if not names:
        return "No sale is switched off. Switch one off, such as: switch off the halloween window"
    return f"Switched off: {listed(names)}. Switch one on, such as: switch the {names[0]} on"


NO_WINDOWS = f"All sales are switched off. Add one, such as: {ADD_EXAMPLE}"


def added(window: SaleWindow, settings: Settings, today: date, was: bool) -> str:
    """The echo of a sale that the group has told of."""
    days = window_days(window, settings, today)
    soon = (window.starts - today).days <= settings.lead_days
    lead = "" if soon else f" I remind you {counted(settings.lead_days, 'day')} before."
    return f"{'Changed' if was else 'Added'}: {window.name}, {days}, every year{_off_words(window)}.{lead}"


def _off_words(window: SaleWindow) -> str:
    """What a sale takes off, and on what, as far as it is known: ", usually 40% off notebooks and pencils"."""
    things = [plural(one) for one in window.rule.look_for] if window.off else []
    return " ".join(filter(None, (markdown_words(window), listed_up_to(things, _MOST_ITEMS))))


def left_out(rest: str) -> list[str]:
    """What was said of a sale and is not kept, if anything."""
    return [f"Left out: “{rest}”."] if rest else []


def stays(rule: WindowRule) -> str:
    """A usual sale goes by its rule and is not moved."""
    return f"I cannot move the {rule.name}: the first day is always {written(rule.starts)}."


def window_summary(rule: WindowRule) -> str:
    """The line that names a change of a sale when taken back."""
    return f"{rule.name}{'' if rule.on else ' off'}"


def switched(rule: WindowRule) -> str:
    """The echo of a sale switched on or off."""
    name = rule.name
    return f"I will speak of the {name} again." if rule.on else f"I will no longer speak of the {name}."
