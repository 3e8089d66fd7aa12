"""Fetching, seen from the poller alone."""

import asyncio
from collections.abc import Sequence
from typing import Any

from bot.adapters.telegram import open_account
from bot.adapters.telegram.poller import Poller
from bot.errors import StoreAway
from tests.double import faults
from tests.double.bot_api import BotApiDouble


async def test_trouble_until_a_poll_goes_well_and_again_when_they_stop_doing_so(
    double: BotApiDouble,
) -> None:
    async def take(_: Sequence[dict[str, Any]]) -> None: ...

    bot = open_account(double.token, api_url=double.api_url)
    poller = Poller(bot, take=take, poll_s=1, stall_s=0.05)
    assert poller.trouble() is not None
    await poller.once()
    assert poller.trouble() is None
    double.fail("getUpdates", faults.hang(after_effect=False))
    polling = asyncio.create_task(poller.once())
    async with asyncio.timeout(10):
        while poller.trouble() is None:
            await asyncio.sleep(0.05)
    assert poller.idle_for_s() > 1
    polling.cancel()
    await asyncio.wait((polling,))
    await bot.shutdown()


async def test_trouble_when_polls_are_answered_but_not_kept(double: BotApiDouble) -> None:
    async def take(_: Sequence[dict[str, Any]]) -> None:
        raise StoreAway("made to fail")

    bot = open_account(double.token, api_url=double.api_url)
    poller = Poller(bot, take=take, poll_s=1, stall_s=0.0)
    await poller.once()
    double.types(7, "crimp 4x22kg ok")
    running = asyncio.create_task(poller.run())
    async with asyncio.timeout(10):
        while "no poll went well" not in (poller.trouble() or ""):
            await asyncio.sleep(0.05)
    running.cancel()
    await asyncio.wait((running,))
    await bot.shutdown()


async def test_run_webhook_set_by_somebody_is_left_again(double: BotApiDouble) -> None:
    taken: list[int] = []

    async def take(batch: Sequence[dict[str, Any]]) -> None:
        taken.extend(update["update_id"] for update in batch)

    bot = open_account(double.token, api_url=double.api_url)
    poller = Poller(bot, take=take, poll_s=1)
    await poller.once()
    double.hook("https://elsewhere.invalid/hook")
    running = asyncio.create_task(poller.run())
    number = double.types(7, "crimp 4x22kg ok")
    await double.until_async(lambda: double.confirmed(number), timeout=20)
    assert taken == [number]
    running.cancel()
    await asyncio.wait((running,))
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
