"""The command ``telegram``: serves every Telegram group that the clerk is in."""

from __future__ import annotations

import json
import logging
import traceback
from contextlib import closing
from datetime import UTC, datetime
from functools import partial
from pathlib import Path

import typer

from bot.assistant import Assistant
from bot.commands.faults import told
from bot.commands.health import is_well
from bot.group_file import default_group, read_group
from bot.settings import Settings, SettingsError
from bot.storage.books import Database, DatabaseTroubleError
from bot.transports.telegram.patience import RefusedError
from bot.transports.telegram.polling import Polling
from bot.transports.telegram.serving import Telegram, bot_of
from bot.transports.telegram.webhook import Address, Webhook

_log = logging.getLogger(__name__)


def telegram(group: Path | None, webhook: bool) -> None:
    """Serve until told to stop; a group met for the first time starts from the folder.

    Raises typer.Exit(2) after one sentence about what is wrong.
    """
    with told(SettingsError, RefusedError):
        settings = Settings()
        token, api_url = settings.token(), settings.api_url()
        address = Address(*settings.webhook()) if webhook else None
        start = read_group(group) if group else default_group()
        with closing(Database(settings.database_url)) as database:
            database.migrate()
            log_to_stderr(token)
            source = partial(Webhook, address, partial(is_well, database)) if address else Polling
            _serve(Telegram(bot_of(token, api_url), database, Assistant(database, start), source))


def _serve(transport: Telegram) -> None:
    try:
        transport.run()
    except (DatabaseTroubleError, RefusedError, SettingsError):
        raise
    except Exception:
        # Python's own last words would hold the exception's text, and that may hold the token.
        _log.exception("The clerk had to stop")
        raise typer.Exit(1) from None


def log_to_stderr(token: str) -> None:
    """Log what happens, but neither the token nor what people say."""
    lines = logging.StreamHandler()
    lines.setFormatter(Discreet(token))
    logging.basicConfig(level=logging.INFO, handlers=[lines])
    for name in ("httpx", "httpcore", "aiohttp"):  # they may tell addresses, which hold the token
        logging.getLogger(name).setLevel(logging.WARNING)
    # It quotes whole answers of the Bot API, people's messages among them; we log what matters of it.
    logging.getLogger("telegram").setLevel(logging.CRITICAL + 1)


class Discreet(logging.Formatter):
    """Log lines as JSON objects, without the token, and without what exceptions say: they may quote a message."""

    def __init__(self, token: str) -> None:
        super().__init__()
        self._token = token

    def format(self, record: logging.LogRecord) -> str:
        """When, how grave, where, what, and the trace of an exception; the token replaced by its variable's name."""
        line = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname,
            "where": record.name,
            "what": record.getMessage(),
        }
        if record.exc_info:
            kind, _, frames = record.exc_info
            line |= {"error": kind.__name__ if kind else "", "trace": "".join(traceback.format_tb(frames))}
        return json.dumps(line, ensure_ascii=False).replace(self._token, "BOT_TOKEN")
