"""The wire of the Bot API on loopback: calls in a path and a form or JSON, answers in its envelope."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Mapping
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any
from urllib.parse import parse_qsl, urlsplit

Params = Mapping[str, Any]
Answer = Callable[[str, str, Params], object | None]
"""From token, method and parameters to a result, or None to drop the line; may raise ApiError."""


class ApiError(Exception):
    """A call that the Bot API answers with an error."""

    def __init__(self, code: int, description: str, parameters: Mapping[str, int] | None = None) -> None:
        super().__init__(description)
        self.answer: dict[str, Any] = {"ok": False, "error_code": code, "description": description}
        if parameters:
            self.answer["parameters"] = dict(parameters)


class ApiServer(ThreadingHTTPServer):
    """Answers calls on 127.0.0.1, at a port of the system's choice, each in a thread of its own."""

    daemon_threads = True
    block_on_close = False

    def __init__(self, answer: Answer) -> None:
        super().__init__(("127.0.0.1", 0), _Call)
        self.answer = answer

    @property
    def url(self) -> str:
        """What BOT_API_URL should be."""
        return f"http://127.0.0.1:{self.server_port}"

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A client that was stopped or killed hears no answer, which is no error of the server."""
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)


class _Call(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    disable_nagle_algorithm = True  # else each answer waits 40 ms for its second packet
    server: ApiServer

    def do_GET(self) -> None:
        self._respond()

    def do_POST(self) -> None:
        self._respond()

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the name is http.server's
        """A test's output is not the place for a line for each request."""

    def _respond(self) -> None:
        address = urlsplit(self.path)
        body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
        params = dict(parse_qsl(address.query)) | self._decoded(body)
        bot, _, method = address.path.removeprefix("/bot").partition("/")
        try:
            result = self.server.answer(bot, method, params)
        except ApiError as error:
            self._send(error.answer["error_code"], error.answer)
            return
        if result is None:
            self.close_connection = True
            return
        self._send(200, {"ok": True, "result": result})

    def _decoded(self, body: bytes) -> dict[str, Any]:
        """Parameters from JSON, or from a form whose nested values are JSON (manual: Making requests)."""
        if self.headers.get_content_type() == "application/json":
            return dict(json.loads(body or b"{}"))
        form = dict(parse_qsl(body.decode(), keep_blank_values=True))
        nested = {"reply_markup", "reply_parameters", "link_preview_options", "allowed_updates"}
        return {name: json.loads(value) if name in nested else value for name, value in form.items()}

    def _send(self, status: int, answer: dict[str, Any]) -> None:
        body = json.dumps(answer).encode()
        self.send_response(status)
        self.send_header("Content-Type", "application/json")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)
