"""Rep ranges without a load: reps to the top everywhere, then the next variation."""

from operator import attrgetter

from core.catalogue import RepRange
from core.progression.aims import one_more
from core.progression.case import Case, Proposal
from core.progression.reshape import with_reps
from core.progression.rungs import Climb, Rung, laddered, moved, start_of, stayed
from core.target import because


def propose(case: Case, dose: RepRange) -> Proposal:
    """What the ladder calls for: one rep more in total, at the top the next rung's bottom."""
    top = max(0, len(case.exercise.variations) - 1)
    bottom = (dose.low,) * dose.sets

    def rule(rung: Rung, climb: Climb) -> Rung:
        if min(climb.done) < dose.low:
            if rung.missed and rung.rank:
                to = rung.rank - 1, bottom
                return moved(climb, to=to, change="easier-variation", rule="rung-back")
            return stayed(rung, climb, because("bottom-missed", low=dose.low), missed=True)
        if len(climb.done) < climb.of:
            return stayed(rung, climb)
        at_top = min(climb.done[: dose.sets]) >= dose.high
        if at_top and climb.effort in (None, "limit", "fail"):
            return stayed(rung, climb)
        if at_top and rung.rank < top:
            to = rung.rank + 1, bottom
            return moved(climb, to=to, change="harder-variation", rule="next-rung")
        if at_top:
            return stayed(rung, climb, because("ladder-top"))
        aims = one_more(climb.done, sets=dose.sets, low=dose.low, high=dose.high)
        return moved(climb, to=(rung.rank, aims), change="longer", rule="one-more-rep")

    return laddered(
        case,
        first=start_of(bottom),
        measure=attrgetter("reps"),
        rule=rule,
        aimed=with_reps,
    )
