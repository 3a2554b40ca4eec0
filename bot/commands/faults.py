"""What a person can mend ends a command with one sentence on standard error and exit status 2."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import typer

from bot.group_file import GroupFileError
from bot.storage.books import DatabaseTroubleError


@contextmanager
def told(*more: type[Exception]) -> Iterator[None]:
    """Tell a bad group folder, database trouble and the faults named in ``more``; raises typer.Exit(2)."""
    mendable: tuple[type[Exception], ...] = (GroupFileError, DatabaseTroubleError, *more)
    try:
        yield
    except mendable as fault:
        typer.echo(str(fault), err=True)
        raise typer.Exit(2) from None
