"""Order within a chat, chats side by side."""

import asyncio

from bot.adapters.telegram.lanes import Lanes
from bot.ports import Chat, Inbound
from tests.bot.adapters.telegram.memory import AT


def inbound(chat_id: int, number: int) -> Inbound:
    return Inbound(Chat("telegram", chat_id), "telegram:1", number, "ok", False, AT)


async def test_lanes_flooding_chat_does_not_hold_up_another() -> None:
    order: list[int] = []

    async def work(each: Inbound) -> None:
        order.append(each.chat.chat_id)
        await asyncio.sleep(0)

    lanes = Lanes(work, at_once=1, room_for=100)
    for number in range(20):
        lanes.put(inbound(1, number))
    lanes.put(inbound(2, 99))
    await lanes.empty()
    # By hand: one slot, taken in turn, so the second chat comes second.
    assert order[:3] == [1, 2, 1]


async def test_lanes_full_make_the_fetching_wait() -> None:
    go_on = asyncio.Event()

    async def work(_: Inbound) -> None:
        await go_on.wait()

    lanes = Lanes(work, at_once=1, room_for=2)
    lanes.put(inbound(1, 1))
    await lanes.room()
    lanes.put(inbound(1, 2))
    waiting = asyncio.create_task(lanes.room())
    await asyncio.sleep(0)
    assert not waiting.done()
    go_on.set()
    await waiting


async def test_lanes_closed_finish_what_is_under_way_only() -> None:
    done: list[int] = []
    go_on = asyncio.Event()

    async def work(each: Inbound) -> None:
        await go_on.wait()
        done.append(each.update_id)

    lanes = Lanes(work, at_once=2, room_for=100)
    for number in (1, 2):
        lanes.put(inbound(1, number))
    await asyncio.sleep(0)
    closing = asyncio.create_task(lanes.close())
    await asyncio.sleep(0)
    go_on.set()
    await closing
    lanes.put(inbound(1, 3))
    await lanes.empty()
    assert done == [1]
