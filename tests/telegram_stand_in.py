"""What tests need of the stand-in for the Bot API: the names of ``tests/telegram/`` in one place."""

from __future__ import annotations

from tests.telegram.faults import Fault, Rates
from tests.telegram.limits import Limits, busiest
from tests.telegram.people import GROUP, OTHER_GROUP, SUPERGROUP
from tests.telegram.shapes import BOT_ID, USERNAME, Person, Shown, person_id
from tests.telegram.stand_in import PATIENCE_SECONDS, TOKEN, Call, TelegramStandIn
from tests.telegram.webhook import SECRET_HEADER, Delivery

__all__ = [
    "BOT_ID",
    "GROUP",
    "OTHER_GROUP",
    "PATIENCE_SECONDS",
    "SECRET_HEADER",
    "SUPERGROUP",
    "TOKEN",
    "USERNAME",
    "Call",
    "Delivery",
    "Fault",
    "Limits",
    "Person",
    "Rates",
    "Shown",
    "TelegramStandIn",
    "busiest",
    "person_id",
]
