"""When the store is pruned: not at once, in bites, then now and then."""

from contextlib import contextmanager
from datetime import UTC, datetime, timedelta

from bot.clock import HandClock
from bot.due.housekeeping import BITE, EVERY, Housekeeper

NOON = datetime(2026, 12, 1, 12, tzinfo=UTC)


class CountingStore:
    """Has so many rows to prune."""

    def __init__(self, rows: int) -> None:
        self.rows = rows
        self.asked: list[datetime] = []

    @contextmanager
    def work(self):
        yield self

    def prune(self, *, now: datetime, limit: int) -> int:
        self.asked.append(now)
        bite = min(self.rows, limit)
        self.rows -= bite
        return bite


def test_tick_prunes_in_bites_until_all_is_gone_then_rests() -> None:
    store, clock = CountingStore(rows=2 * BITE + 1), HandClock(NOON)
    keeper = Housekeeper(store, clock)
    keeper.tick()
    assert store.asked == []
    clock.set(NOON + EVERY)
    for _ in range(9):
        keeper.tick()
    assert store.rows == 0
    assert len(store.asked) == 3
    clock.set(NOON + 2 * EVERY - timedelta(seconds=1))
    keeper.tick()
    assert len(store.asked) == 3
    clock.set(NOON + 2 * EVERY)
    keeper.tick()
    assert len(store.asked) == 4
