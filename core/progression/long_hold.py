"""Long holds: range of motion first, then time."""

from operator import attrgetter

from core.catalogue import LongHold
from core.progression.case import Case, Proposal
from core.progression.range_first import RangeFirst
from core.progression.reshape import with_seconds
from core.progression.rungs import laddered, start_of


def propose(case: Case, dose: LongHold) -> Proposal:
    """What the ladder calls for."""
    rule = RangeFirst(
        sets=dose.sets,
        start=dose.least_s,
        step=dose.step_s,
        most=dose.ceiling_s,
        top=max(0, len(case.exercise.variations) - 1),
    )
    return laddered(
        case,
        first=start_of(rule.aims(dose.least_s)),
        measure=attrgetter("hold_s"),
        rule=rule,
        aimed=with_seconds,
    )
