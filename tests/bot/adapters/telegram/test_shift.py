"""Polling by one process at a time."""

import asyncio
import contextlib
from collections.abc import AsyncIterator, Callable, Sequence
from contextlib import asynccontextmanager
from typing import Any

from bot.adapters.telegram import open_account
from bot.adapters.telegram.poller import Poller
from bot.adapters.telegram.shift import Shift
from bot.errors import StoreAway
from tests.double.bot_api import BotApiDouble


class OneLease:
    """A lease in memory: whoever is named holds it."""

    def __init__(self) -> None:
        self.holder: str | None = None
        self.away = False

    def of(self, name: str) -> "Share":
        return Share(self, name)


class Share:
    def __init__(self, lease: OneLease, name: str) -> None:
        self.lease, self.name = lease, name

    def take(self) -> bool:
        if self.lease.away:
            raise StoreAway("made to fail")
        self.lease.holder = self.lease.holder or self.name
        return self.lease.holder == self.name

    def give_back(self) -> None:
        if self.lease.holder == self.name:
            self.lease.holder = None


async def at_once(act: Callable[[], object]) -> object:
    return act()


@asynccontextmanager
async def shift(double: BotApiDouble, share: Share, taken: list[int]) -> AsyncIterator[Shift]:
    async def take(batch: Sequence[dict[str, Any]]) -> None:
        taken.extend(update["update_id"] for update in batch)

    bot = open_account(double.token, api_url=double.api_url)
    poller = Poller(bot, take=take, poll_s=5)
    running = Shift(poller, share, in_thread=at_once, ask_every_s=0.05)
    task = asyncio.create_task(running.run())
    yield running
    task.cancel()
    await asyncio.wait((task,))
    await bot.shutdown()


async def test_run_only_the_holder_polls_and_the_next_one_when_it_stops(
    double: BotApiDouble,
) -> None:
    lease, taken_a, taken_b = OneLease(), list[int](), list[int]()
    async with contextlib.AsyncExitStack() as stack:
        async with shift(double, lease.of("a"), taken_a):
            first = double.types(7, "one")
            await double.until_async(lambda: double.confirmed(first))
            waiting = await stack.enter_async_context(shift(double, lease.of("b"), taken_b))
            second = double.types(7, "two")
            await double.until_async(lambda: double.confirmed(second))
            assert waiting.trouble() is None  # it does what it is there for
        third = double.types(7, "three")
        await double.until_async(lambda: double.confirmed(third), timeout=20)
    assert (taken_a, taken_b) == ([first, second], [third])
    assert lease.holder is None


async def test_run_lease_lost_to_another_ends_polling(double: BotApiDouble) -> None:
    lease, taken = OneLease(), list[int]()
    async with shift(double, lease.of("a"), taken):
        first = double.types(7, "one")
        await double.until_async(lambda: double.confirmed(first))
        lease.holder = "b"
        await asyncio.sleep(1)
        second = double.types(7, "two")
        await asyncio.sleep(0.5)
        assert not double.confirmed(second)
    assert taken == [first]
    assert lease.holder == "b"


async def test_run_lease_that_cannot_be_asked_for_is_held_on_to_for_a_while(
    double: BotApiDouble,
) -> None:
    lease, taken = OneLease(), list[int]()
    async with shift(double, lease.of("a"), taken):
        first = double.types(7, "one")
        await double.until_async(lambda: double.confirmed(first))
        lease.away = True
        await asyncio.sleep(0.3)
        second = double.types(7, "two")
        await double.until_async(lambda: double.confirmed(second))
    assert taken == [first, second]
