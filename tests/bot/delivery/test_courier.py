"""What becomes of messages when the chat service takes, refuses or keeps silent."""

import asyncio
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from bot.clock import HandClock
from bot.delivery.budget import SendBudget
from bot.delivery.courier import DOUBT_PAUSE_S, LEASE_S, Courier
from bot.errors import BotError, ChatGone, MaybeSent, NeverSendable, RetryLater
from bot.ports import Chat, MessageKind, Outgoing, Parcel
from bot.storage import SqlStore

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)
REPEATABLE: tuple[MessageKind, ...] = ("answer", "question", "timer")
NOT_REPEATABLE: tuple[MessageKind, ...] = ("reminder", "follow-up", "digest")


class ScriptedChannel:
    """Takes messages, raising the troubles it was given for a text, in turn."""

    def __init__(self) -> None:
        self.tried: list[str] = []
        self.taken: list[str] = []
        self.troubles: dict[str, list[BotError]] = {}
        self.most_at_once = 0
        self._at_once = 0

    async def send(self, parcel: Parcel) -> int | None:
        self._at_once += 1
        self.most_at_once = max(self.most_at_once, self._at_once)
        await asyncio.sleep(0)
        self._at_once -= 1
        self.tried.append(parcel.message.text)
        if troubles := self.troubles.get(parcel.message.text):
            raise troubles.pop(0)
        self.taken.append(parcel.message.text)
        return len(self.taken)


@pytest.fixture
def clock() -> HandClock:
    return HandClock(NOW)


@pytest.fixture
def channel() -> ScriptedChannel:
    return ScriptedChannel()


@pytest.fixture
def courier(store: SqlStore, channel: ScriptedChannel, clock: HandClock) -> Courier:
    # A budget of its own, so fast that no test waits; budgets are tested apart.
    budget = SendBudget(overall_per_s=1e6, chat_per_s=1e6)
    return Courier(store, {"telegram": channel}, clock, budget=budget)


@pytest.fixture
def queue(store: SqlStore) -> Callable[..., None]:
    def put(chat_id: int, *texts: str, kind: MessageKind = "answer", adapter: str = "telegram"):
        chat = Chat(adapter, chat_id)
        with store.work() as work:
            loaded = work.load(chat) or work.open(chat, at=NOW)
            work.queue(loaded.athlete_id, [Outgoing(kind, text) for text in texts], at=NOW)

    return put


def waiting(store: SqlStore) -> int:
    with store.read() as work:
        return work.counts()["outbox"]


async def test_deliver_sends_all_in_order_within_each_chat(courier, channel, queue, store) -> None:
    for chat_id in range(5):
        queue(chat_id, f"{chat_id} a", f"{chat_id} b", f"{chat_id} c")
    queue(9, "elsewhere", adapter="terminal")
    assert await courier.deliver("telegram") == 15
    for chat_id in range(5):
        mine = [text for text in channel.taken if text.startswith(f"{chat_id} ")]
        assert mine == [f"{chat_id} a", f"{chat_id} b", f"{chat_id} c"]
    assert waiting(store) == 1
    assert await courier.deliver("telegram") == 0
    assert len(channel.tried) == 15


async def test_deliver_chats_do_not_wait_for_each_other(courier, channel, queue) -> None:
    for chat_id in range(5):
        queue(chat_id, "hello")
    await courier.deliver("telegram")
    assert channel.most_at_once > 1


async def test_deliver_retry_later_halts_the_round_and_sends_after_the_wait(
    courier, channel, clock, queue, store
) -> None:
    queue(1, "first")
    channel.troubles["first"] = [RetryLater(30, "too many")]
    assert await courier.deliver("telegram") == 0
    queue(2, "second")
    clock.set(NOW + timedelta(seconds=29))
    assert await courier.deliver("telegram") == 0
    assert channel.tried == ["first"]
    clock.set(NOW + timedelta(seconds=30))
    assert await courier.deliver("telegram") == 2
    assert sorted(channel.taken) == ["first", "second"]
    assert waiting(store) == 0


