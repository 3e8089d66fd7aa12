"""Delivering whenever there may be something to deliver, one round at a time."""

import asyncio
from collections.abc import Awaitable, Callable

import structlog

from bot.errors import BadSettings

_log = structlog.get_logger(__name__)


class Pump:
    """Runs ``deliver`` after each ``wake``; wakes during a round lead to one more."""

    def __init__(self, deliver: Callable[[], Awaitable[object]]) -> None:
        self._deliver = deliver
        self._loop = asyncio.get_running_loop()
        self._wanted = asyncio.Event()
        self._closing = False

    def wake(self) -> None:
        """Something may wait to be sent. From the loop's own thread."""
        self._wanted.set()

    def wake_from_thread(self) -> None:
        """The same from any thread; nothing happens once the loop is closed."""
        if not self._loop.is_closed():
            self._loop.call_soon_threadsafe(self.wake)

    def close(self) -> None:
        """Let ``run`` end after one last round."""
        self._closing = True
        self.wake()

    async def run(self) -> None:
        """Deliver until closed.

        Raises:
            BadSettings: Nothing can be sent until a setting changes.
        """
        while not self._closing:
            await self._wanted.wait()
            self._wanted.clear()
            try:
                await self._deliver()
            except BadSettings:
                raise
            except Exception as error:  # noqa: BLE001 the next wake tries again
                _log.error("delivery_failed", error=type(error).__name__)
