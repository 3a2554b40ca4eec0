"""What waits to be heard by the bot, and the two ways of fetching it: getUpdates and a webhook."""

from __future__ import annotations

import ipaddress
import re
from collections import deque
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import count
from random import Random
from urllib.parse import SplitResult, urlsplit

from tests.telegram.envelope import ApiError, Json, Params, integer, truth
from tests.telegram.shapes import now

FIRST_UPDATE = 700_000_001
"""Far from any message's number, so that none is taken for the other."""
UNASKED = frozenset(("chat_member", "message_reaction", "message_reaction_count"))
"""Manual, getUpdates: what is not reported unless it stands in allowed_updates."""
PORTS = frozenset((443, 80, 88, 8443))
"""Manual, setWebhook."""


@dataclass(frozen=True, slots=True)
class Update:
    """An update in the place where it arrived; it may stand in a second one too."""

    place: int
    chat: int
    json: Json

    @property
    def update_id(self) -> int:
        """Its number."""
        number: int = self.json["update_id"]
        return number


@dataclass(slots=True)
class Webhook:
    """Where updates go, with what the last trouble was."""

    url: str
    secret: str | None = None
    connections: int = 40
    """Manual, setWebhook: 1-100, defaults to 40."""
    trouble: str | None = None
    trouble_at: int = 0

    def is_like(self, other: Webhook) -> bool:
        """Whether it is set the same way."""
        return (self.url, self.secret, self.connections) == (other.url, other.secret, other.connections)


class Updates:
    """Every update until it is confirmed. The caller sees to it that nobody else is at it meanwhile."""

    def __init__(self) -> None:
        self.reported: list[Update] = []
        self.waiting: deque[Update] = deque()
        self.handed_out: dict[int, Update] = {}
        """Given away but not confirmed, by place."""
        self.webhook: Webhook | None = None
        self._allowed: list[str] = []
        self._held: list[Update] | None = None
        self._numbers = count(FIRST_UPDATE)
        self._places = count()

    def report(self, chat: int, kind: str, content: Json) -> Update | None:
        """Something happened; None where the bot did not ask for such things."""
        if kind not in self._allowed if self._allowed else kind in UNASKED:
            return None
        update = Update(next(self._places), chat, {"update_id": next(self._numbers), kind: content})
        self.reported.append(update)
        self._add([update])
        return update

    def again(self, update: Update) -> None:
        """Deliver an update once more, under its own number."""
        self._add([Update(next(self._places), update.chat, update.json)])

    def hold(self) -> None:
        """Keep back what is reported from now on."""
        self._held = []

    def let_go(self, seed: int) -> None:
        """Let what was kept back go, in an order that the seed decides."""
        held, self._held = self._held or [], None
        Random(seed).shuffle(held)  # noqa: S311 - no secret
        self._add(held)

    def _add(self, updates: Iterable[Update]) -> None:
        (self.waiting if self._held is None else self._held).extend(updates)

    def batch(self, params: Params) -> list[Json]:
        """What getUpdates answers now (manual): it confirms all below the offset. Raises ApiError."""
        if self.webhook is not None:
            raise ApiError(
                409,
                "Conflict: can't use getUpdates method while webhook is active;"
                " use deleteWebhook to delete the webhook first",
            )
        offset, limit = integer(params, "offset"), integer(params, "limit", 100)
        if not 1 <= limit <= 100:
            raise ApiError(400, "Bad Request: limit must be between 1 and 100")
        self.allow(params)
        self._confirm(offset)
        while self.waiting and len(self.handed_out) < limit:
            self.hand_out()
        return [update.json for update in list(self.handed_out.values())[:limit]]

    def _confirm(self, offset: int) -> None:
        """Manual: an update is confirmed by a higher offset; a negative one forgets all but the last so many.

        What was never handed out is not confirmed, so that an update that comes again is heard.
        """
        if offset < 0:
            self.put_back()
            self.waiting = deque(list(self.waiting)[offset:])
        self.handed_out = {place: one for place, one in self.handed_out.items() if one.update_id >= offset}

    def hand_out(self) -> Update:
        """The next one that waits; it stays until it is confirmed."""
        update = self.waiting.popleft()
        self.handed_out[update.place] = update
        return update

    def put_back(self) -> None:
        """All that was handed out waits again."""
        self.waiting.extendleft(reversed(self.handed_out.values()))
        self.handed_out.clear()

    def allow(self, params: Params) -> None:
        """Manual: an empty list stands for the usual kinds, none at all for those asked for before."""
        if (asked := params.get("allowed_updates")) is not None:
            self._allowed = list(asked)

    def set_webhook(self, params: Params) -> object:
        """Send updates to an address from now on. Raises ApiError."""
        if not (url := str(params["url"])):
            return self.delete_webhook(params)
        webhook = Webhook(url, params.get("secret_token"), integer(params, "max_connections", 40))
        _check(webhook)
        self.allow(params)
        if self.webhook is None or not self.webhook.is_like(webhook):  # else what is on its way is not sent anew
            self.put_back()
            self.webhook = webhook
        self._drop(params)
        return True

    def delete_webhook(self, params: Params) -> object:
        """Keep what comes for getUpdates."""
        self.webhook = None
        self.put_back()
        self._drop(params)
        return True

    def _drop(self, params: Params) -> None:
        if truth(params, "drop_pending_updates"):
            self.waiting.clear()

    def webhook_info(self, _: Params) -> object:
        """A WebhookInfo."""
        webhook = self.webhook or Webhook("")
        pending = len(self.waiting) + len(self.handed_out)
        info: Json = {"url": webhook.url, "has_custom_certificate": False, "pending_update_count": pending}
        if webhook.trouble is not None:
            info |= {"last_error_date": webhook.trouble_at, "last_error_message": webhook.trouble}
        if webhook.url:
            info["max_connections"] = webhook.connections
        return info | ({"allowed_updates": self._allowed} if self._allowed else {})

    def trouble(self, what: str) -> None:
        """An update could not be delivered to the webhook."""
        if self.webhook is not None:
            self.webhook.trouble, self.webhook.trouble_at = what, now()


METHODS: dict[str, Callable[[Updates, Params], object]] = {
    "setwebhook": Updates.set_webhook,
    "deletewebhook": Updates.delete_webhook,
    "getwebhookinfo": Updates.webhook_info,
}


def _check(webhook: Webhook) -> None:
    """Sentences from memory. Plain HTTP is for our own machine, as on a Bot API server that runs locally."""
    address = urlsplit(webhook.url)
    if not on_this_machine(address):
        if address.scheme != "https":
            raise ApiError(400, "Bad Request: bad webhook: An HTTPS URL must be provided for webhook")
        if (address.port or 443) not in PORTS:
            ports = "80, 88, 443 or 8443"
            raise ApiError(400, f"Bad Request: bad webhook: Webhook can be set up only on ports {ports}")
    if not 1 <= webhook.connections <= 100:
        raise ApiError(400, "Bad Request: invalid max_connections specified")
    if webhook.secret is not None and not re.fullmatch(r"[A-Za-z0-9_-]{1,256}", webhook.secret):
        raise ApiError(400, "Bad Request: secret token contains unallowed characters")


def on_this_machine(address: SplitResult) -> bool:
    """Whether an address is plain HTTP on loopback; the stand-in posts to no other."""
    try:
        return address.scheme == "http" and ipaddress.ip_address(address.hostname or "").is_loopback
    except ValueError:
        return address.scheme == "http" and address.hostname == "localhost"
