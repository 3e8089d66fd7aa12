"""Slow reps: range of motion first, then reps; never load."""

from operator import attrgetter

from core.catalogue import SlowReps
from core.progression.case import Case, Proposal
from core.progression.range_first import RangeFirst
from core.progression.reshape import with_reps
from core.progression.rungs import laddered, start_of


def propose(case: Case, dose: SlowReps) -> Proposal:
    """What the ladder calls for."""
    top = max(0, len(case.exercise.variations) - 1)
    rule = RangeFirst(sets=dose.sets, start=dose.reps, step=1, most=dose.most_reps, top=top)
    return laddered(
        case,
        first=start_of(rule.aims(dose.reps)),
        measure=attrgetter("reps"),
        rule=rule,
        aimed=with_reps,
    )
