"""Calls and answers of the Bot API as the manual's "Making requests" has them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import parse_qsl

from tests.telegram.wire import Reply, Request

Json = dict[str, Any]
Params = Mapping[str, Any]

NESTED = frozenset(
    "reply_markup reply_parameters link_preview_options allowed_updates entities caption_entities reaction"
    " commands scope".split()
)
"""The parameters that are objects or arrays, which a form carries as JSON (manual: JSON-serialized)."""

_compact = json.JSONEncoder(separators=(",", ":")).encode


class ApiError(Exception):
    """A call that the Bot API answers with an error."""

    def __init__(self, code: int, description: str, parameters: Mapping[str, int] | None = None) -> None:
        super().__init__(description)
        self.code = code
        self.description = description
        self.parameters = parameters

    def reply(self) -> Reply:
        """The answer, with what may help as its parameters (manual: ResponseParameters)."""
        answer = {"ok": False, "error_code": self.code, "description": self.description}
        more = {"parameters": dict(self.parameters)} if self.parameters else {}
        return Reply(self.code, encoded(answer | more))


@dataclass(frozen=True, slots=True)
class Asked:
    """A call as it was understood."""

    token: str
    method: str
    params: Params


def asked(request: Request) -> Asked:
    """The call of a request; parameters may stand in the query, a form or JSON. Raises ApiError."""
    path, _, query = request.target.partition("?")
    token, _, method = path.removeprefix("/bot").partition("/")
    params = _parameters(request)
    return Asked(token, method, dict(parse_qsl(query)) | params if query else params)


def _parameters(request: Request) -> Json:
    if request.content_type == "application/json":
        return dict(json.loads(request.body or b"{}"))
    if request.content_type == "multipart/form-data":
        raise ApiError(400, "Bad Request: the stand-in takes no uploads")
    form = dict(parse_qsl(request.body.decode(), keep_blank_values=True))
    return {name: json.loads(value) if name in NESTED else value for name, value in form.items()}


def result(value: object) -> Reply:
    """The answer to a call that went well."""
    return Reply(200, encoded({"ok": True, "result": value}))


def encoded(value: object) -> bytes:
    """JSON without needless blanks."""
    return _compact(value).encode()


def integer(params: Params, name: str, default: int = 0) -> int:
    """A whole number among the parameters, which a form gives as text. Raises ApiError."""
    try:
        return int(params.get(name, default))
    except (TypeError, ValueError):
        raise ApiError(400, f"Bad Request: invalid {name} specified") from None


def truth(params: Params, name: str) -> bool:
    """A yes or no among the parameters."""
    return params.get(name) in (True, "true", "True", "1")
