"""The life of the Telegram adapter: resume, poll, deliver, stop."""

import asyncio
import contextlib
import signal
import threading
from collections.abc import Awaitable, Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

import structlog
from telegram import Bot

from bot.adapters.telegram.desk import Desk
from bot.adapters.telegram.poller import Poller
from bot.adapters.telegram.pump import Pump
from bot.clock import Clock
from bot.ports import Handler

_TICK_BATCH = 100
_LAST_S = 1.0
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
    """

    bot: Bot = field(repr=False)
    handler: Handler
    deliver: Callable[[], Awaitable[object]]
    start_ticking: Callable[[Callable[[], None], float], Callable[[], None]]
    clock: Clock


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
    at_once: int = 4


async def serve(parts: Parts, timing: Timing, *, stop: asyncio.Event | None = None) -> None:
    """Serve until SIGINT, SIGTERM or ``stop``; then finish what is under way and close.

    What was kept and not handled, or queued and not sent, is done by the next run.

    Raises:
        BadSettings: The token is refused.
    """
    stop = stop or asyncio.Event()
    # One more than answer at once, so that keeping never waits for answering.
    threads = ThreadPoolExecutor(timing.at_once + 1, thread_name_prefix="handler")
    pump = Pump(parts.deliver)
    desk = Desk(
        parts.bot,
        parts.handler,
        clock=parts.clock,
        threads=threads,
        at_once=timing.at_once,
        answered=pump.wake,
    )
    poller = Poller(parts.bot, take=desk.take, poll_s=timing.poll_s)
    try:
        with _stopped_by_signals(stop):
            await _run(parts, timing, poller=poller, desk=desk, pump=pump, stop=stop)
    finally:
        threads.shutdown(wait=False, cancel_futures=True)
    _log.info("telegram_stopped")


async def _run(
    parts: Parts, timing: Timing, *, poller: Poller, desk: Desk, pump: Pump, stop: asyncio.Event
) -> None:
    async def receive() -> None:
        await desk.resume()
        await poller.run()

    stop_ticking = parts.start_ticking(_tick(parts.handler, pump, stop), timing.tick_s)
    await parts.bot.request.initialize()
    receiving = asyncio.create_task(receive())
    pumping = asyncio.create_task(pump.run())
    watching = asyncio.create_task(poller.watch())
    stopping = asyncio.create_task(stop.wait())
    try:
        await asyncio.wait((receiving, pumping, stopping), return_when=asyncio.FIRST_COMPLETED)
    finally:
        stop.set()
        stop_ticking()
        for task in (receiving, watching, stopping):
            task.cancel()
        await asyncio.wait((receiving, watching, stopping))
        await _wind_down(desk, pump, pumping, within_s=timing.stop_s - _LAST_S)
        # Closing ends what still hangs; only then is a cancelled delivery done.
        await parts.bot.shutdown()
        await parts.bot.request.shutdown()
        await asyncio.wait((pumping,), timeout=_LAST_S)
    for task in (receiving, pumping):
        if task.done() and not task.cancelled():
            task.result()


def _tick(handler: Handler, pump: Pump, stop: asyncio.Event) -> Callable[[], None]:
    """What the ticker calls, in a thread: fire all that is due, then have it delivered."""

    def tick() -> None:
        try:
            while handler.tick(_TICK_BATCH) == _TICK_BATCH and not stop.is_set():
                pump.wake_from_thread()
        except Exception as error:  # noqa: BLE001 the next tick tries again
            _log.error("tick_failed", error=type(error).__name__)
        pump.wake_from_thread()

    return tick


async def _wind_down(
    desk: Desk, pump: Pump, pumping: asyncio.Task[None], *, within_s: float
) -> None:
    """End what is under way: answers first, then a last round of sending."""
    try:
        async with asyncio.timeout(within_s):
            await desk.close()
            pump.close()
            await asyncio.wait((pumping,))
    except TimeoutError:
        _log.warning("stopped_with_work_left")
        pumping.cancel()


@contextlib.contextmanager
def _stopped_by_signals(stop: asyncio.Event) -> Iterator[None]:
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
