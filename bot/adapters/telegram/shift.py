"""Polling by one process at a time: whoever holds the lease."""

import asyncio
import contextlib
from collections.abc import Awaitable, Callable

import structlog

from bot.adapters.telegram.poller import Poller
from bot.ports import Lease

ASK_EVERY_S = 4.0
"""How often the lease is asked for, or for longer. [s]"""

TRUSTED_S = 12.0
"""How long polling goes on after the last yes: less than the lease lasts. [s]"""

_ASK_S = 3.0
_log = structlog.get_logger(__name__)


class Shift:
    """Polls while this process holds the right to, and asks for it while another does."""

    def __init__(
        self,
        poller: Poller,
        lease: Lease,
        *,
        in_thread: Callable[[Callable[[], object]], Awaitable[object]],
        ask_every_s: float = ASK_EVERY_S,
    ) -> None:
        self._poller = poller
        self._lease = lease
        self._in_thread = in_thread
        self._ask_every_s = ask_every_s
        self._polling: asyncio.Task[None] | None = None
        self._trusted_until = float("-inf")

    def trouble(self) -> str | None:
        """What keeps messages from coming in, as far as that is up to this process."""
        return self._poller.trouble() if self._polling is not None else None

    async def run(self) -> None:
        """Poll, or wait to, until cancelled; then let the next one.

        Raises:
            BadSettings: The token is refused.
        """
        try:
            while True:
                await self._begin_or_end(is_mine=await self._is_mine())
                if self._polling is None:
                    await asyncio.sleep(self._ask_every_s)
                    continue
                await asyncio.wait((self._polling,), timeout=self._ask_every_s)
                if self._polling.done():
                    self._polling.result()
        finally:
            had_it = self._polling is not None
            await self._begin_or_end(is_mine=False)
            if had_it:
                with contextlib.suppress(Exception):  # it runs out by itself
                    async with asyncio.timeout(_ASK_S):
                        await self._in_thread(self._lease.give_back)

    async def _is_mine(self) -> bool:
        loop = asyncio.get_running_loop()
        asked_at = loop.time()
        try:
            async with asyncio.timeout(_ASK_S):
                is_mine = bool(await self._in_thread(self._lease.take))
        except Exception as error:  # noqa: BLE001 not knowing is not losing, for a while
            _log.warning("lease_not_asked_for", error=type(error).__name__)
            return loop.time() < self._trusted_until
        self._trusted_until = asked_at + TRUSTED_S if is_mine else float("-inf")
        return is_mine

    async def _begin_or_end(self, *, is_mine: bool) -> None:
        if is_mine and self._polling is None:
            _log.info("polling_begun")
            self._polling = asyncio.create_task(self._poller.run())
        elif not is_mine and self._polling is not None:
            polling, self._polling = self._polling, None
            polling.cancel()
            await asyncio.wait((polling,))
            _log.info("polling_ended")
