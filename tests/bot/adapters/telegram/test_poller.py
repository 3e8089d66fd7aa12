"""Fetching, seen from the poller alone."""

import asyncio
from collections.abc import Sequence
from typing import Any

from structlog.testing import capture_logs

from bot.adapters.telegram import open_account
from bot.adapters.telegram.poller import Poller
from tests.double import faults
from tests.double.bot_api import BotApiDouble


async def test_watch_polls_left_unanswered_are_warned_of(double: BotApiDouble) -> None:
    async def take(_: Sequence[dict[str, Any]]) -> None: ...

    double.fail("getUpdates", faults.hang(after_effect=False))
    bot = open_account(double.token, api_url=double.api_url)
    poller = Poller(bot, take=take, poll_s=1, stall_s=0.05)
    tasks = [asyncio.create_task(act) for act in (poller.run(), poller.watch())]
    with capture_logs() as logs:
        async with asyncio.timeout(5):
            while not any(line["event"] == "polls_unanswered" for line in logs):
                await asyncio.sleep(0.05)
    assert poller.silent_for_s() > 1
    for task in tasks:
        task.cancel()
    await asyncio.wait(tasks)
    await bot.shutdown()


async def test_once_offset_moves_only_past_what_was_taken(double: BotApiDouble) -> None:
    taken: list[int] = []

    async def take(batch: Sequence[dict[str, Any]]) -> None:
        taken.extend(update["update_id"] for update in batch)

    first = double.types(7, "a")
    bot = open_account(double.token, api_url=double.api_url)
    poller = Poller(bot, take=take, poll_s=1)
    await poller.once()
    second = double.types(7, "b")
    assert not double.confirmed(first)
    await poller.once()
    assert double.confirmed(first)
    assert not double.confirmed(second)
    assert taken == [first, second]
    await bot.shutdown()
