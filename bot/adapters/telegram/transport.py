"""How the library's calls reach the service: HTTP by aiohttp.

The library's own client slows down with every call in flight; this one does not. It also
tells apart what matters to a sender: nothing left us, or the answer is missing.
"""

import asyncio
import json
import math
import os
from time import monotonic
from typing import Any

import aiohttp
from telegram._utils.types import ODVInput
from telegram.error import NetworkError, TelegramError, TimedOut
from telegram.request import BaseRequest, RequestData

# The library gives waiting times as timedelta only if asked to, and warns if not asked.
os.environ["PTB_TIMEDELTA"] = "1"

_CONNECT_S = 10.0
_UPLOAD_S = 60.0
_CONNECTIONS = 100
_TOO_MANY = 429
_Wait = ODVInput[float]


class NotSent(NetworkError):
    """No connection was made: the service certainly saw nothing."""


class AnswerLost(NetworkError):
    """The connection broke: the service may or may not have seen the call."""


class Transport(BaseRequest):
    """The library's requests over one aiohttp session.

    Once the service says "too many", every call is answered so, here, until the time it asked
    for is over: it holds for all that the account does, also for what nobody queued.
    """

    __slots__ = ("_answer_s", "_session", "_silent_until_s")

    def __init__(self, *, answer_s: float) -> None:
        """Make one, closed.

        Args:
            answer_s: How long an answer may take unless the call says otherwise. [s], > 0
        """
        self._answer_s = answer_s
        self._session: aiohttp.ClientSession | None = None
        self._silent_until_s = float("-inf")

    @property
    def read_timeout(self) -> float:
        """How long an answer may take unless the call says otherwise. [s]"""
        return self._answer_s

    async def initialize(self) -> None:
        if self._session is None:
            self._session = aiohttp.ClientSession(
                connector=aiohttp.TCPConnector(limit=_CONNECTIONS),
                headers={"User-Agent": self.USER_AGENT},
            )

    async def shutdown(self) -> None:
        if self._session is not None:
            await self._session.close()
            self._session = None

    @staticmethod
    def parse_json_payload(payload: bytes) -> dict[str, Any]:
        """The answer as a dict. Unlike the library's, it never logs what it cannot read.

        Raises:
            TelegramError: It is not an answer of the Bot API.
        """
        try:
            answer = json.loads(payload)
        except ValueError:
            answer = None
        if isinstance(answer, dict) and ("result" in answer or "description" in answer):
            return answer
        raise TelegramError("the answer is not one of the Bot API")

    async def do_request(
        self,
        url: str,
        method: str,
        request_data: RequestData | None = None,
        read_timeout: _Wait = BaseRequest.DEFAULT_NONE,
        write_timeout: _Wait = BaseRequest.DEFAULT_NONE,
        connect_timeout: _Wait = BaseRequest.DEFAULT_NONE,
        pool_timeout: _Wait = BaseRequest.DEFAULT_NONE,
    ) -> tuple[int, bytes]:
        """One call: status and body.

        Raises:
            NotSent: No connection was made in time.
            TimedOut: The call may have gone out; no whole answer came in time.
            AnswerLost: The connection broke.
        """
        if self._session is None:
            raise NotSent("the account is closed")
        if (silent_s := self._silent_until_s - monotonic()) > 0:
            return _TOO_MANY, _too_many(silent_s)
        connect_s = _seconds(connect_timeout, _CONNECT_S)
        upload_s = _UPLOAD_S if request_data and request_data.contains_files else 0.0
        answer_s = upload_s + _seconds(read_timeout, self._answer_s)
        wait = aiohttp.ClientTimeout(connect=connect_s, sock_connect=connect_s, sock_read=answer_s)
        try:
            async with self._session.request(
                method, url, data=_body(request_data), timeout=wait, allow_redirects=False
            ) as answer:
                # Its own limit is per read: a body that drips in would last for ever.
                async with asyncio.timeout(answer_s):
                    body = await answer.read()
                if answer.status == _TOO_MANY:
                    self._silent_until_s = monotonic() + _retry_after_s(body)
                return answer.status, body
        except (aiohttp.ConnectionTimeoutError, aiohttp.ClientConnectorError) as error:
            trouble: NetworkError = NotSent(type(error).__name__)
        except TimeoutError as error:
            trouble = TimedOut(type(error).__name__)
        except aiohttp.ClientError as error:
            trouble = AnswerLost(type(error).__name__)
        # Raised out here so that no traceback carries the original, which names the address
        # and with it the token.
        raise trouble


def _retry_after_s(body: bytes) -> float:
    """What a "too many" asks for. [s]; 0 if it does not say."""
    try:
        return float(json.loads(body)["parameters"]["retry_after"])
    except (ValueError, KeyError, TypeError):
        return 0.0


def _too_many(silent_s: float) -> bytes:
    """The service's own answer, with the time that is left. [s]"""
    left_s = math.ceil(silent_s)
    return json.dumps(
        {
            "ok": False,
            "error_code": _TOO_MANY,
            "description": f"Too Many Requests: retry after {left_s}",
            "parameters": {"retry_after": left_s},
        }
    ).encode()


def _seconds(given: _Wait, otherwise: float) -> float:
    return given if isinstance(given, int | float) else otherwise


def _body(data: RequestData | None) -> aiohttp.FormData | None:
    if data is None:
        return None
    form = aiohttp.FormData()
    for name, value in data.json_parameters.items():
        form.add_field(name, value)
    if data.contains_files:
        for name, (filename, content, kind) in data.multipart_data.items():
            form.add_field(name, content, filename=filename, content_type=kind)
    return form