async def test_deliver_retry_later_holds_back_what_was_already_claimed(
    courier, channel, clock, queue
) -> None:
    # Four share one turn at a time: three are claimed and wait when the first is refused.
    for chat_id in range(4):
        queue(chat_id, "hello", kind="reminder")
    channel.troubles["hello"] = [RetryLater(10, "too many")]
    gate = asyncio.Lock()

    class OneByOne(SendBudget):
        async def take(self, chat: Chat) -> None:
            async with gate:
                for _ in range(50):
                    await asyncio.sleep(0.001)

    courier._budget = OneByOne()
    await courier.deliver("telegram")
    assert len(channel.tried) == 1
    courier._budget = SendBudget(overall_per_s=1e6)
    # Put back, not left to a lease: all go as soon as the wait is over, reminders too.
    clock.set(NOW + timedelta(seconds=10))
    assert await courier.deliver("telegram") == 4


@pytest.mark.parametrize("kind", REPEATABLE)
async def test_deliver_maybe_sent_answer_is_sent_once_more(
    courier, channel, clock, queue, store, kind: MessageKind
) -> None:
    queue(1, "hello", kind=kind)
    channel.troubles["hello"] = [MaybeSent(), MaybeSent(), MaybeSent()]
    assert await courier.deliver("telegram") == 0
    clock.set(NOW + timedelta(seconds=DOUBT_PAUSE_S))
    assert await courier.deliver("telegram") == 0
    clock.set(NOW + timedelta(hours=1))
    assert await courier.deliver("telegram") == 0
    assert channel.tried == ["hello", "hello"]
    assert waiting(store) == 0


async def test_deliver_maybe_sent_after_a_refusal_still_has_its_second_try(
    courier, channel, clock, queue
) -> None:
    # A refusal cannot have arrived, so it does not use up the one repetition.
    queue(1, "hello")
    channel.troubles["hello"] = [RetryLater(1, "busy"), MaybeSent()]
    for second in range(0, 20, 5):
        clock.set(NOW + timedelta(seconds=second))
        await courier.deliver("telegram")
    assert channel.taken == ["hello"]


@pytest.mark.parametrize("kind", NOT_REPEATABLE)
async def test_deliver_maybe_sent_reminder_is_not_repeated(
    courier, channel, clock, queue, store, kind: MessageKind
) -> None:
    queue(1, "hello", kind=kind)
    channel.troubles["hello"] = [MaybeSent()]
    await courier.deliver("telegram")
    clock.set(NOW + timedelta(seconds=2 * LEASE_S))
    await courier.deliver("telegram")
    assert channel.tried == ["hello"]
    assert waiting(store) == 0


async def test_deliver_chat_gone_nothing_more_goes_there(courier, channel, queue, store) -> None:
    queue(1, "first", "second")
    queue(2, "other")
    channel.troubles["first"] = [ChatGone()]
    assert await courier.deliver("telegram") == 1
    queue(1, "later", kind="reminder")
    assert await courier.deliver("telegram") == 0
    assert sorted(channel.tried) == ["first", "other"]
    assert waiting(store) == 0


async def test_deliver_never_sendable_is_given_up_and_the_next_goes(
    courier, channel, queue, store
) -> None:
    queue(1, "first", "second")
    channel.troubles["first"] = [NeverSendable("too long")]
    assert await courier.deliver("telegram") == 1
    assert channel.taken == ["second"]
    assert waiting(store) == 0


@pytest.mark.parametrize(("kind", "sent"), [("reminder", 0), ("follow-up", 0), ("answer", 1)])
async def test_deliver_reminder_that_lost_its_point_is_not_sent(
    courier, clock, queue, store, kind: MessageKind, sent: int
) -> None:
    queue(1, "hello", kind=kind)
    clock.set(NOW + timedelta(hours=5))  # the service was down all evening
    assert await courier.deliver("telegram") == sent
    assert waiting(store) == 0


async def test_deliver_cancelled_finishes_what_it_began(courier, channel, queue, store) -> None:
    queue(1, "hello")
    begun, go_on = asyncio.Event(), asyncio.Event()
    send = channel.send

    async def slow(parcel: Parcel) -> int | None:
        begun.set()
        await go_on.wait()
        return await send(parcel)

    channel.send = slow
    task = asyncio.create_task(courier.deliver("telegram"))
    await begun.wait()
    task.cancel()
    await asyncio.sleep(0.01)
    go_on.set()
    with pytest.raises(asyncio.CancelledError):
        await task
    assert channel.taken == ["hello"]
    assert waiting(store) == 0


async def test_deliver_several_at_once_send_each_message_once(courier, channel, queue) -> None:
    for chat_id in range(30):
        queue(chat_id, f"{chat_id}")
    counts = await asyncio.gather(*(courier.deliver("telegram") for _ in range(3)))
    assert sum(counts) == 30
    assert len(channel.tried) == len(set(channel.tried)) == 30
