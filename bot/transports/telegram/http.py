"""The Bot API's HTTP calls by aiohttp, which takes less of the processor than the library's own client does."""

from __future__ import annotations

from typing import Any

from aiohttp import ClientConnectorError, ClientError, ClientSession, ClientTimeout, FormData, TCPConnector
from telegram.error import NetworkError
from telegram.request import BaseRequest, RequestData

CONNECT_SECONDS = 5.0
READ_SECONDS = 10.0
"""How long an answer may take, beyond what a long poll asks for."""
CONNECTIONS = 64


class LostAnswerError(NetworkError):
    """The call may have been heard or not: the answer was lost on its way."""


class Request(BaseRequest):
    """Makes the calls. Raises NetworkError where the server was not reached, LostAnswerError where its answer was."""

    def __init__(self) -> None:
        self._session: ClientSession | None = None

    @property
    def read_timeout(self) -> float:
        """How long an answer may take, in seconds."""
        return READ_SECONDS

    async def initialize(self) -> None:
        """Open the session."""
        if self._session is None:
            self._session = ClientSession(connector=TCPConnector(limit=CONNECTIONS))

    async def shutdown(self) -> None:
        """Close the session."""
        if self._session is not None:
            await self._session.close()
            self._session = None

    async def do_request(
        self, url: str, method: str, request_data: RequestData | None = None, *args: Any, **timeouts: Any
    ) -> tuple[int, bytes]:
        """The status and the body that the server answers with."""
        del args
        if self._session is None:
            raise NetworkError("The session is closed")
        read = timeouts.get("read_timeout")
        timeout = ClientTimeout(
            total=None,
            sock_connect=CONNECT_SECONDS,
            sock_read=read if isinstance(read, int | float) else READ_SECONDS,
        )
        try:
            async with self._session.request(method, url, data=_body(request_data), timeout=timeout) as answer:
                return answer.status, await answer.read()
        except ClientConnectorError as error:
            raise NetworkError(f"no connection: {error.strerror or type(error).__name__}") from None
        except TimeoutError:
            raise LostAnswerError("no answer in time") from None
        except ClientError as error:
            raise LostAnswerError(f"the answer was lost: {type(error).__name__}") from None


def _body(data: RequestData | None) -> FormData | dict[str, str] | None:
    if data is None:
        return None
    if not data.contains_files:
        return data.json_parameters
    form = FormData()
    for name, value in data.json_parameters.items():
        form.add_field(name, value)
    for name, (file_name, content, content_type) in data.multipart_data.items():
        form.add_field(name, content, filename=file_name, content_type=content_type)
    return form
