"""Order within a chat, chats side by side."""

import asyncio
from collections import deque
from collections.abc import Awaitable, Callable

from bot.ports import Chat, Inbound


class Lanes:
    """One queue per chat. A chat's messages are worked on one after the other.

    Whoever fills the lanes has kept the messages durably: what ``close`` leaves behind is
    found again after a restart.
    """

    def __init__(
        self, work: Callable[[Inbound], Awaitable[None]], *, at_once: int, room_for: int
    ) -> None:
        """Make empty lanes.

        Args:
            work: Handles one message; must not raise.
            at_once: How many chats are worked on at the same time, > 0.
            room_for: How many messages may wait before ``room`` waits too, > 0.
        """
        self._work = work
        self._slots = asyncio.Semaphore(at_once)
        self._room_for = room_for
        self._queues: dict[Chat, deque[Inbound]] = {}
        self._tasks: set[asyncio.Task[None]] = set()
        self._waiting = 0
        self._less = asyncio.Event()
        self._closed = False

    def put(self, inbound: Inbound) -> None:
        """Add to the end of its chat's lane."""
        if self._closed:
            return
        self._waiting += 1
        queue = self._queues.get(inbound.chat)
        if queue is not None:
            queue.append(inbound)
            return
        queue = self._queues[inbound.chat] = deque([inbound])
        task = asyncio.create_task(self._run(inbound.chat, queue))
        self._tasks.add(task)
        task.add_done_callback(self._tasks.discard)

    async def room(self) -> None:
        """Wait until the lanes hold fewer messages than there is room for."""
        while self._waiting >= self._room_for and not self._closed:
            self._less.clear()
            await self._less.wait()

    async def empty(self) -> None:
        """Wait until nothing waits and nothing is under way."""
        while self._tasks:
            await asyncio.wait(self._tasks)

    async def close(self) -> None:
        """Finish what is under way and take no more."""
        self._closed = True
        self._less.set()
        await self.empty()

    async def _run(self, chat: Chat, queue: deque[Inbound]) -> None:
        # A slot per message, not per lane: a chat that floods cannot hold it.
        while queue:
            async with self._slots:
                if self._closed:
                    break
                await self._work(queue.popleft())
            self._waiting -= 1
            self._less.set()
        del self._queues[chat]
