"""What becomes of messages when the chat service takes, refuses or keeps silent."""

import asyncio
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from bot.clock import HandClock
from bot.delivery.courier import DOUBT_PAUSE_S, LEASE_S, MOST_TRIES, Courier
from bot.errors import (
    BadSettings,
    BotError,
    ChatGone,
    MaybeSent,
    NeverSendable,
    RetryLater,
    TooMany,
)
from bot.ports import Chat, MessageKind, Outgoing, Parcel, SendLimits
from bot.storage import SqlStore

NOW = datetime(2026, 3, 2, 18, 30, tzinfo=UTC)
REPEATABLE: tuple[MessageKind, ...] = ("answer", "question", "timer")
NOT_REPEATABLE: tuple[MessageKind, ...] = ("reminder", "follow-up", "digest")


NO_LIMITS = SendLimits(per_s=1e6, chat_per_s=1e6, chat_burst=1000)
"""So high that no test waits; turns are tested with the store."""


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
    return Courier(store, {"telegram": channel}, clock, limits=NO_LIMITS)


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


async def test_deliver_too_many_halts_the_account_and_sends_after_the_wait(
    courier, channel, clock, queue, store
) -> None:
    queue(1, "first")
    channel.troubles["first"] = [TooMany(30, "too many")]
    assert await courier.deliver("telegram") == 0
    queue(2, "second")
    clock.set(NOW + timedelta(seconds=29))
    assert await courier.deliver("telegram") == 0
    assert channel.tried == ["first"]
    clock.set(NOW + timedelta(seconds=30))
    assert await courier.deliver("telegram") == 2
    assert sorted(channel.taken) == ["first", "second"]
    assert waiting(store) == 0


async def test_deliver_too_many_halts_other_processes_too(
    courier, channel, clock, queue, store
) -> None:
    queue(1, "first")
    channel.troubles["first"] = [TooMany(30, "too many")]
    await courier.deliver("telegram")
    queue(2, "second")
    other = Courier(store, {"telegram": channel}, clock, limits=NO_LIMITS)
    clock.set(NOW + timedelta(seconds=29))
    assert await other.deliver("telegram") == 0
    clock.set(NOW + timedelta(seconds=30))
    assert await other.deliver("telegram") == 2


async def test_deliver_too_many_holds_back_what_was_already_claimed(
    store, channel, clock, queue
) -> None:
    # By 50 a second five or so are claimed at once, each for its turn; the first is refused.
    limits = SendLimits(per_s=50, chat_per_s=1, chat_burst=1)
    courier = Courier(store, {"telegram": channel}, clock, limits=limits)
    for chat_id in range(4):
        queue(chat_id, "hello", kind="reminder")
    with store.work() as work:  # all turns up to now are spent
        work.claim_turns("telegram", now=NOW, limit=1, lease_s=0, limits=limits)
        work._spend("telegram", work._turns("telegram", limits, now=NOW, holding=True), taken=10)
    channel.troubles["hello"] = [TooMany(10, "too many")]
    await courier.deliver("telegram")
    assert len(channel.tried) == 1
    # Put back, not left to a lease: all go as soon as the wait is over, reminders too.
    clock.set(NOW + timedelta(seconds=10))
    assert await courier.deliver("telegram") == 4


async def test_deliver_trouble_with_one_message_holds_up_no_other(courier, channel, queue) -> None:
    queue(1, "first")
    queue(2, "second")
    channel.troubles["first"] = [RetryLater(30, "the service is in trouble")]
    assert await courier.deliver("telegram") == 1
    assert channel.taken == ["second"]


async def test_deliver_trouble_with_all_leaves_the_service_alone(
    courier, channel, clock, queue, store
) -> None:
    for chat_id in range(8):
        queue(chat_id, f"{chat_id}")
        channel.troubles[f"{chat_id}"] = [RetryLater(1, "no connection")] * 99
    for fifth in range(300):
        clock.set(NOW + timedelta(seconds=fifth / 5))
        await courier.deliver("telegram")
    # by hand: over 60 s rounds of all eight: two without a pause, five after growing ones, and
    # one every 7.5 to 15 s after that; each by itself, after 1 s as it is told here, made 480
    assert 8 * 6 < len(channel.tried) <= 8 * (2 + 5 + 60 / 7.5)
    assert waiting(store) == 8


