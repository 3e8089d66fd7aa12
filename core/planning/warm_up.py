"""Which parts of the warm-up an evening needs, and how long each takes. House rules.

The pulse raiser goes before everything; the fingers are opened before a finger exercise or
the bar; the shoulder blades are drawn before the bar; ramp lifts go before what is lifted
from the floor.
"""

from dataclasses import dataclass

from core.catalogue import Exercise
from core.planning.duration import RAMP_LIFT_S, warm_up_part_s
from core.programme import Programme
from core.programme.warm_up import readies


@dataclass(frozen=True, slots=True)
class WarmUp:
    """The parts of a warm-up; bit k of a set of bits stands for part k, the last for the ramp.

    Attributes:
        parts: In order.
        ramp_lifts: How many the ramp has.
    """

    parts: tuple[Exercise, ...]
    ramp_lifts: int

    def bits(self, exercise: Exercise) -> int:
        """The parts that must have gone before this exercise."""
        needed = sum(1 << at for at, part in enumerate(self.parts) if readies(part, exercise))
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
        times = (*map(warm_up_part_s, self.parts), RAMP_LIFT_S * self.ramp_lifts)
        return tuple(0 if warm >> at & 1 else time_s for at, time_s in enumerate(times))


def warm_up(programme: Programme, *, has_bar: bool) -> WarmUp:
    """The programme's warm-up for somebody with or without a bar."""
    parts = tuple(part for part in programme.warm_up if has_bar or "bar" not in part.needs)
    return WarmUp(parts, len(programme.ramp))
