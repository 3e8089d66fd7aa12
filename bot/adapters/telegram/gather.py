"""Keeping together what arrives together: one commit for many."""

import asyncio
from collections.abc import Awaitable, Callable, Sequence
from typing import Any

Update = dict[str, Any]

_MOST = 100


class Gatherer:
    """While one batch is being kept, what arrives meanwhile becomes the next."""

    def __init__(self, take: Callable[[Sequence[Update]], Awaitable[None]]) -> None:
        self._take = take
        self._waiting: list[tuple[Update, asyncio.Future[None]]] = []
        self._working: asyncio.Task[None] | None = None

    async def take(self, update: Update) -> None:
        """Have it kept, alone or with others.

        Raises:
            Exception: The batch it was in could not be kept.
        """
        kept: asyncio.Future[None] = asyncio.get_running_loop().create_future()
        self._waiting.append((update, kept))
        if self._working is None or self._working.done():
            self._working = asyncio.create_task(self._work())
        await kept

    async def _work(self) -> None:
        while self._waiting:
            batch, self._waiting = self._waiting[:_MOST], self._waiting[_MOST:]
            try:
                await self._take(sorted((each for each, _ in batch), key=_number))
            except Exception as error:  # noqa: BLE001 each of them is told
                for _, kept in batch:
                    if not kept.done():
                        kept.set_exception(error)
            else:
                for _, kept in batch:
                    if not kept.done():
                        kept.set_result(None)


def _number(update: Update) -> int:
    return int(update["update_id"])
