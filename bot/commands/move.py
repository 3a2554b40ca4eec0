"""The command ``move``: the books of all groups, from one database to another."""

from __future__ import annotations

import typer

from bot.commands.faults import told
from bot.storage.moving import move as moved
from bot.wording.things import counted


def move(source: str, target: str) -> None:
    """Copy all books and say how many rows; raises typer.Exit(2) after one sentence about what is wrong."""
    with told():
        counts = {table: rows for table, rows in moved(source, target).items() if rows}
    for table, rows in counts.items():
        typer.echo(f"{table}: {rows:,}")
    typer.echo(f"All {len(counts)} tables hold what they held: {counted(sum(counts.values()), 'row')}.")
