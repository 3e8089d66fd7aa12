"""Delivering whenever there may be something to deliver."""

import asyncio
from collections.abc import Awaitable, Callable

import structlog

from bot.errors import BadSettings

_PATIENCE_S = 0.25
_ROUNDS = 4
_log = structlog.get_logger(__name__)


class Pump:
    """Runs ``deliver`` after each ``wake``; wakes during a round lead to one more.

    One round at a time, but a round that a slow call holds up does not hold up the next:
    ``deliver`` must be safe to run beside itself.
    """

    def __init__(self, deliver: Callable[[], Awaitable[object]]) -> None:
        self._deliver = deliver
        self._loop = asyncio.get_running_loop()
        self._wanted = asyncio.Event()
        self._closing = False

    def wake(self) -> None:
        """Something may wait to be sent. From the loop's own thread."""
        self._wanted.set()

    def wake_from_thread(self) -> None:
        """The same from any thread."""
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
        rounds: set[asyncio.Task[None]] = set()
        try:
            while self._wanted.is_set() or not self._closing:
                await self._wanted.wait()
                self._wanted.clear()
                rounds.add(asyncio.create_task(self._round()))
                done, rounds = await asyncio.wait(
                    rounds,
                    timeout=_PATIENCE_S if len(rounds) < _ROUNDS else None,
                    return_when=asyncio.FIRST_COMPLETED,
                )
                for each in done:
                    each.result()
            await asyncio.gather(*rounds)
        finally:
            for each in rounds:
                each.cancel()
            await asyncio.gather(*rounds, return_exceptions=True)

    async def _round(self) -> None:
        try:
            await self._deliver()
        except BadSettings:
            raise
        except Exception as error:  # noqa: BLE001 the next wake tries again
            _log.error("delivery_failed", error=type(error).__name__)
