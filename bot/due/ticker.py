"""Calls one function every so often, never twice at once, and makes up for no missed call.

One job for all athletes: a job each costs memory, start-up time and a second truth
beside the table of planned moments.
"""

from collections.abc import Callable
from datetime import UTC

from apscheduler.schedulers.asyncio import AsyncIOScheduler  # type: ignore[import-untyped]
from apscheduler.schedulers.background import BackgroundScheduler  # type: ignore[import-untyped]
from apscheduler.schedulers.base import BaseScheduler  # type: ignore[import-untyped]
from apscheduler.triggers.interval import IntervalTrigger  # type: ignore[import-untyped]

TICK_S = 0.25
"""From one tick to the next. [s]"""


class Ticker:
    """A running tick. What the function raises is logged, and the next tick comes all the same."""

    def __init__(self, scheduler: BaseScheduler, act: Callable[[], object], every_s: float) -> None:
        self._scheduler = scheduler
        scheduler.add_job(
            act,
            IntervalTrigger(seconds=every_s, timezone=UTC),
            max_instances=1,
            coalesce=True,
            misfire_grace_time=None,
        )

    @classmethod
    def in_loop(cls, act: Callable[[], object], *, every_s: float = TICK_S) -> "Ticker":
        """A tick on the running event loop; ``act`` may be a coroutine function.

        A plain function runs in the loop's threads.
        """
        return cls(AsyncIOScheduler(timezone=UTC), act, every_s)

    @classmethod
    def in_thread(cls, act: Callable[[], object], *, every_s: float = TICK_S) -> "Ticker":
        """A tick in a thread of its own, for programs without an event loop."""
        return cls(BackgroundScheduler(timezone=UTC), act, every_s)

    def start(self) -> None:
        """Tick from now on."""
        self._scheduler.start()

    def stop(self) -> None:
        """No further ticks; in a thread, waits for the one under way."""
        self._scheduler.shutdown()
