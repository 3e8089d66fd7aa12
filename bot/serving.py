"""``weeknight serve``: waits for its database, says how it is doing, serves, and stops in time."""

import asyncio
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import (
    AbstractContextManager,
    AsyncExitStack,
    ExitStack,
    asynccontextmanager,
    contextmanager,
)
from functools import partial

import structlog
from sqlalchemy import Engine

from bot.adapters.telegram import (
    HookPlace,
    Parts,
    Serving,
    TelegramChannel,
    Timing,
    open_account,
    stopped_by_signals,
)
from bot.clock import SystemClock
from bot.counting import Counting
from bot.delivery.courier import Courier
from bot.delivery.limits import CHAT_BURST
from bot.errors import BadSettings, StoreAway
from bot.heartbeat import Heartbeat
from bot.listening import listening
from bot.ports import Lease, SendLimits
from bot.settings import Settings, listen_address
from bot.storage.engine import Bounds
from bot.storage.lease import POLLING, SqlLease, only_one
from bot.storage.migrate import pending
from bot.storage.overview import queue_state
from bot.storage.trouble import passing_troubles
from bot.wiring import House, open_house, ticking
from core.programme import Programme

STOP_S = 8.5
"""How long what is under way may take when the program is told to stop. [s]"""

_LONGEST_WAIT_S = 5.0
_log = structlog.get_logger(__name__)


class Unwatched:
    """Where nobody asks how the program is doing."""

    counting: Counting | None = None

    def watch_house(self, house: House) -> None: ...

    def watch(self, trouble: Callable[[], str | None]) -> None: ...


class Watched:
    """Answers those who ask: see ``bot.health``."""

    def __init__(self) -> None:
        from bot.health.metrics import Metrics
        from bot.health.server import Health

        self._clock = SystemClock()
        self.counting: Counting | None = (metrics := Metrics())
        self.health = Health(metrics, self._clock.now)
        self.watch = self.health.watch

    def watch_house(self, house: House) -> None:
        """From now on the database is there."""
        self.health.watch_database(
            trouble=partial(_trouble_of, house),
            queues=lambda: queue_state(house.engine, now=self._clock.now()),
        )


def _trouble_of(house: House) -> str | None:
    try:
        with passing_troubles():
            lacking = pending(house.engine)
    except BadSettings as error:  # a newer program has been here
        return str(error)
    return f"the database lacks {', '.join(lacking)}" if lacking else None


async def serve_on(
    url: str,
    settings: Settings,
    *,
    programme: Programme | None = None,
    loaded: Callable[[], None] = lambda: None,
    stop: asyncio.Event | None = None,
    stopping: Callable[[], None] = lambda: None,
) -> None:
    """Serve from the database at that address until SIGINT, SIGTERM or ``stop``.

    Args:
        url: The database. If it is a PostgreSQL server that is not there, it is waited for.
        settings: All else.
        programme: What the athletes' evenings are made of; None for the default one.
        loaded: Called once when everything is loaded that serving needs.
        stop: Set when stopping begins, or to make it begin.
        stopping: Called when stopping begins.

    Raises:
        BadSettings: A setting is missing or wrong.
    """
    stop = stop or asyncio.Event()
    heart = Heartbeat(settings.notify_socket, settings.watchdog_usec)

    async def tell() -> None:
        await stop.wait()
        heart.say("STOPPING=1")
        stopping()

    beside = (asyncio.create_task(heart.beat()), asyncio.create_task(tell()))
    try:
        await _serve(url, settings, programme=programme, loaded=loaded, stop=stop)
    finally:
        for task in beside:
            task.cancel()


