"""Answers to slow questions, asked again only when they are old."""

import asyncio
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Generic, TypeVar

T = TypeVar("T")


class Fresh(Generic[T]):
    """The answer to one question: however many want it, it is asked once at a time.

    Args:
        ask: The question; it blocks, so it runs in a thread of its own.
        keep_s: How old an answer may be. [s], >= 0
        patience_s: How long to wait for one. [s], > 0
    """

    def __init__(self, ask: Callable[[], T], *, keep_s: float, patience_s: float) -> None:
        self._ask = ask
        self._keep_s = keep_s
        self._patience_s = patience_s
        self._thread = ThreadPoolExecutor(1, thread_name_prefix="health")
        self._asked: asyncio.Future[T] | None = None
        self._old_at = 0.0

    async def get(self) -> T:
        """The answer.

        Raises:
            TimeoutError: None came in time; the question stays asked.
            Exception: What the question raised.
        """
        loop = asyncio.get_running_loop()
        if self._asked is None or (self._asked.done() and loop.time() >= self._old_at):
            self._asked = loop.run_in_executor(self._thread, self._ask)
            self._old_at = loop.time() + self._keep_s
        async with asyncio.timeout(self._patience_s):
            return await asyncio.shield(self._asked)

    def close(self) -> None:
        """Ask no more."""
        self._thread.shutdown(wait=False, cancel_futures=True)
