"""Timed holds: seconds up to a ceiling, then the next variation from the start."""

from operator import attrgetter

from core.catalogue import TimedHold
from core.progression.case import Case, Proposal
from core.progression.reshape import with_seconds
from core.progression.rungs import Climb, Rung, laddered, moved, start_of, stayed
from core.target import because


def propose(case: Case, dose: TimedHold) -> Proposal:
    """What the ladder calls for: a step more after each session that passed.

    Two sessions running that miss go a step back, from the start to the variation before,
    a step under its ceiling.
    """
    top = max(0, len(case.exercise.variations) - 1)

    def aims(seconds: int) -> tuple[int, ...]:
        return (seconds,) * dose.sets

    def rule(rung: Rung, climb: Climb) -> Rung:
        aim_s = rung.aims[0]
        if climb.missed and rung.missed:
            if aim_s > dose.start_s:
                to = rung.rank, aims(max(dose.start_s, aim_s - dose.step_s))
                return moved(climb, to=to, change="down", rule="step-back")
            if rung.rank:
                to = rung.rank - 1, aims(dose.ceiling_s - dose.step_s)
                return moved(climb, to=to, change="easier-variation", rule="rung-back")
        if not climb.passed:
            return stayed(rung, climb)
        done_s = min(climb.done)
        reached_s = max(aim_s, done_s - done_s % dose.step_s)
        if reached_s < dose.ceiling_s:
            to = rung.rank, aims(min(dose.ceiling_s, reached_s + dose.step_s))
            return moved(climb, to=to, change="longer", rule="step-longer")
        if rung.rank < top:
            to = rung.rank + 1, aims(dose.start_s)
            return moved(climb, to=to, change="harder-variation", rule="next-rung")
        return stayed(rung, climb, because("ladder-top"))

    return laddered(
        case,
        first=start_of(aims(dose.start_s)),
        measure=attrgetter("hold_s"),
        rule=rule,
        aimed=with_seconds,
    )
