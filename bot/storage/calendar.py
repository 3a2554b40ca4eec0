"""The calendar of a group: the sale windows it has spoken of, its reminders, and the settings it has said."""

from __future__ import annotations

from datetime import date, time
from typing import Any

from sqlalchemy import Row, insert, select

from bot.storage.books import Books
from bot.storage.calendar_tables import reminder_times, reminders, settings_said, window_rules
from bot.storage.rows import living, number_of, say
from bot.storage.tables import entries, members
from bot.storage.window_rows import window_of, window_row
from core.choices import Setting
from core.reminders import Reminder, ReminderChange
from core.windows import WindowRule


def said_settings(books: Books) -> dict[Setting, str]:
    """The settings that the group has said, the newest of each."""
    told = select(settings_said.c.setting, settings_said.c.value)
    return {Setting(row.setting): row.value for row in living(books, settings_said, told)}


def set_setting(books: Books, entry: int | None, setting: Setting, value: str) -> None:
    """Keep a setting, as core.choices writes it."""
    say(books, settings_said, entry, {"setting": setting.value, "value": value})


def settings_in(books: Books, entry: int) -> list[tuple[Setting, str]]:
    """The settings that an entry has said, as core.choices writes them."""
    own = (settings_said.c.group_id == books.group_id, settings_said.c.entry_id == entry)
    rows = books.connection.execute(select(settings_said.c.setting, settings_said.c.value).where(*own))
    return [(Setting(name), value) for name, value in rows]


def windows(books: Books) -> tuple[WindowRule, ...]:
    """What the group has said of sale windows, the newest of each name, in the order in which they were first named."""
    found = {row.name.casefold(): window_of(row) for row in living(books, window_rules, select(window_rules))}
    return tuple(found.values())


def windows_of(books: Books, entry: int) -> list[WindowRule]:
    """The sale windows that an entry has said something of, as they stand by it."""
    own = (window_rules.c.group_id == books.group_id, window_rules.c.entry_id == entry)
    rows = books.connection.execute(select(window_rules).where(*own).order_by(window_rules.c.id))
    return [window_of(row) for row in rows]


def set_window(books: Books, entry: int | None, rule: WindowRule) -> None:
    """Keep a sale window as it is from now on."""
    say(books, window_rules, entry, window_row(rule))


def add_reminder(books: Books, entry: int, reminder: Reminder) -> None:
    """Keep a reminder. Raises KeyError for an unknown member."""
    whom = None if reminder.whom is None else number_of(books, members, reminder.whom)
    values = {"group_id": books.group_id, "what": reminder.what, "whom_id": whom, "entry_id": entry, "live": True}
    number: int = books.connection.execute(insert(reminders).values(**values).returning(reminders.c.id)).scalar_one()
    change_reminder(books, entry, ReminderChange(number, reminder.on, reminder.at))


def change_reminder(books: Books, entry: int, change: ReminderChange) -> None:
    """Say when a reminder comes from now on, or that it does not come."""
    clock = change.at.isoformat("minutes") if change.at else None
    values = {"reminder_id": change.number, "day": change.on, "clock": clock, "dropped": change.dropped}
    books.connection.execute(
        insert(reminder_times), {"group_id": books.group_id, "entry_id": entry, "live": True, **values}
    )


_SAID_BY = members.alias("said_by")
_TIMES = (
    select(
        reminders.c.id,
        reminders.c.what,
        reminder_times.c.day,
        reminder_times.c.clock,
        reminder_times.c.dropped,
        members.c.name.label("whom"),
        _SAID_BY.c.name.label("by"),
    )
    .join(
        reminder_times,
        (reminder_times.c.group_id == reminders.c.group_id) & (reminder_times.c.reminder_id == reminders.c.id),
    )
    .join(entries, (entries.c.group_id == reminders.c.group_id) & (entries.c.id == reminders.c.entry_id))
    .join(_SAID_BY, (_SAID_BY.c.group_id == entries.c.group_id) & (_SAID_BY.c.id == entries.c.member_id))
    .outerjoin(members, (members.c.group_id == reminders.c.group_id) & (members.c.id == reminders.c.whom_id))
    .where(reminders.c.live, reminder_times.c.live)
    .order_by(reminder_times.c.id)
)


def _reminder(row: Row[*tuple[Any, ...]]) -> Reminder:
    return Reminder(row.what, row.day, time.fromisoformat(row.clock) if row.clock else None, row.whom, row.by, row.id)


def reminders_in(books: Books, entry: int) -> list[Reminder]:
    """The reminders that an entry has set, as it set them."""
    own = (reminders.c.group_id == books.group_id, reminders.c.entry_id == entry, reminder_times.c.entry_id == entry)
    return [_reminder(row) for row in books.connection.execute(_TIMES.where(*own))]


def reminders_from(books: Books, day: date) -> tuple[Reminder, ...]:
    """The reminders that come on a day or later, and are not dropped, the soonest first."""
    lately = select(reminder_times.c.reminder_id).where(
        reminder_times.c.group_id == books.group_id, reminder_times.c.live, reminder_times.c.day >= day
    )
    rows = books.connection.execute(
        _TIMES.where(reminders.c.group_id == books.group_id, reminders.c.id.in_(lately))
    ).all()
    newest = {row.id: row for row in rows}
    found = (_reminder(row) for row in newest.values() if not row.dropped and row.day >= day)
    return tuple(sorted(found, key=lambda one: (one.on, one.at or time(), one.number)))
