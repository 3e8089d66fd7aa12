"""A record of strength to write sessions into. Invented people only."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from core.athlete import Athlete, DatedLog
from core.facts import Asked, Effort, Logged, PlateCount, SetDone, Side
from core.history import Stream, stream_of
from core.kit.inventory import Inventory
from core.strength import Doubt, Estimate, doubt_of, strength_of

DAY_0 = date(2026, 1, 1)


class Record:
    """Logs of one athlete, days counted from 1 January 2026."""

    def __init__(self, **parts: object) -> None:
        self.athlete = Athlete(**parts)  # type: ignore[arg-type]

    def on(self, day: int) -> date:
        return DAY_0 + timedelta(days=day)

    def weighed(self, day: int, kg: str) -> "Record":
        said = (*self.athlete.weighed, (self.on(day), Decimal(kg)))
        self.athlete = replace(self.athlete, weighed=said, body_kg=Decimal(kg))
        return self

    def log(
        self, day: int, exercise: str, sets: Sequence[SetDone], *, asked: tuple[Asked, ...] = ()
    ) -> int:
        """Add a log; its entry number."""
        number = len(self.athlete.logs) + 1
        logged = Logged(exercise, None, tuple(sets), asked, None, "")
        logs = (*self.athlete.logs, DatedLog(number, self.on(day), logged))
        self.athlete = replace(self.athlete, logs=logs)
        return number

    def hold(
        self, day: int, load: str, effort: Effort | None = "ok", *, hold_s: int | None = 10,
        side: Side = "both", sets: int = 4, left: int | None = None,
        exercise: str = "half-crimp", asked: str | None = None,
    ) -> int:  # fmt: skip
        done = SetDone(side, Decimal(load), hold_s=hold_s, effort=effort, left=left)
        sides: tuple[Side, ...] = ("left", "right") if asked is not None else ()
        wanted = tuple(Asked(hand, 4, None, 10, Decimal(asked or 0)) for hand in sides)
        return self.log(day, exercise, (done,) * sets, asked=wanted)

    def pull(self, day: int, reps: int, effort: Effort | None = "ok", *, load: str = "0") -> int:
        done = SetDone("both", Decimal(load), reps=reps, effort=effort)
        return self.log(day, "pull-up", (done,) * 3)

    def strength(
        self, day: int, exercise: str = "half-crimp", side: Side = "left"
    ) -> Estimate | None:
        side = "both" if exercise == "pull-up" else side
        return strength_of(self.athlete, exercise, side=side, edge_mm=None, today=self.on(day))

    def doubt(self, number: int) -> Doubt | None:
        return doubt_of(self.athlete, number)

    def line(self, exercise: str = "half-crimp", side: Side = "left") -> Stream:
        return stream_of(self.athlete, exercise, side=side, edge_mm=None)


@pytest.fixture(scope="session")
def record() -> Callable[..., Record]:
    """A new record, with parts of an athlete."""
    return Record


@pytest.fixture(scope="session")
def plates() -> Inventory:
    """Plates and pin of 41 kg in all."""
    return Inventory(
        plates=(PlateCount(Decimal(10), 3), PlateCount(Decimal(5), 2)), pin_kg=Decimal(1)
    )
