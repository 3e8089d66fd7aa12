"""How far apart hard finger work must be. Every rule of spacing stands in this module.

1. At least 48 hours between the beginnings of two hard finger evenings. The hours are those
   of the wall clock: an evening at the same hour two training days later is far enough, in
   the week the clocks change too.
2. A visit to the wall counts as hard finger work of unknown hour: none on that training
   day, and none on the training day after it.
3. None on a planned wall day and none within the 24 hours before it. A wall day begins when
   the training day does (04:00), so this is the whole training day before.

House rules, conservative; no source gives hours for fingers.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta

REST = timedelta(hours=48)
"""Least time between the beginnings of two hard finger evenings. House rule."""

BESIDE_WALL = timedelta(days=1)
"""So many training days before and after a wall day are kept free. House rule."""


def is_rested(earlier: datetime, later: datetime) -> bool:
    """True when two evenings may both be hard on fingers.

    Args:
        earlier: Beginning of one, in the athlete's zone.
        later: Beginning of the other, in the same zone.
    """
    # Aware values of one zone subtract as their wall clocks do.
    return abs(later - earlier) >= REST


@dataclass(frozen=True, slots=True)
class Strain:
    """What loads the fingers hard besides the evenings that are still to be planned.

    Attributes:
        trained: Beginnings of the evenings on which they were loaded hard, in the
            athlete's zone, oldest first, with their training days.
        visited: Days with a visit to the wall, told of before or after.
        planned: Days on which the wall is planned.
    """

    trained: tuple[tuple[date, datetime], ...]
    visited: frozenset[date]
    planned: frozenset[date]

    @property
    def walls(self) -> frozenset[date]:
        """All days at the wall."""
        return self.visited | self.planned

    def wall_beside(self, day: date) -> date | None:
        """The wall day that forbids hard fingers on that day: itself, the next, the one before."""
        near = (day, day + BESIDE_WALL, day - BESIDE_WALL)
        return next((d for d in near if d in self.walls), None)

    def trained_near(self, day: date, begins: datetime) -> date | None:
        """The training day, other than this one, whose hard work is too near, or None."""
        return first_near(((d, at) for d, at in self.trained if d != day), begins)


def first_near(evenings: Iterable[tuple[date, datetime]], begins: datetime) -> date | None:
    """The day of the first of those evenings that is nearer than the rest allows, or None."""
    return next((day for day, at in evenings if not is_rested(at, begins)), None)
