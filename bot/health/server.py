"""/healthz, /readyz and /metrics, on an address of their own.

/healthz says that the event loop turns. /readyz says whether this process does its work: the
database answers and is up to date, messages can come in. A process that is not ready waits by
itself for better times; it need not be restarted.
"""

from collections.abc import Callable
from datetime import datetime

from aiohttp import web

from bot.errors import BotError
from bot.health.fresh import Fresh
from bot.health.metrics import Metrics
from bot.ports import QueueState

_KEEP_S = 2.0
_PATIENCE_S = 3.0
_METRICS_TYPE = "text/plain; version=0.0.4; charset=utf-8"


class Health:
    """What is known of this process's state; it is told of its parts as they come up."""

    def __init__(self, metrics: Metrics, now: Callable[[], datetime]) -> None:
        self._metrics = metrics
        self._now = now
        self._database: Fresh[str | None] | None = None
        self._queues: Fresh[QueueState] | None = None
        self._troubles: list[Callable[[], str | None]] = []

    def watch_database(
        self, trouble: Callable[[], str | None], queues: Callable[[], QueueState]
    ) -> None:
        """From now on there is a database.

        Args:
            trouble: What is wrong with it, in words; blocks; raises BotError if it is away.
            queues: How far behind the work is; blocks; the same.
        """
        self._database = Fresh(trouble, keep_s=_KEEP_S, patience_s=_PATIENCE_S)
        self._queues = Fresh(queues, keep_s=_KEEP_S, patience_s=_PATIENCE_S)

    def watch(self, trouble: Callable[[], str | None]) -> None:
        """From now on that part is at work: it says what is wrong with it, or None."""
        self._troubles.append(trouble)

    async def troubles(self) -> list[str]:
        """All that keeps this process from its work; nothing when it is ready."""
        if self._database is None:
            return ["the database was not reached yet"]
        found = [await self._database_trouble(self._database)]
        found += [trouble() for trouble in self._troubles] or ["not serving yet"]
        return [each for each in found if each is not None]

    async def _database_trouble(self, database: Fresh[str | None]) -> str | None:
        try:
            return await database.get()
        except TimeoutError:
            return "the database does not answer"
        except BotError:
            return "the database is away"

    async def _queue_state(self) -> QueueState | None:
        try:
            return None if self._queues is None else await self._queues.get()
        except (TimeoutError, BotError):
            return None

    def app(self) -> web.Application:
        """The three pages."""
        app = web.Application(client_max_size=1024)
        app.router.add_get("/healthz", self._healthz)
        app.router.add_get("/readyz", self._readyz)
        app.router.add_get("/metrics", self._page)
        return app

    def close(self) -> None:
        """Ask the database no more."""
        for each in (self._database, self._queues):
            if each is not None:
                each.close()

    async def _healthz(self, _: web.Request) -> web.Response:
        return web.json_response({"alive": True})

    async def _readyz(self, _: web.Request) -> web.Response:
        troubles = await self.troubles()
        return web.json_response(
            {"ready": not troubles, "troubles": troubles}, status=503 if troubles else 200
        )

    async def _page(self, _: web.Request) -> web.Response:
        ready = not await self.troubles()
        page = self._metrics.page(await self._queue_state(), ready=ready, now=self._now())
        return web.Response(body=page, headers={"Content-Type": _METRICS_TYPE})
