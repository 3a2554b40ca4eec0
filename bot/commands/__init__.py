"""The commands of ``python -m bot``; each loads what it needs only when it runs."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

app = typer.Typer(
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    help="Packing Clerk: keeps the books of a group that packs gift kits, from what its chat says.",
)

_Group = Annotated[
    Path | None, typer.Option("--group", metavar="FOLDER", help="The folder with the group's group.toml.")
]
_Database = Annotated[
    str | None,
    typer.Option("--database", metavar="URL", help="Where to keep the books (a replay keeps none unless told)."),
]


@app.command()
def chat(
    group: _Group = None,
    database: _Database = None,
    speaker: Annotated[str | None, typer.Option("--as", metavar="NAME", help="Who is speaking.")] = None,
) -> None:
    """Talk with the clerk here, on the terminal."""
    from bot.commands.chat import chat as run

    run(group, database, speaker)


@app.command()
def replay(
    path: Annotated[Path, typer.Argument(metavar="FOLDER_OR_FILE", help="A written chat, or its folder.")],
    group: _Group = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object for each post.")] = False,
    database: _Database = None,
) -> None:
    """Play a written chat, on its own clock."""
    from bot.commands.replay import replay as run

    run(path, group, as_json, database)


@app.command()
def read(
    group: _Group = None,
    why: Annotated[bool, typer.Option("--why", help="Say how each message was read.")] = False,
) -> None:
    """Print how messages are read; record nothing."""
    from bot.commands.read import read as run

    run(group, why)


@app.command()
def health(database: _Database = None) -> None:
    """Say whether the books can be used and nothing waits for too long; exit status 1 where not."""
    from bot.commands.health import health as run

    run(database)


@app.command()
def telegram(
    group: _Group = None,
    webhook: Annotated[bool, typer.Option("--webhook", help="Let Telegram call in.")] = False,
) -> None:
    """Serve every Telegram group that the clerk is in."""
    from bot.commands.telegram import telegram as run

    run(group, webhook)


@app.command()
def move(
    source: Annotated[str, typer.Argument(metavar="FROM_URL", help="The database with the books; it stays as it is.")],
    target: Annotated[str, typer.Argument(metavar="TO_URL", help="An empty database; an SQLite file is made.")],
) -> None:
    """Copy all books to another database, and count them there."""
    from bot.commands.move import move as run

    run(source, target)
