"""The command ``health``: whether the books can be used, and whether anything waits for too long."""

from __future__ import annotations

from contextlib import closing
from datetime import timedelta

import typer

from bot import clock
from bot.commands.faults import told
from bot.settings import Settings, SettingsError
from bot.storage.books import Database, DatabaseTroubleError
from bot.storage.health import Health
from bot.storage.health import health as look
from bot.wording.things import counted

PATIENCE = timedelta(minutes=10)
"""How long a post may wait before something must be wrong."""


def health(url: str | None) -> None:
    """Print one line; raises typer.Exit(1) where something waits for too long, Exit(2) where nothing can be read."""
    with told(SettingsError), closing(Database(url or Settings().database_url, to_read=True)) as database:
        found = look(database)
        typer.echo(_line(found))
        if _waits_too_long(found):
            raise typer.Exit(1)


def is_well(database: Database) -> bool:
    """Whether the books can be used, and no post has waited for too long."""
    try:
        return not _waits_too_long(look(database))
    except DatabaseTroubleError:
        return False


def _waits_too_long(found: Health) -> bool:
    return found.oldest is not None and clock.now() - found.oldest > PATIENCE


def _line(found: Health) -> str:
    parts = [
        counted(found.groups, "group"),
        f"{counted(found.not_heard, 'message')} not heard yet",
        f"{counted(found.waiting, 'post')} waiting"
        + (f" since {found.oldest:%Y-%m-%d %H:%M} UTC" if found.oldest else ""),
    ]
    if found.failed:
        parts.append(f"{counted(found.failed, 'message')} that could not be heard (tried again at the next start)")
    state = "Something waits for too long" if _waits_too_long(found) else "All is well"
    return f"{state}: {', '.join(parts)}."
