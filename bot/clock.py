"""The only reader of the clock."""

from datetime import UTC, datetime
from typing import Protocol


class Clock(Protocol):
    """Tells the moment. Aware, UTC."""

    def now(self) -> datetime: ...


class SystemClock:
    """The machine's clock."""

    def now(self) -> datetime:
        return datetime.now(UTC)


class HandClock:
    """A clock that stands until it is set: for replays and tests."""

    def __init__(self, at: datetime) -> None:
        self._at = at.astimezone(UTC)

    def now(self) -> datetime:
        return self._at

    def set(self, at: datetime) -> None:
        self._at = at.astimezone(UTC)
