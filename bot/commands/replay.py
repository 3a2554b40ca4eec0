"""The command ``replay``: plays a written chat and prints what the clerk answers."""

from __future__ import annotations

from contextlib import closing
from pathlib import Path

from bot.commands.faults import told
from bot.group_file import FILE_NAME, default_group, read_group
from bot.storage.books import Database
from bot.transports.replay import JsonLines, Replay, Transcript
from bot.transports.written_chat import BadLineError, read_chat
from core.group import Group

CHAT_NAME = "chat.txt"
IN_MEMORY = "sqlite://"


class ChatFileError(Exception):
    """There is no written chat to read; the text is one sentence."""


def replay(path: Path, group: Path | None, as_json: bool, database: str | None) -> None:
    """Play the chat of a folder or file; raises typer.Exit(2) after one sentence about what is wrong."""
    with told(ChatFileError, BadLineError):
        file = path / CHAT_NAME if path.is_dir() else path
        text = _read(file)
        start = _group(path, group)
        with closing(Database(database or IN_MEMORY)) as books:
            books.migrate()
            page = JsonLines() if as_json else Transcript()
            Replay(read_chat(text), start, books, page).run()


def _read(file: Path) -> str:
    try:
        return file.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        raise ChatFileError(f"{file} is not a text file in UTF-8; save it again as UTF-8.") from None
    except OSError as error:
        reason = (error.strerror or "it is not there").lower()
        raise ChatFileError(
            f"{file} cannot be read ({reason}); give a written chat, or a folder that holds {CHAT_NAME}."
        ) from None


def _group(path: Path, group: Path | None) -> Group:
    """The group of ``--group``, else of the chat's own folder; a lone chat file gets the default group."""
    if group is not None:
        return read_group(group)
    if path.is_dir():
        return read_group(path)
    return read_group(path.parent) if (path.parent / FILE_NAME).exists() else default_group()
