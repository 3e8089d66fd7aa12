"""A service held in memory, and a way to run the adapter with it."""

import asyncio
import contextlib
import socket
import threading
from collections import defaultdict, deque
from collections.abc import AsyncIterator, Callable, Sequence
from contextlib import asynccontextmanager
from datetime import UTC, datetime

from telegram import Bot

from bot.adapters.telegram import (
    HookPlace,
    Parts,
    TelegramChannel,
    Timing,
    open_account,
    serve,
)
from bot.clock import SystemClock
from bot.errors import ChatGone, MaybeSent, NeverSendable, RetryLater
from bot.ports import Button, Chat, Inbound, Outgoing, Parcel
from tests.double.bot_api import BotApiDouble

AT = datetime(2026, 12, 1, 19, 0, tzinfo=UTC)


def parcel(
    text: str, *, chat_id: int = 7, buttons: tuple[Button, ...] = (), number: int = 1
) -> Parcel:
    return Parcel(number, Chat("telegram", chat_id), Outgoing("answer", text, buttons), 0, AT)


class MemoryService:
    """A ``Handler`` that echoes. It outlives the adapter's runs as a database would."""

    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.kept: dict[tuple[str, int], Inbound] = {}
        self.open: dict[tuple[str, int], Inbound] = {}
        self.handled: list[Inbound] = []
        self.left: list[Chat] = []
        self.ticks = 0
        self.outbox: dict[Chat, deque[Parcel]] = defaultdict(deque)
        self.sending: set[Chat] = set()
        self.before_keep: Callable[[Sequence[Inbound]], None] = lambda _: None
        self.before_handle: Callable[[Inbound], None] = lambda _: None
        self.buttons: tuple[Button, ...] = ()

    def keep(self, inbounds: Sequence[Inbound]) -> tuple[Inbound, ...]:
        self.before_keep(inbounds)
        fresh = []
        with self.lock:
            for inbound in inbounds:
                key = (inbound.source, inbound.update_id)
                if key not in self.kept:
                    self.kept[key] = self.open[key] = inbound
                    fresh.append(inbound)
        return tuple(fresh)

    def waiting(self) -> tuple[Inbound, ...]:
        with self.lock:
            return tuple(self.open.values())

    def handle(self, inbound: Inbound) -> None:
        try:
            self.before_handle(inbound)
        except ZeroDivisionError:
            self._mark(inbound)
            raise
        self._mark(inbound)
        with self.lock:
            self.handled.append(inbound)
            answer = Outgoing("answer", f"got {inbound.text}", self.buttons)
            number = len(self.handled)
            self.outbox[inbound.chat].append(Parcel(number, inbound.chat, answer, 0, AT))

    def _mark(self, inbound: Inbound) -> None:
        with self.lock:
            self.open.pop((inbound.source, inbound.update_id), None)

    def gone(self, chat: Chat) -> None:
        self.left.append(chat)

    def tick(self, limit: int = 100) -> int:
        self.ticks += 1
        return 0

    def texts(self, chat_id: int) -> list[str]:
        with self.lock:
            return [each.text for each in self.handled if each.chat.chat_id == chat_id]

    async def deliver(self, channel: TelegramChannel) -> None:
        """Send what is queued, in order per chat; cancelled, finish what was begun."""
        chats = [chat for chat in self.outbox if chat not in self.sending]
        self.sending.update(chats)
        tasks = [asyncio.create_task(self._empty(chat, channel)) for chat in chats]
        try:
            await asyncio.shield(asyncio.gather(*tasks))
        finally:
            await asyncio.gather(*tasks, return_exceptions=True)

    async def _empty(self, chat: Chat, channel: TelegramChannel) -> None:
        queue = self.outbox[chat]
        try:
            while queue:
                with contextlib.suppress(ChatGone, NeverSendable, MaybeSent):
                    await channel.send(queue[0])
                queue.popleft()
        except RetryLater:
            return
        finally:
            self.sending.discard(chat)


def free_port() -> int:
    """A port on loopback that nobody listens on just now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def tick_in_thread(act: Callable[[], None], seconds: float) -> Callable[[], None]:
    ended = threading.Event()

    def run() -> None:
        while not ended.wait(seconds):
            act()

    thread = threading.Thread(target=run, daemon=True)
    thread.start()

    def stop() -> None:
        ended.set()
        thread.join()

    return stop


def parts_of(bot: Bot, service: MemoryService, *, hook: HookPlace | None = None) -> Parts:
    """The adapter's parts around the service in memory."""
    channel = TelegramChannel(bot)
    return Parts(
        bot=bot,
        handler=service,
        deliver=lambda: service.deliver(channel),
        start_ticking=tick_in_thread,
        clock=SystemClock(),
        hook=hook,
    )


@asynccontextmanager
async def serving(
    double: BotApiDouble,
    service: MemoryService,
    *,
    poll_s: int = 5,
    stop_s: float = 5.0,
    hook: HookPlace | None = None,
) -> AsyncIterator[asyncio.Task[None]]:
    """The adapter, running until the block ends; its own error comes out of the block."""
    stop = asyncio.Event()
    bot = open_account(double.token, api_url=double.api_url)
    parts = parts_of(bot, service, hook=hook)
    timing = Timing(poll_s=poll_s, tick_s=0.1, stop_s=stop_s)
    task = asyncio.create_task(serve(parts, timing, stop=stop))
    try:
        yield task
    finally:
        stop.set()
        await asyncio.wait((task,))
    if not task.cancelled():
        task.result()
