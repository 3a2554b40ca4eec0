"""The webhook: the Bot API calls in with each update, and takes it for confirmed once we have written it down."""

from __future__ import annotations

import asyncio
import hmac
import logging
from collections.abc import Callable, Coroutine, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any
from urllib.parse import urlsplit

from aiohttp import web
from telegram import Bot, Update
from telegram.error import TelegramError

from bot.settings import SettingsError
from bot.storage.books import DatabaseTroubleError
from bot.transports.telegram.patience import answered
from bot.transports.telegram.updates import HEARD

SECRET_HEADER = "X-Telegram-Bot-Api-Secret-Token"  # noqa: S105 - the name of the header (manual: setWebhook)
LARGEST = 1024 * 1024
"""Of an update, in bytes; the longest message takes a few tens of thousands."""
CONNECTIONS = 40
HEALTH = "/health"

_log = logging.getLogger(__name__)
Take = Callable[[Sequence[Update]], Coroutine[Any, Any, None]]


@dataclass(frozen=True, slots=True)
class Address:
    """Where the Bot API calls us, where we listen, and the secret by which we know it."""

    url: str
    host: str
    port: int
    secret: str


class Webhook:
    """Listens for updates, until stopped; ``is_well`` tells whether the books can be used."""

    def __init__(self, address: Address, is_well: Callable[[], bool], stop: asyncio.Event) -> None:
        self._address = address
        self._is_well = is_well
        self._stop = stop

    async def run(self, bot: Bot, take: Take) -> None:
        """Hand on each update as it comes. Raises RefusedError, and SettingsError where nobody can listen there."""
        address = self._address
        app = web.Application(client_max_size=LARGEST)
        app.router.add_post(urlsplit(address.url).path or "/", partial(self._called, bot, take))
        app.router.add_get(HEALTH, self._health)
        runner = web.AppRunner(app, access_log=None, handle_signals=False)
        await runner.setup()
        try:
            try:
                await web.TCPSite(runner, address.host, address.port).start()
            except OSError as trouble:
                raise SettingsError(
                    f"Nothing can listen on {address.host}:{address.port} ({trouble.strerror}):"
                    " choose another WEBHOOK_HOST or WEBHOOK_PORT"
                ) from None
            tell = partial(
                bot.set_webhook,
                address.url,
                allowed_updates=HEARD,
                secret_token=address.secret,
                max_connections=CONNECTIONS,
            )
            await answered(tell, self._stop)
            _log.info("Listening on %s:%d", address.host, address.port)
            await self._stop.wait()
        finally:
            await runner.cleanup()

    async def _called(self, bot: Bot, take: Take, request: web.Request) -> web.Response:
        """One update; anything but success makes the Bot API call again later."""
        secret = request.headers.get(SECRET_HEADER, "")
        if not hmac.compare_digest(secret.encode(), self._address.secret.encode()):
            return web.Response(status=401)
        try:
            update = Update.de_json(await request.json(), bot)
        except (ValueError, TypeError, AttributeError, KeyError, TelegramError):
            return web.Response(status=400)
        try:
            await take([update])
        except DatabaseTroubleError as trouble:
            _log.warning("%s", trouble)
            return web.Response(status=503)
        return web.Response()

    async def _health(self, _request: web.Request) -> web.Response:
        is_well = await asyncio.to_thread(self._is_well)
        return web.json_response({"well": is_well}, status=200 if is_well else 503)
