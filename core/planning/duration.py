"""How long sets take: setting up, work on each side, the rest after it. All house rules."""

from collections.abc import Sequence

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

CHANGE_S = 10
"""Walking over to the other exercise and back, where two alternate. [s]"""

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


def rounds_s(exercise: Exercise, targets: tuple[Target, ...]) -> tuple[int, ...]:
    """Time on each round without its rest: every side's set in turn, and changing sides. [s]

    Args:
        exercise: Which.
        targets: One per side that has a target of its own.
    """
    sides = 2 if exercise.sides == "each" else 1
    rounds: list[int] = []
    for number in range(max(t.sets for t in targets)):
        sets = [
            work_s(exercise, _amount(t, number))
            for t in targets
            if number < t.sets
            for _ in range(sides)
        ]
        rounds.append(sum(sets) + SWITCH_S * (len(sets) - 1))
    return tuple(rounds)


def _amount(target: Target, number: int) -> int | None:
    if target.by_set:
        return target.by_set[number]
    return target.hold_s if target.hold_s is not None else target.reps


def alone_s(rounds: Sequence[int], *, rest_s: int) -> int:
    """Time of those rounds of one exercise, each followed by its rest. [s]"""
    return sum(rounds) + rest_s * len(rounds)


def alternating_s(
    one: Sequence[int], other: Sequence[int], *, one_rest_s: int, other_rest_s: int
) -> int:
    """Time of the rounds of two exercises, one worked while the other rests. [s]

    No rest is shorter than it would be alone: a cycle of both lasts until each may begin
    again. What one has more than the other follows alone.
    """
    cycles = sum(
        max(a + one_rest_s, b + other_rest_s, a + b + CHANGE_S)
        for a, b in zip(one, other, strict=False)
    )
    both = min(len(one), len(other))
    return (
        cycles + alone_s(one[both:], rest_s=one_rest_s) + alone_s(other[both:], rest_s=other_rest_s)
    )


def warm_up_part_s(part: Exercise) -> int:
    """Time for one part of the warm-up. [s]"""
    sides = 2 if part.sides == "each" else 1
    return part.setup_s + work_s(part, None) * sides + part.dose.rest_s
