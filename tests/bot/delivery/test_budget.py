"""How fast messages may go."""

from bot.delivery.budget import SendBudget
from bot.ports import Chat


class SteppingTime:
    """A clock that moves only while somebody sleeps."""

    def __init__(self) -> None:
        self.now_s = 100.0

    def monotonic(self) -> float:
        return self.now_s

    async def sleep(self, seconds: float) -> None:
        self.now_s += seconds


def budget_over(time: SteppingTime) -> SendBudget:
    return SendBudget(
        overall_per_s=30, chat_per_s=1, chat_burst=3, monotonic=time.monotonic, sleep=time.sleep
    )


async def test_take_many_chats_are_spaced_by_the_overall_rate() -> None:
    time = SteppingTime()
    budget = budget_over(time)
    starts = []
    for number in range(61):
        await budget.take(Chat("telegram", number))
        starts.append(time.now_s)
    # by hand: 61 messages have 60 gaps of 1/30 s between them, 2 s in all
    assert abs(starts[-1] - starts[0] - 2.0) < 1e-9
    for index, start in enumerate(starts):
        assert sum(start <= other < start + 1.0 - 1e-9 for other in starts[index:]) <= 30


async def test_take_one_chat_passes_a_burst_then_one_a_second() -> None:
    time = SteppingTime()
    budget = budget_over(time)
    starts = []
    for _ in range(6):
        await budget.take(Chat("telegram", 1))
        starts.append(time.now_s - 100.0)
    # by hand: three at once (1/30 s apart by the overall rate), the fourth when the first
    # second is over, and so on
    expected = [0, 1 / 30, 2 / 30, 1, 2, 3]
    assert all(abs(a - b) < 1e-6 for a, b in zip(starts, expected, strict=True)), starts


async def test_take_after_a_pause_the_burst_is_back() -> None:
    time = SteppingTime()
    budget = budget_over(time)
    for _ in range(4):
        await budget.take(Chat("telegram", 1))
    time.now_s += 10
    before = time.now_s
    for _ in range(3):
        await budget.take(Chat("telegram", 1))
    assert time.now_s - before < 0.1


async def test_take_other_chats_do_not_wait_for_a_chatty_one() -> None:
    time = SteppingTime()
    budget = budget_over(time)
    for _ in range(3):
        await budget.take(Chat("telegram", 1))
    before = time.now_s
    await budget.take(Chat("telegram", 2))
    assert time.now_s - before < 0.05


async def test_take_idle_chats_are_forgotten_and_busy_ones_are_not() -> None:
    time = SteppingTime()
    budget = budget_over(time)
    for number in range(5000):
        await budget.take(Chat("telegram", number))
    assert len(budget._chats) < 1500
    busy = Chat("telegram", -1)
    for _ in range(3):
        await budget.take(busy)
    before = time.now_s
    for number in range(10_000, 10_010):
        await budget.take(Chat("telegram", number))
    await budget.take(busy)
    # by hand: ten others take 10/30 s; the busy chat's fourth goes 1 s after its first
    assert time.now_s - before > 0.85