async def _serve(
    url: str,
    settings: Settings,
    *,
    programme: Programme | None,
    loaded: Callable[[], None],
    stop: asyncio.Event,
) -> None:
    bounds = Bounds(
        connections=settings.database_connections,
        statement_s=settings.database_statement_s,
        lock_s=settings.database_lock_s,
    )
    async with _watching(settings) as watched:
        opening = partial(
            open_house, url, programme=programme, counting=watched.counting, bounds=bounds
        )
        with ExitStack() as rooms:
            house = await _opened(partial(_enter, rooms, opening), stop)
            if house is None:
                return
            watched.watch_house(house)
            loaded()
            await serve_telegram(
                house,
                settings,
                stop=stop,
                stop_s=STOP_S,
                counting=watched.counting,
                watch=watched.watch,
            )


@asynccontextmanager
async def _watching(settings: Settings) -> AsyncIterator[Watched | Unwatched]:
    if settings.health_listen is None:
        yield Unwatched()
        return
    watched = Watched()
    address = listen_address(settings.health_listen)
    async with AsyncExitStack() as stack:
        stack.callback(watched.health.close)
        app = watched.health.app()
        await stack.enter_async_context(listening(app, address, setting="WEEKNIGHT_HEALTH_LISTEN"))
        yield watched


def _enter(rooms: ExitStack, opening: Callable[[], AbstractContextManager[House]]) -> House:
    return rooms.enter_context(opening())


async def _opened(enter: Callable[[], House], stop: asyncio.Event) -> House | None:
    """The house, once its database is there; None if stopping came first."""
    wait_s = 0.5
    with stopped_by_signals(stop):
        while not stop.is_set():
            try:
                return await asyncio.to_thread(enter)
            except StoreAway as error:
                wait_s = min(2 * wait_s, _LONGEST_WAIT_S)
                _log.warning("database_awaited", why=str(error), wait_s=wait_s)
            try:
                async with asyncio.timeout(wait_s):
                    await stop.wait()
            except TimeoutError:
                continue
    return None


async def serve_telegram(
    house: House,
    settings: Settings,
    *,
    stop: asyncio.Event | None = None,
    stop_s: float = 10.0,
    counting: Counting | None = None,
    watch: Callable[[Callable[[], str | None]], None] = lambda _: None,
) -> None:
    """Serve Telegram until a signal, or ``stop``, says so.

    Args:
        house: The joined parts.
        settings: The token, where messages come from, limits and times.
        stop: Set when stopping begins, or to make it begin.
        stop_s: How long stopping may take. [s]
        counting: Counts what becomes of messages.
        watch: Is told whom to ask what is wrong with serving.

    Raises:
        BadSettings: There is no token, or the service refuses it; or another process serves
            from the same SQLite file.
    """
    account = open_account(
        settings.resolved_token(), api_url=settings.api_url, answer_s=settings.answer_s
    )
    channels = {"telegram": TelegramChannel(account)}
    limits = SendLimits(settings.sends_per_s, settings.chat_sends_per_s, CHAT_BURST)
    courier = Courier(
        house.store,
        channels,
        house.clock,
        limits=limits,
        lease_s=settings.lease_s,
        counting=counting,
    )

    async def deliver() -> int:
        return await courier.deliver("telegram")

    parts = Parts(
        bot=account,
        handler=house.service,
        deliver=deliver,
        start_ticking=ticking(house),
        clock=house.clock,
        lease=_right_to_poll(house.engine),
        hook=_hook_of(settings),
    )
    timing = Timing(poll_s=settings.poll_s, tick_s=settings.tick_s, stop_s=stop_s)
    with _alone_on_a_file(house):
        serving = Serving(parts, timing)
        watch(serving.trouble)
        await serving.run(stop or asyncio.Event())


def _right_to_poll(engine: Engine) -> Lease | None:
    return SqlLease(engine, POLLING) if engine.dialect.name == "postgresql" else None


def _hook_of(settings: Settings) -> HookPlace | None:
    if settings.webhook_url is None:
        return None
    return HookPlace(settings.webhook_url, listen_address(settings.webhook_listen))


@contextmanager
def _alone_on_a_file(house: House) -> Iterator[None]:
    """SQLite takes one process: what an earlier one held is free again."""
    if house.engine.dialect.name != "sqlite":
        yield
        return
    with only_one(house.engine):
        house.service.resume("telegram")
        yield
