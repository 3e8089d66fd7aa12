"""A life to write facts into and to ask what the coming days are. Invented people only."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from decimal import Decimal

import pytest

from core.athlete import Athlete, athlete_from_facts
from core.facts import (
    Entry,
    EveningsPlanned,
    Fact,
    KitChanged,
    Logged,
    PlateCount,
    SetDone,
    SettingChanged,
    WallDaysPlanned,
    Weekday,
)
from core.planning.week import DayPlan, day_plan, days_ahead

MONDAY = date(2026, 11, 30)
PLATES = (PlateCount(Decimal(10), 2), PlateCount(Decimal(5), 2), PlateCount(Decimal("2.5"), 2))


def november(day: int) -> date:
    """A day counted from Monday 30 November 2026, which is 0."""
    return date.fromordinal(MONDAY.toordinal() + day)


@dataclass
class Life:
    """Facts of one athlete, days counted from a Monday."""

    entries: list[Entry] = field(default_factory=list)

    def on(self, day: int, *facts: Fact) -> "Life":
        for fact in facts:
            number = len(self.entries) + 1
            at = datetime.combine(november(day), datetime.min.time(), tzinfo=UTC)
            self.entries.append(Entry(number, number, at, november(day), fact))
        return self

    def crimped(self, day: int) -> "Life":
        sets = (SetDone("both", Decimal(20), hold_s=10, effort="ok"),) * 4
        return self.on(day, Logged("half-crimp", None, sets, (), None, ""))

    @property
    def athlete(self) -> Athlete:
        return athlete_from_facts(tuple(self.entries))

    def days(self, today: int, days: int = 14) -> tuple[DayPlan, ...]:
        return days_ahead(self.athlete, today=november(today), days=days)

    def day(self, day: int, *, today: int = 0) -> DayPlan:
        return day_plan(self.athlete, november(day), today=november(today))

    def fingers(self, today: int = 0, days: int = 14) -> list[int]:
        """The days with finger work on a planned evening, hard or light."""
        return [
            (plan.day - MONDAY).days
            for plan in self.days(today, days)
            if plan.fingers != "none" and plan.evening is not None
        ]


@pytest.fixture(scope="session")
def life() -> Callable[..., Life]:
    """Begins a life with a kit, planned evenings and wall days."""

    def begin(evenings: str, walls: str = "", *, at: str = "20:30") -> Life:
        days: tuple[Weekday, ...] = tuple(evenings.split())  # type: ignore[assignment]
        wall_days: tuple[Weekday, ...] = tuple(walls.split())  # type: ignore[assignment]
        return Life().on(
            0,
            SettingChanged("zone", "Europe/Oslo"),
            KitChanged(plates=PLATES),
            EveningsPlanned(days, at, 60),
            WallDaysPlanned(wall_days),
        )

    return begin
