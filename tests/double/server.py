"""The double's HTTP side: a loop in a thread of its own, on loopback."""

import asyncio
import json
import socket
import struct
import threading
from typing import Any

from aiohttp import web

from tests.double.faults import Fault
from tests.double.methods import METHODS
from tests.double.world import ApiError, Json, World

_LONGEST_POLL_S = 50.0
_CONFLICT = (
    "Conflict: terminated by other getUpdates request; "
    "make sure that only one bot instance is running"
)
_HOOKED = (
    "Conflict: can't use getUpdates method while webhook is active; "
    "use deleteWebhook to delete the webhook first"
)


class Server:
    """Speaks the Bot API for a world until it is stopped."""

    def __init__(self, world: World, *, latency_s: float) -> None:
        self.faults: list[tuple[str, int | None, Fault]] = []
        self._world = world
        self._latency_s = latency_s
        self._turn = 0
        self._ready = threading.Event()
        self._thread = threading.Thread(target=lambda: asyncio.run(self._live()), daemon=True)
        self._loop: asyncio.AbstractEventLoop
        self._news: asyncio.Event
        self._ended: asyncio.Event
        self.port = 0

    def start(self) -> None:
        self._thread.start()
        self._ready.wait(timeout=10)

    def stop(self) -> None:
        self._loop.call_soon_threadsafe(self._ended.set)
        self._thread.join(timeout=10)

    def poke(self) -> None:
        """Let the poll under way look again. From any thread."""
        self._loop.call_soon_threadsafe(self._tell)

    def _tell(self) -> None:
        self._news.set()
        self._news = asyncio.Event()

    async def _live(self) -> None:
        self._loop = asyncio.get_running_loop()
        self._news = asyncio.Event()
        self._ended = asyncio.Event()
        app = web.Application(client_max_size=60 * 2**20)
        app.router.add_route("*", "/bot{token}/{method}", self._answer)
        runner = web.AppRunner(app, access_log=None, shutdown_timeout=0.1)
        await runner.setup()
        site = web.TCPSite(runner, "127.0.0.1", 0)
        await site.start()
        self.port = runner.addresses[0][1]
        self._ready.set()
        await self._ended.wait()
        self._tell()
        await runner.cleanup()

    async def _answer(self, request: web.Request) -> web.StreamResponse:
        method = request.match_info["method"].lower()
        params = await _params(request)
        if self._latency_s:
            await asyncio.sleep(self._latency_s)
        if request.match_info["token"] != self._world.token:
            return _reply(ApiError(401, "Unauthorized"))
        fault = self._next_fault(method, params)
        if fault is not None and not fault.after_effect:
            return await self._fail(request, fault, None)
        outcome = await self._do(method, params)
        if fault is not None:
            return await self._fail(request, fault, outcome)
        return _reply(outcome)

    async def _do(self, method: str, params: Json) -> Any:
        """The call's result, or the error it ends in."""
        try:
            if method == "getupdates":
                return await self._get_updates(params)
            with self._world.changed:
                self._world.calls.append((method, params))
                self._world.changed.notify_all()
                if method not in METHODS:
                    raise ApiError(404, "Not Found: method not found")
                return METHODS[method](self._world, params)
        except ApiError as error:
            return error

    async def _get_updates(self, params: Json) -> list[Json]:
        self._turn += 1
        turn = self._turn
        self._tell()
        with self._world.changed:
            self._world.calls.append(("getupdates", params))
            self._world.confirm_below(int(params.get("offset") or 0))
        limit = min(max(int(params.get("limit") or 100), 1), 100)
        patience = min(float(params.get("timeout") or 0), _LONGEST_POLL_S)
        until = self._loop.time() + patience
        while not self._ended.is_set():
            news = self._news
            if turn != self._turn:
                raise ApiError(409, _CONFLICT)
            with self._world.changed:
                if self._world.webhook:
                    raise ApiError(409, _HOOKED)
                if found := self._world.batch(limit):
                    return found
            if (left := until - self._loop.time()) <= 0:
                break
            await _first(news, within_s=left)
        return []

    def _next_fault(self, method: str, params: Json) -> Fault | None:
        with self._world.changed:
            for index, (wanted, chat_id, fault) in enumerate(self.faults):
                if wanted.lower() == method and chat_id in (None, int(params.get("chat_id", 0))):
                    del self.faults[index]
                    self._world.changed.notify_all()
                    return fault
        return None

    async def _fail(self, request: web.Request, fault: Fault, outcome: Any) -> web.StreamResponse:
        if fault.how == "refuse":
            return _reply(ApiError(fault.status, fault.description, fault.retry_after))
        if fault.how == "garble":
            return web.Response(body=_body(outcome)[:-1], content_type="application/json")
        if fault.how == "drip":
            return await self._drip(request, _body(outcome), lasts_s=fault.lasts_s)
        if fault.how == "hang":
            await self._ended.wait()
        if request.transport is not None:
            connection: socket.socket = request.transport.get_extra_info("socket")
            connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
            request.transport.abort()
        return web.Response()

    async def _drip(
        self, request: web.Request, body: bytes, *, lasts_s: float, pieces: int = 20
    ) -> web.StreamResponse:
        slow = web.StreamResponse(headers={"Content-Type": "application/json"})
        slow.content_length = len(body)
        await slow.prepare(request)
        size = -(-len(body) // pieces)
        for start in range(0, len(body), size):
            await _first(self._ended, within_s=lasts_s / pieces)
            try:
                await slow.write(body[start : start + size])
            except ConnectionResetError:
                break
        return slow


async def _first(event: asyncio.Event, *, within_s: float) -> None:
    """Wait for the event, or for the time to pass."""
    try:
        async with asyncio.timeout(within_s):
            await event.wait()
    except TimeoutError:
        return


async def _params(request: web.Request) -> Json:
    if request.content_type == "application/json":
        given: Json = await request.json()
        return given
    params: Json = dict(request.query)
    for name, value in (await request.post()).items():
        params[name] = value.filename if isinstance(value, web.FileField) else value
    return params


def _body(outcome: Any) -> bytes:
    if not isinstance(outcome, ApiError):
        return json.dumps({"ok": True, "result": outcome}).encode()
    body: Json = {
        "ok": False,
        "error_code": outcome.status,
        "description": outcome.description,
    }
    if outcome.retry_after is not None:
        body["parameters"] = {"retry_after": outcome.retry_after}
    return json.dumps(body).encode()


def _reply(outcome: Any) -> web.Response:
    status = outcome.status if isinstance(outcome, ApiError) else 200
    return web.Response(status=status, body=_body(outcome), content_type="application/json")
