"""Writes the chat for a person: in colour by Rich on a terminal that wants it, plain anywhere else."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable

from bot.messages import Post

CLERK = "Clerk"

PERSON_STYLE = "bold cyan"
CLERK_STYLE = "green"
BUTTON_STYLE = "yellow"
QUIET_STYLE = "dim"

Write = Callable[[str, str], None]
"""Writes a text, one line or more, in a style of Rich."""


def writer() -> Write:
    """How to write on standard output as it now is."""
    if sys.stdout.isatty() and not os.environ.get("NO_COLOR"):
        return _coloured()
    return lambda text, _style: _plain(text)


def post_text(post: Post) -> str:
    """A post as a chat shows it, further lines indented, without its buttons."""
    name = CLERK if post.to is None else f"{CLERK} to {post.to}"
    picture = f"\n(picture: {post.picture})" if post.picture else ""
    return f"{name}: {post.text}{picture}".replace("\n", "\n  ")


def _plain(text: str) -> None:
    print(_shown(text), flush=True)  # noqa: T201 (this is the one place that writes to the screen)


def _coloured() -> Write:
    from rich.console import Console
    from rich.text import Text

    console = Console()
    return lambda text, style: console.print(Text(_shown(text), style), soft_wrap=True)


def _shown(text: str) -> str:
    """The text without control characters, which a message could use to take over the terminal."""
    return "".join(each for each in text if each.isprintable() or each == "\n")
