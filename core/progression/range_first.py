"""Range of motion first, then number: the rule that slow reps and long holds share.

A variation is left after one easy session or two sessions running that passed: joints and
tendons take their time. House rule.
"""

from dataclasses import dataclass

from core.progression.rungs import Climb, Rung, moved, stayed
from core.target import because

PASSES_NEEDED = 2
"""Sessions running that must pass before more is asked. [-] House rule."""


ONCE_MORE, LADDER_TOP = because("once-more"), because("ladder-top")


@dataclass(frozen=True, slots=True)
class RangeFirst:
    """The rule for one dose.

    Attributes:
        sets: Number of sets.
        start: Reps or seconds on every rung but the last.
        step: Added at a time on the last rung.
        most: Most reps or seconds.
        top: Index of the last rung.
    """

    sets: int
    start: int
    step: int
    most: int
    top: int

    def aims(self, each: int) -> tuple[int, ...]:
        """The same aim in every set."""
        return (each,) * self.sets

    def __call__(self, rung: Rung, climb: Climb) -> Rung:
        """The rung after one session."""
        aim = rung.aims[0]
        if climb.missed and rung.missed:
            if aim > self.start:
                to = rung.rank, self.aims(max(self.start, aim - self.step))
                return moved(climb, to=to, change="down", rule="step-back")
            if rung.rank:
                to = rung.rank - 1, self.aims(self.start)
                return moved(climb, to=to, change="easier-variation", rule="rung-back")
        if not climb.passed:
            return stayed(rung, climb)
        if not climb.easy and rung.passed + 1 < PASSES_NEEDED:
            return stayed(rung, climb, ONCE_MORE)
        if rung.rank < self.top:
            to = rung.rank + 1, self.aims(self.start)
            return moved(climb, to=to, change="harder-variation", rule="next-rung")
        if aim < self.most:
            to = rung.rank, self.aims(min(self.most, aim + self.step))
            return moved(climb, to=to, change="longer", rule="step-longer")
        return stayed(rung, climb, LADDER_TOP)
