"""What one process has under way with one service."""

import asyncio
from collections.abc import Callable, Coroutine
from datetime import UTC, datetime, timedelta
from typing import Any

from bot.delivery.pause import pause_s
from bot.ports import Parcel, Work

Mark = Callable[[Work, datetime], None]
"""Writes down what became of a message."""

_LONG_AGO = datetime(2000, 1, 1, tzinfo=UTC)
_TAKES_WITHIN = timedelta(seconds=60)


class Line:
    """Sends under way, marks not yet written, and how the service has been answering.

    Attributes:
        news: Set when there may be something to do.
        busy: True while a round is under way.
        sending: What is being sent, by the message's number.
        marks: What is to be written down, in order.
        sent: How many went well.
        trouble: What makes all further sending pointless.
        paused_until: Nothing is sent before. Aware, UTC.
    """

    def __init__(self) -> None:
        self.news = asyncio.Event()
        self.busy = False
        self.sending: dict[int, asyncio.Task[None]] = {}
        self.marks: list[Mark] = []
        self.sent = 0
        self.trouble: Exception | None = None
        self.paused_until = _LONG_AGO
        self._taken_at = _LONG_AGO
        self._failures = 0
        self._renewed_at = _LONG_AGO

    @property
    def is_idle(self) -> bool:
        """True when nothing is under way, to be written down, or announced."""
        return not (self.sending or self.marks or self.news.is_set())

    def begin(self, parcel: Parcel, send: Coroutine[Any, Any, None]) -> None:
        """Send it beside the others."""
        task = asyncio.create_task(send)
        self.sending[parcel.id] = task
        task.add_done_callback(lambda done: self._end(parcel.id, done))

    def _end(self, parcel_id: int, task: asyncio.Task[None]) -> None:
        del self.sending[parcel_id]
        if not task.cancelled() and (error := task.exception()) is not None:
            self.trouble = error if isinstance(error, Exception) else None
        self.news.set()

    async def wait(self, within_s: float | None) -> None:
        """Wait for news, or for that time. [s]; None for as long as it takes."""
        try:
            async with asyncio.timeout(within_s):
                await self.news.wait()
        except TimeoutError:
            return

    async def all_done(self) -> None:
        """Wait for what is under way."""
        await asyncio.gather(*self.sending.values(), return_exceptions=True)

    def renewal_due(self, now: datetime, *, every_s: float) -> bool:
        """True, once per ``every_s``, while leases are to be kept up. [s]"""
        if now - self._renewed_at < timedelta(seconds=every_s):
            return False
        self._renewed_at = now
        return True

    def is_paused(self, now: datetime) -> bool:
        """True while nothing is to be sent."""
        return now < self.paused_until

    def pause(self, until: datetime) -> None:
        """Send nothing before ``until``."""
        self.paused_until = max(self.paused_until, until)

    def went_well(self, now: datetime) -> None:
        """The service took a message."""
        self.sent += 1
        self._failures = 0
        self._taken_at = now

    def went_wrong(self, now: datetime, *, seed: int) -> None:
        """The service failed; those that fail together count as one."""
        if not self.is_paused(now):
            self._failures += 1
            self.pause(now + timedelta(seconds=pause_s(self._failures, seed=seed)))

    def takes_others(self, now: datetime) -> bool:
        """True when it took a message a short while ago."""
        return now - self._taken_at < _TAKES_WITHIN
