"""The tick: again and again, never twice at once, whatever the function raises."""

import asyncio
import logging
import threading

import pytest

from bot.due import Ticker

EVERY_S = 0.01
PATIENCE_S = 5.0


class Ticks:
    """Counts calls and how many of them ran at once; says when there were enough."""

    def __init__(self, enough: int) -> None:
        self.count = 0
        self.most_at_once = 0
        self.reached = threading.Event()
        self._enough = enough
        self._at_once = 0

    def __call__(self) -> None:
        self._at_once += 1
        self.most_at_once = max(self.most_at_once, self._at_once)
        self.count += 1
        if self.count >= self._enough:
            self.reached.set()
        threading.Event().wait(3 * EVERY_S)  # longer than from one tick to the next
        self._at_once -= 1


@pytest.fixture(autouse=True)
def _quiet_log(caplog: pytest.LogCaptureFixture) -> None:
    # A tick longer than its interval is skipped with a warning; that is the point here.
    caplog.set_level(logging.CRITICAL, logger="apscheduler")


def test_ticker_in_thread_ticks_and_never_overlaps() -> None:
    ticks = Ticks(enough=3)
    ticker = Ticker.in_thread(ticks, every_s=EVERY_S)
    assert ticks.count == 0
    ticker.start()
    assert ticks.reached.wait(PATIENCE_S)
    ticker.stop()
    stopped_at = ticks.count
    threading.Event().wait(5 * EVERY_S)
    assert ticks.count == stopped_at
    assert ticks.most_at_once == 1


def test_ticker_function_that_raises_is_called_again() -> None:
    reached = threading.Event()
    calls: list[int] = []

    def fail() -> None:
        calls.append(1)
        if len(calls) >= 3:
            reached.set()
        raise RuntimeError("one bad tick")

    ticker = Ticker.in_thread(fail, every_s=EVERY_S)
    ticker.start()
    assert reached.wait(PATIENCE_S)
    ticker.stop()


async def test_ticker_in_loop_calls_functions_and_coroutines() -> None:
    plain = Ticks(enough=2)
    reached = asyncio.Event()

    async def awaited() -> None:
        reached.set()

    tickers = [Ticker.in_loop(act, every_s=EVERY_S) for act in (plain, awaited)]
    for ticker in tickers:
        ticker.start()
    await asyncio.wait_for(reached.wait(), PATIENCE_S)
    assert await asyncio.to_thread(plain.reached.wait, PATIENCE_S)
    for ticker in tickers:
        ticker.stop()
    await asyncio.sleep(5 * EVERY_S)
    assert plain.most_at_once == 1
