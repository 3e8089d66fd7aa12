"""Which parts of the warm-up an evening needs, and how long each takes. House rules.

The pulse raiser goes before everything; the fingers are opened before a finger exercise or
the bar; the shoulder blades are drawn before the bar; ramp lifts go before what is lifted
from the floor.
"""

from dataclasses import dataclass
from decimal import Decimal

from core.catalogue import Exercise, catalogue
from core.planning.duration import RAMP_LIFT_S, warm_up_part_s
from core.progression.tissue import FINGERS

RAMP: tuple[Decimal, ...] = (Decimal("0.4"), Decimal("0.6"), Decimal("0.8"))
"""Ramp lifts of the warm-up, as parts of tonight's top load. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class WarmUp:
    """The parts of a warm-up; bit k of a set of bits stands for part k, the last for the ramp.

    Attributes:
        parts: In order.
    """

    parts: tuple[Exercise, ...]

    def bits(self, exercise: Exercise) -> int:
        """The parts that must have gone before this exercise."""
        needed = sum(1 << at for at, part in enumerate(self.parts) if _readies(part, exercise))
        return needed | (int(exercise.from_floor) << len(self.parts))

    def chosen(self, bits: int) -> tuple[Exercise, ...]:
        """The parts those bits stand for, the ramp apart."""
        return tuple(part for at, part in enumerate(self.parts) if bits >> at & 1)

    def warm(self, exercises: tuple[Exercise, ...]) -> int:
        """The parts that are done by somebody who was ready for these exercises."""
        bits = 0
        for exercise in exercises:
            bits |= self.bits(exercise)
        return bits

    def charges_s(self, *, warm: int) -> tuple[int, ...]:
        """Time for each part, none for those that are done. [s]"""
        times = (*map(warm_up_part_s, self.parts), RAMP_LIFT_S * len(RAMP))
        return tuple(0 if warm >> at & 1 else time_s for at, time_s in enumerate(times))


def warm_up(*, has_bar: bool) -> WarmUp:
    """The warm-up of somebody with or without a bar."""
    return WarmUp(
        tuple(
            e
            for e in catalogue().exercises
            if e.block == "warm-up" and (has_bar or "bar" not in e.needs)
        )
    )


def _readies(part: Exercise, exercise: Exercise) -> bool:
    if "bar" in part.needs:
        return "bar" in exercise.needs
    if part.tissue == FINGERS:
        return exercise.block == "fingers" or "bar" in exercise.needs
    return True
