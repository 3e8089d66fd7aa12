"""Letting go of what is over, now and then, in small bites between ticks."""

from datetime import datetime, timedelta

from bot.clock import Clock
from bot.ports import Store

EVERY = timedelta(minutes=10)
"""From one look to the next once nothing is left to delete."""

BITE = 500
"""Rows of each kind that one transaction deletes: some milliseconds of a SQLite file."""


class Housekeeper:
    """Prunes the store when it is called often enough, by any number of processes."""

    def __init__(self, store: Store, clock: Clock) -> None:
        self._store = store
        self._clock = clock
        self._next_at: datetime | None = None

    def tick(self) -> None:
        """Delete a bite if it is time; the next one at once while there is more."""
        now = self._clock.now()
        if self._next_at is None:
            # Not at the start, when people wait for what was left lying.
            self._next_at = now + EVERY / 10
        if now < self._next_at:
            return
        with self._store.work() as work:
            pruned = work.prune(now=now, limit=BITE)
        if pruned < BITE:
            self._next_at = now + EVERY
