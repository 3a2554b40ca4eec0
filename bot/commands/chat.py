"""The command ``chat``: talks with the clerk on the terminal."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from contextlib import closing
from io import TextIOWrapper
from pathlib import Path
from typing import TYPE_CHECKING

import typer
from platformdirs import user_state_path

from bot.clock import now
from bot.commands.faults import told
from bot.group_file import default_group, read_group
from bot.settings import Settings, SettingsError
from bot.storage.books import Database
from bot.transports.console import Console
from core.group import Group

if TYPE_CHECKING:
    from prompt_toolkit.history import History


def chat(group: Path | None, database: str | None, speaker: str | None) -> None:
    """Talk until ``quit``; raises typer.Exit(2) after one sentence about what is wrong."""
    with told(SettingsError):
        start = read_group(group) if group else default_group()
        url = database or Settings().database_url
        with closing(Database(url)) as books:
            books.migrate()
            typer.echo(f"The books are kept {where_kept(url)}.")
            name = _speaker(start, speaker)
            Console(_lines(name), start, books, name, now).run()


def where_kept(url: str) -> str:
    """Where a database keeps the books, in words; user, password and options are left out."""
    scheme, _, place = url.partition("://")
    if not scheme.startswith("sqlite"):
        return f"in the database at {place.partition('?')[0].rpartition('@')[2]}"
    file = place.partition("?")[0].removeprefix("/")
    return f"in {file}" if file and file != ":memory:" else "in memory, until you quit"


def _speaker(group: Group, name: str | None) -> str:
    """Who speaks where no line says otherwise."""
    if name:
        listed = {member.casefold(): member for member in group.members}
        return listed.get(name.casefold(), name)
    return group.members[0] if group.members else "Me"


def _lines(speaker: str) -> Iterable[str]:
    if sys.stdin.isatty() and sys.stdout.isatty():
        return _typed(speaker)
    return TextIOWrapper(sys.stdin.buffer, encoding="utf-8-sig", errors="replace")


def _typed(speaker: str) -> Iterator[str]:
    from prompt_toolkit import PromptSession

    session: PromptSession[str] = PromptSession(f"{speaker}: ", history=_history())
    while True:
        try:
            yield session.prompt()
        except (EOFError, KeyboardInterrupt):
            return


def _history() -> History:
    from prompt_toolkit.history import FileHistory, InMemoryHistory

    folder = user_state_path("packing-clerk")
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return InMemoryHistory()
    return FileHistory(folder / "typed")
