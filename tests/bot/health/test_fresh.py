"""Slow questions asked no more often than needed."""

import asyncio
import threading
from collections.abc import Iterator

import pytest

from bot.health.fresh import Fresh


@pytest.fixture
def go_on() -> Iterator[threading.Event]:
    event = threading.Event()
    yield event
    event.set()


async def test_get_many_at_once_ask_once(go_on: threading.Event) -> None:
    asked: list[int] = []

    def ask() -> int:
        asked.append(1)
        go_on.wait(10)
        return len(asked)

    fresh = Fresh(ask, keep_s=60, patience_s=10)
    answers = asyncio.gather(*(fresh.get() for _ in range(20)))
    await asyncio.sleep(0)
    go_on.set()
    assert set(await answers) == {1}
    assert await fresh.get() == 1
    fresh.close()


async def test_get_old_answer_is_asked_for_again() -> None:
    asked: list[int] = []

    def ask() -> int:
        asked.append(1)
        return len(asked)

    fresh = Fresh(ask, keep_s=0, patience_s=10)
    assert [await fresh.get(), await fresh.get()] == [1, 2]
    fresh.close()


async def test_get_question_that_hangs_is_left_and_not_asked_twice(
    go_on: threading.Event,
) -> None:
    asked: list[int] = []

    def ask() -> int:
        asked.append(1)
        go_on.wait(10)
        return len(asked)

    fresh = Fresh(ask, keep_s=0, patience_s=0.02)
    for _ in range(3):
        with pytest.raises(TimeoutError):
            await fresh.get()
    assert asked == [1]
    fresh.close()
