"""Settings that come from the environment: the token, where the Bot API lives, where the books are kept."""

from __future__ import annotations

import re

from platformdirs import user_data_path
from pydantic import Field, SecretStr
from pydantic_settings import BaseSettings, SettingsConfigDict

PUBLIC_API = "https://api.telegram.org"

_TOKEN = re.compile(r"\d+:[\w-]+", re.ASCII)
_SECRET = re.compile(r"[A-Za-z0-9_-]{1,256}")
"""What the Bot API takes for a secret (manual: setWebhook, secret_token)."""
_PORTS = 65536
_EXAMPLE = "BOT_TOKEN=123456789:AAE-example_of_a_token python -m bot telegram"


class SettingsError(Exception):
    """A setting is missing or cannot be used; ``str()`` is one sentence that says what to do."""


def _own_database() -> str:
    try:
        folder = user_data_path("packing-clerk", appauthor=False, ensure_exists=True)
    except OSError as trouble:
        raise SettingsError(
            f"The folder for the books cannot be made ({trouble.strerror}: {trouble.filename}):"
            " say where to keep them, as in DATABASE_URL=sqlite:///books.db"
        ) from trouble
    return f"sqlite:///{(folder / 'books.db').as_posix()}"


class Settings(BaseSettings):
    """The environment variables of contract.md; an empty one counts as not set. Raises SettingsError."""

    model_config = SettingsConfigDict(env_ignore_empty=True, frozen=True, hide_input_in_errors=True)

    bot_token: SecretStr | None = None
    bot_api_url: str = PUBLIC_API
    database_url: str = Field(default_factory=_own_database)
    webhook_url: str | None = None
    webhook_host: str = "127.0.0.1"
    webhook_port: str | None = None
    webhook_secret: SecretStr | None = None

    def token(self) -> str:
        """The token itself. Raises SettingsError where it is missing or is no token."""
        if self.bot_token is None:
            raise SettingsError(
                "BOT_TOKEN is not set: ask @BotFather on Telegram for a bot, and start again with the token"
                f" it gives you, as in {_EXAMPLE}"
            )
        token = self.bot_token.get_secret_value().strip()
        if not _TOKEN.fullmatch(token):
            raise SettingsError(
                f"BOT_TOKEN does not look like a token: copy the whole line that @BotFather gave you, as in {_EXAMPLE}"
            )
        return token

    def api_url(self) -> str:
        """Where the Bot API lives, without a trailing slash. Raises SettingsError for no web address."""
        url = self.bot_api_url.strip().rstrip("/")
        if not re.fullmatch(r"https?://[^\s/?#]+[^\s?#]*", url):
            raise SettingsError(
                f"BOT_API_URL is no web address: leave it out, or give one, as in BOT_API_URL={PUBLIC_API}"
            )
        return url

    def webhook(self) -> tuple[str, str, int, str]:
        """Where the Bot API calls, where to listen, host and port, and the secret. Raises SettingsError."""
        url = (self.webhook_url or "").strip()
        if not re.fullmatch(r"https?://[^\s/?#]+[^\s?#]*", url):
            raise SettingsError(
                "WEBHOOK_URL must say where Telegram can reach the clerk,"
                " as in WEBHOOK_URL=https://clerk.example.org/telegram"
            )
        port = (self.webhook_port or "").strip()
        if not port.isdecimal() or not 0 < int(port) < _PORTS:
            raise SettingsError("WEBHOOK_PORT must say on which port to listen, as in WEBHOOK_PORT=8443")
        secret = "" if self.webhook_secret is None else self.webhook_secret.get_secret_value()
        if not _SECRET.fullmatch(secret):
            raise SettingsError(
                "WEBHOOK_SECRET must be 1 to 256 letters, digits, - or _ that nobody can guess,"
                " as python -c 'import secrets; print(secrets.token_urlsafe(32))' makes one"
            )
        return url, self.webhook_host, int(port), secret
