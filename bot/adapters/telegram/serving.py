"""The life of the Telegram adapter: resume, receive, deliver, stop."""

import asyncio
import contextlib
import signal
import threading
from collections.abc import Awaitable, Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from typing import Any, Protocol

import structlog
from telegram import Bot

from bot.adapters.telegram.desk import Desk
from bot.adapters.telegram.hook import Hook, HookPlace
from bot.adapters.telegram.poller import Poller
from bot.adapters.telegram.pump import Pump
from bot.adapters.telegram.shift import Shift
from bot.clock import Clock
from bot.ports import Handler, Lease

_TICK_BATCH = 5  # then what was fired is sent: who rests does not wait for the others
_LAST_S = 1.0
_UNDER_WAY = 0.35  # the part of stopping in which nothing more is begun
_LOOK_EVERY_S = 10.0
_TICK_STALLS_S = 60.0
_OTHER_THREADS = 3  # keeping, looking for what is left, the lease: none waits for answering
_SIGNALS = (signal.SIGINT, signal.SIGTERM)
_log = structlog.get_logger(__name__)


@dataclass(frozen=True, slots=True)
class Parts:
    """What the adapter works with.

    Attributes:
        bot: The account.
        handler: The service.
        deliver: Sends what is queued and due; returns when nothing more can go now. Safe to
            run beside itself.
        start_ticking: Calls a function every so many seconds, in a thread; gives the stop.
        clock: Tells the moment.
        lease: The right to poll, where several processes share a database.
        hook: Where the service calls; None to poll.
    """

    bot: Bot = field(repr=False)
    handler: Handler
    deliver: Callable[[], Awaitable[object]]
    start_ticking: Callable[[Callable[[], None], float], Callable[[], None]]
    clock: Clock
    lease: Lease | None = None
    hook: HookPlace | None = None


@dataclass(frozen=True, slots=True)
class Timing:
    """How long things take, and how many at once.

    Attributes:
        poll_s: How long one poll waits for messages. [s], 0 to 50
        tick_s: How often planned moments are looked at. [s], > 0
        stop_s: How long stopping may take. [s], > 1
        at_once: How many chats are answered at the same time, > 0.
    """

    poll_s: int = 30
    tick_s: float = 1.0
    stop_s: float = 10.0
    at_once: int = 16


class Intake(Protocol):
    """A way in which messages come."""

    async def run(self) -> None: ...

    def trouble(self) -> str | None: ...


async def serve(parts: Parts, timing: Timing, *, stop: asyncio.Event | None = None) -> None:
    """Serve until SIGINT, SIGTERM or ``stop``; see ``Serving``."""
    await Serving(parts, timing).run(stop or asyncio.Event())