async def test_deliver_refused_again_and_again_is_given_up_if_others_go(
    courier, channel, clock, queue, store
) -> None:
    queue(1, "first")
    channel.troubles["first"] = [RetryLater(1, "the service is in trouble")] * 99
    for second in range(3 * MOST_TRIES):
        clock.set(NOW + timedelta(seconds=2 * second))
        queue(2, "other")
        await courier.deliver("telegram")
    assert channel.tried.count("first") == MOST_TRIES
    assert waiting(store) == 0


async def test_deliver_wrong_setting_ends_the_round_and_loses_nothing(
    courier, channel, queue
) -> None:
    queue(1, "hello", kind="reminder")
    channel.troubles["hello"] = [BadSettings("the token is refused")]
    with pytest.raises(BadSettings):
        await courier.deliver("telegram")
    assert await courier.deliver("telegram") == 1


async def test_deliver_what_could_not_be_written_down_is_written_later(
    courier, channel, queue, store, monkeypatch
) -> None:
    from contextlib import contextmanager

    from bot.errors import StoreAway

    queue(1, "hello")
    work, calls = store.work, []

    @contextmanager
    def failing_once():
        calls.append(1)
        if len(calls) in (2, 3):
            raise StoreAway("the disk is full")
        with work() as opened:
            yield opened

    monkeypatch.setattr(store, "work", failing_once)
    with pytest.raises(StoreAway):
        await courier.deliver("telegram")
    await courier.deliver("telegram")
    assert channel.tried == ["hello"]
    assert waiting(store) == 0


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


async def test_deliver_message_that_lost_its_point_is_not_sent(
    courier, channel, clock, store
) -> None:
    with store.work() as work:
        mine = work.open(Chat("telegram", 1), at=NOW).athlete_id
        ends = NOW + timedelta(hours=1)
        work.queue(mine, [Outgoing("reminder", "tonight")], at=NOW, until=ends)
        work.queue(mine, [Outgoing("answer", "noted")], at=NOW)
    clock.set(NOW + timedelta(hours=5))  # the service was down all evening
    assert await courier.deliver("telegram") == 1
    assert channel.taken == ["noted"]
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


async def test_deliver_slow_send_keeps_its_lease_and_holds_up_no_other(store, channel) -> None:
    from bot.clock import SystemClock

    clock = SystemClock()
    couriers = [
        Courier(store, {"telegram": channel}, clock, limits=NO_LIMITS, lease_s=0.4)
        for _ in range(2)
    ]

    def put(chat_id: int, text: str) -> None:
        with store.work() as work:
            mine = work.open(Chat("telegram", chat_id), at=NOW).athlete_id
            work.queue(mine, [Outgoing("reminder", text)], at=clock.now())

    put(1, "slow")
    begun, go_on = asyncio.Event(), asyncio.Event()
    send = channel.send

    async def slow(parcel: Parcel) -> int | None:
        if parcel.message.text == "slow":
            begun.set()
            await go_on.wait()
        return await send(parcel)

    channel.send = slow
    task = asyncio.create_task(couriers[0].deliver("telegram"))
    await begun.wait()
    for _ in range(6):  # three leases long
        await asyncio.sleep(0.2)
        assert await couriers[1].deliver("telegram") == 0
    put(2, "quick")
    await couriers[0].deliver("telegram")  # the round under way looks again
    for _ in range(500):
        if "quick" in channel.taken:
            break
        await asyncio.sleep(0.01)
    assert channel.taken == ["quick"]
    go_on.set()
    assert await task == 2


async def test_deliver_several_at_once_send_each_message_once(courier, channel, queue) -> None:
    for chat_id in range(30):
        queue(chat_id, f"{chat_id}")
    counts = await asyncio.gather(*(courier.deliver("telegram") for _ in range(3)))
    assert sum(counts) == 30
    assert len(channel.tried) == len(set(channel.tried)) == 30
