"""Keeping together what arrives together."""

import asyncio
from collections.abc import Sequence
from typing import Any

import pytest

from bot.adapters.telegram.gather import Gatherer


async def test_take_what_arrives_meanwhile_is_the_next_batch_in_order_of_numbers() -> None:
    batches: list[list[int]] = []
    go_on = asyncio.Event()

    async def take(batch: Sequence[dict[str, Any]]) -> None:
        batches.append([each["update_id"] for each in batch])
        await go_on.wait()

    gatherer = Gatherer(take)
    tasks = [asyncio.create_task(gatherer.take({"update_id": 1}))]
    await asyncio.sleep(0)
    await asyncio.sleep(0)
    tasks += [asyncio.create_task(gatherer.take({"update_id": n})) for n in (4, 2, 3)]
    await asyncio.sleep(0)
    assert not any(task.done() for task in tasks)
    go_on.set()
    await asyncio.gather(*tasks)
    assert batches == [[1], [2, 3, 4]]


async def test_take_batch_that_could_not_be_kept_is_told_to_each_of_it() -> None:
    async def take(batch: Sequence[dict[str, Any]]) -> None:
        await asyncio.sleep(0)
        if any(each["update_id"] == 3 for each in batch):
            raise OSError("disk full")

    gatherer = Gatherer(take)
    tasks = [asyncio.create_task(gatherer.take({"update_id": n})) for n in (1, 2, 3)]
    results = await asyncio.gather(*tasks, return_exceptions=True)
    assert results[0] is None or isinstance(results[0], OSError)
    assert isinstance(results[2], OSError)
    await gatherer.take({"update_id": 4})
    with pytest.raises(OSError, match="disk full"):
        await gatherer.take({"update_id": 3})
