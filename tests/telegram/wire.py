"""HTTP on loopback, on an event loop in a thread of its own; no more of it than the Bot API's clients speak."""

from __future__ import annotations

import asyncio
import re
import socket
import struct
import threading
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from http import HTTPStatus

HEADER_END = b"\r\n\r\n"
_LENGTH = re.compile(rb"\r\ncontent-length:[ \t]*(\d+)", re.IGNORECASE)
_TYPE = re.compile(rb"\r\ncontent-type:[ \t]*([^;\r ]+)", re.IGNORECASE)
_PHRASES = {status.value: status.phrase for status in HTTPStatus}


@dataclass(frozen=True, slots=True)
class Request:
    """What a client asks: the path with its query, the body with its type, and the whole head."""

    target: str
    content_type: str
    body: bytes
    head: bytes = b""


@dataclass(frozen=True, slots=True)
class Reply:
    """What it is answered."""

    status: int
    body: bytes
    content_type: str = "application/json"


class Hangup(Enum):
    """What it gets in place of an answer."""

    CLOSED = "the line is closed"
    RESET = "the line is reset"


Respond = Callable[[Reply | Hangup], None]
"""Answers a request, at once or later; to be called on the loop."""
Hear = Callable[[Request, Respond], None]


class Server:
    """Listens on 127.0.0.1 from the start; hears what is asked once it runs."""

    def __init__(self, hear: Hear, port: int = 0) -> None:
        self._hear = hear
        self._socket = socket.create_server(("127.0.0.1", port), backlog=512)
        self.url = f"http://127.0.0.1:{self._socket.getsockname()[1]}"
        self._running = threading.Event()
        self._thread = threading.Thread(target=lambda: asyncio.run(self._serve()), daemon=True)
        self._lines: set[_Line] = set()
        self._loop: asyncio.AbstractEventLoop
        self._stop: asyncio.Event

    def start(self) -> None:
        """Run the loop."""
        self._thread.start()
        self._running.wait()

    def stop(self) -> None:
        """Drop every line and end the loop with all its tasks."""
        self.soon(self._stop.set)
        self._thread.join()

    def soon(self, act: Callable[[], object]) -> None:
        """Do something on the loop; from any thread. Before the start and after the end nothing is done."""
        if self._running.is_set() and not self._loop.is_closed():
            self._loop.call_soon_threadsafe(act)

    async def _serve(self) -> None:
        self._loop, self._stop = asyncio.get_running_loop(), asyncio.Event()
        server = await self._loop.create_server(lambda: _Line(self._hear, self._lines), sock=self._socket)
        self._running.set()
        await self._stop.wait()
        server.close()
        for line in tuple(self._lines):
            line.drop()


class _Line(asyncio.Protocol):
    """One client's connection; it asks one thing at a time."""

    def __init__(self, hear: Hear, lines: set[_Line]) -> None:
        self._hear = hear
        self._lines = lines
        self._received = bytearray()
        self._busy = False
        self._transport: asyncio.Transport

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        assert isinstance(transport, asyncio.Transport)
        self._transport = transport
        self._lines.add(self)

    def connection_lost(self, exc: Exception | None) -> None:  # noqa: ARG002 - asyncio names it
        self._lines.discard(self)

    def data_received(self, data: bytes) -> None:
        self._received += data
        if not self._busy:
            self._hear_next()

    def drop(self) -> None:
        """End the line at once."""
        self._transport.abort()

    def _hear_next(self) -> None:
        split = self._received.find(HEADER_END)
        if split < 0:
            return
        head = bytes(self._received[: split + 2])
        begin = split + len(HEADER_END)
        end = begin + int(found[1] if (found := _LENGTH.search(head)) else 0)
        if len(self._received) < end:
            return
        body = bytes(self._received[begin:end])
        del self._received[:end]
        self._busy = True
        content_type = found[1].decode() if (found := _TYPE.search(head)) else ""
        self._hear(Request(head.split(b" ", 2)[1].decode(), content_type, body, head), self._respond)

    def _respond(self, reply: Reply | Hangup) -> None:
        if self._transport.is_closing():
            return
        if isinstance(reply, Hangup):
            self._hang_up(reply)
            return
        self._transport.write(
            f"HTTP/1.1 {reply.status} {_PHRASES[reply.status]}\r\nContent-Type: {reply.content_type}\r\n"
            f"Content-Length: {len(reply.body)}\r\n\r\n".encode()
            + reply.body
        )
        self._busy = False
        self._hear_next()

    def _hang_up(self, how: Hangup) -> None:
        if how is Hangup.RESET:
            line: socket.socket = self._transport.get_extra_info("socket")
            line.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))  # a close becomes a reset
        self._transport.abort()
