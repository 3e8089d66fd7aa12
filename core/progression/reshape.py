"""Targets changed in one respect: their aims, their reasons, or stopped."""

from dataclasses import replace

from core.target import Change, Reason, Target

INCREASES: frozenset[Change] = frozenset({"up", "longer", "harder-variation"})
"""Changes that ask for more than the last time."""


def aims_of(target: Target) -> tuple[int, ...]:
    """The reps or seconds of each set."""
    every = target.reps if target.hold_s is None else target.hold_s
    return target.by_set or (every or 0,) * target.sets


def with_reps(target: Target, aims: tuple[int, ...]) -> Target:
    """The target with so many reps set by set."""
    return replace(target, sets=len(aims), reps=aims[0], by_set=_unequal(aims))


def with_seconds(target: Target, aims: tuple[int, ...]) -> Target:
    """The target with so many seconds set by set."""
    return replace(target, sets=len(aims), hold_s=aims[0], by_set=_unequal(aims))


def explained(target: Target, change: Change, *reasons: Reason) -> Target:
    """The target with that change, and these reasons after those it has."""
    return replace(target, change=change, reasons=(*target.reasons, *reasons))


def is_same_line(target: Target, other: Target) -> bool:
    """Whether both are for the same exercise on the same edge."""
    return (target.exercise, target.edge_mm) == (other.exercise, other.edge_mm)


def without_increase(target: Target, same: Target) -> Target:
    """The target, or the same dose as last time where it asks for more."""
    return same if target.change in INCREASES else target


def stopped(target: Target, why: Reason) -> Target:
    """The target not to be done, for that reason."""
    return replace(target, sets=0, by_set=(), change="stopped", reasons=(why,))


def _unequal(aims: tuple[int, ...]) -> tuple[int, ...]:
    return aims if len(set(aims)) > 1 else ()
