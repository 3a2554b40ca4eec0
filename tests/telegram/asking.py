"""A bare client of the stand-in, for the tests that ask it what the clerk would not."""

from __future__ import annotations

import http.client
import json
from typing import Any

from tests.telegram.serve import Far
from tests.telegram.stand_in import TOKEN, TelegramStandIn

LOST = (http.client.RemoteDisconnected, ConnectionResetError)
"""What comes of a call whose answer never does."""


def answer(telegram: TelegramStandIn | Far, method: str, **params: object) -> dict[str, Any]:
    """What a call is answered, well or badly. Raises one of LOST."""
    line = http.client.HTTPConnection(telegram.url.removeprefix("http://"))
    try:
        line.request("POST", f"/bot{TOKEN}/{method}", json.dumps(params), {"Content-Type": "application/json"})
        return dict(json.load(line.getresponse()))
    finally:
        line.close()


def call(telegram: TelegramStandIn | Far, method: str, **params: object) -> Any:
    """The result of a call that goes well."""
    return answer(telegram, method, **params)["result"]


def refusal(telegram: TelegramStandIn, method: str, **params: object) -> tuple[int, str]:
    """The code and the description of a call that does not."""
    said = answer(telegram, method, **params)
    return said["error_code"], said["description"].removeprefix("Bad Request: ").removeprefix("Forbidden: ")
