"""How long a set takes: work on each side, and the rest after it. All figures are house rules."""

from core.catalogue import (
    Exercise,
    HoldRange,
    LoadedHold,
    LongHold,
    RepRange,
    SlowReps,
    TimedHold,
)
from core.target import Target

REP_S = 4
"""One pull-up or push-up at a steady pace. [s]"""

SWITCH_S = 5
"""Changing hands or legs. [s]"""

RAMP_LIFT_S = 45
"""One ramp lift in the warm-up, both hands, with its short rest and the change of plates. [s]"""


def work_s(exercise: Exercise, amount: int | None) -> int:
    """Time under work in one set of one side. [s]

    Args:
        exercise: Which.
        amount: Reps or seconds asked; None for the catalogue's dose.
    """
    match exercise.dose:
        case LoadedHold(lifts=lifts, pause_s=pause_s, hold_s=hold_s):
            return lifts * (amount or hold_s) + (lifts - 1) * pause_s
        case RepRange(high=high):
            return (amount or high) * REP_S
        case HoldRange(high_s=high_s):
            return amount or high_s
        case TimedHold(start_s=start_s):
            return amount or start_s
        case LongHold(least_s=least_s):
            return amount or least_s
        case SlowReps(reps=reps, rep_s=rep_s):
            return (amount or reps) * rep_s


def exercise_s(exercise: Exercise, targets: tuple[Target, ...], left: tuple[int, ...]) -> int:
    """Time for the sets that are left: setting up, work on each side, rests. [s]

    Args:
        exercise: Which.
        targets: One per side that has a target of its own.
        left: Sets left of each target, in the same order.
    """
    rounds = max(left, default=0)
    if not rounds:
        return 0
    sides = 2 if exercise.sides == "each" else 1
    work = sum(
        count * sides * work_s(exercise, t.hold_s if t.hold_s is not None else t.reps)
        for t, count in zip(targets, left, strict=True)
    )
    switches = SWITCH_S * (sides * len(targets) - 1) * rounds
    return exercise.setup_s + work + switches + targets[0].rest_s * rounds


def warm_up_s(warm_up: tuple[Exercise, ...], *, ramp_lifts: int) -> int:
    """Time for the warm-up, ramp lifts included. [s]"""
    general = sum(
        e.setup_s + work_s(e, None) * (2 if e.sides == "each" else 1) + e.dose.rest_s
        for e in warm_up
    )
    return general + ramp_lifts * RAMP_LIFT_S