class Serving:
    """One process's service of one account. Make it where the event loop runs."""

    def __init__(self, parts: Parts, timing: Timing) -> None:
        self._parts = parts
        self._timing = timing
        self._threads = ThreadPoolExecutor(
            timing.at_once + _OTHER_THREADS, thread_name_prefix="handler"
        )
        self._pump = Pump(parts.deliver)
        self._desk = Desk(
            parts.bot,
            parts.handler,
            clock=parts.clock,
            threads=self._threads,
            at_once=timing.at_once,
            answered=self._pump.wake,
        )
        self._intake = self._make_intake()
        self._loop = asyncio.get_running_loop()
        self._ticked_at = self._loop.time()

    def trouble(self) -> str | None:
        """What is wrong with receiving or ticking just now; None when nothing is."""
        silent_s = self._loop.time() - self._ticked_at
        if silent_s > _TICK_STALLS_S + self._timing.tick_s:
            return f"planned moments were not looked at for {silent_s:.0f} s"
        return self._intake.trouble()

    async def run(self, stop: asyncio.Event) -> None:
        """Serve until SIGINT, SIGTERM or ``stop``; then finish what is under way and close.

        What was kept and not handled, or queued and not sent, is done by the next run, or by
        another process that serves the same account from the same database.

        Raises:
            BadSettings: The token is refused, or the address cannot be listened on.
        """
        try:
            with stopped_by_signals(stop):
                await self._run(stop)
        finally:
            self._threads.shutdown(wait=False, cancel_futures=True)
        _log.info("telegram_stopped")

    def _make_intake(self) -> Intake:
        parts = self._parts
        if parts.hook is not None:
            return Hook(parts.bot, take=self._desk.take, place=parts.hook)
        poller = Poller(parts.bot, take=self._desk.take, poll_s=self._timing.poll_s)
        if parts.lease is not None:
            return Shift(poller, parts.lease, in_thread=self._in_thread)
        return poller

    async def _in_thread(self, act: Callable[[], Any]) -> Any:
        return await self._loop.run_in_executor(self._threads, act)

    async def _run(self, stop: asyncio.Event) -> None:
        parts = self._parts
        stop_ticking = parts.start_ticking(self._tick(stop), self._timing.tick_s)
        await parts.bot.request.initialize()
        receiving = asyncio.create_task(self._receive())
        pumping = asyncio.create_task(self._pump.run())
        others = [asyncio.create_task(act) for act in (self._desk.sweep(), self._watch())]
        stopping = asyncio.create_task(stop.wait())
        try:
            await asyncio.wait((receiving, pumping, stopping), return_when=asyncio.FIRST_COMPLETED)
        finally:
            stop.set()
            end_at = self._loop.time() + self._timing.stop_s - _LAST_S
            ticking_ends = asyncio.create_task(asyncio.to_thread(stop_ticking))
            for task in (receiving, stopping, *others):
                task.cancel()
            await asyncio.wait((receiving, stopping, *others), timeout=self._timing.stop_s / 2)
            await self._wind_down(pumping, ticking_ends, end_at=end_at)
            # Closing ends what still hangs; only then is a cancelled delivery done.
            await parts.bot.shutdown()
            await parts.bot.request.shutdown()
            await asyncio.wait((pumping,), timeout=_LAST_S)
        for task in (receiving, pumping):
            if task.done() and not task.cancelled():
                task.result()

    async def _receive(self) -> None:
        """Let messages come in: called by the service at once, polling after what is left."""
        if self._parts.hook is None:
            await self._desk.resume()
            await self._intake.run()
        else:
            resuming = asyncio.create_task(self._desk.resume())
            try:
                await self._intake.run()
            finally:
                resuming.cancel()
                await asyncio.wait((resuming,))

    async def _watch(self) -> None:
        """Warn, until cancelled, while something is wrong."""
        while True:
            await asyncio.sleep(_LOOK_EVERY_S)
            if trouble := self.trouble():
                _log.warning("not_serving", why=trouble)

    def _tick(self, stop: asyncio.Event) -> Callable[[], None]:
        """What the ticker calls, in a thread: fire all that is due, then have it delivered."""
        handler = self._parts.handler

        def tick() -> None:
            try:
                while handler.tick(_TICK_BATCH) == _TICK_BATCH and not stop.is_set():
                    self._pump.wake_from_thread()
            except Exception as error:  # noqa: BLE001 the next tick tries again
                _log.error("tick_failed", error=type(error).__name__)
            self._ticked_at = self._loop.time()
            self._pump.wake_from_thread()

        return tick

    async def _wind_down(
        self, pumping: asyncio.Task[None], ticking_ends: asyncio.Task[None], *, end_at: float
    ) -> None:
        """End what is under way: answers and moments first, then a last round of sending."""
        try:
            async with asyncio.timeout_at(end_at - self._timing.stop_s * _UNDER_WAY):
                await self._desk.close()
                await asyncio.wait((ticking_ends,))
                self._pump.close()
                await asyncio.wait((pumping,))
        except TimeoutError:
            _log.warning("stopped_with_work_left")
            # It begins nothing more; what was begun may still be answered, or it is in doubt.
            pumping.cancel()
            left_s = end_at - asyncio.get_running_loop().time()
            await asyncio.wait((pumping,), timeout=max(0.0, left_s))


@contextlib.contextmanager
def stopped_by_signals(stop: asyncio.Event) -> Iterator[None]:
    """The first signal stops in order; the second one finds the usual handlers again.

    An event loop that takes no handlers, as on Windows, leaves signals as they are.
    """
    loop = asyncio.get_running_loop()

    def usual() -> None:
        for number in _SIGNALS:
            with contextlib.suppress(NotImplementedError):
                loop.remove_signal_handler(number)

    def first() -> None:
        stop.set()
        usual()

    if threading.current_thread() is threading.main_thread():
        for number in _SIGNALS:
            with contextlib.suppress(NotImplementedError):
                loop.add_signal_handler(number, first)
    try:
        yield
    finally:
        usual()
