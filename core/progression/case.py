"""One question to the rules: whose target, for which exercise, side and edge, on which day."""

from dataclasses import dataclass, replace
from datetime import date, timedelta
from decimal import Decimal

from core.athlete import Athlete
from core.catalogue import Exercise, HoldRange, RepRange, get_exercise
from core.history import Session, Stream
from core.kit.help import BodyLoads, body_loads
from core.kit.loads import Loads, loads_from_floor
from core.target import Change, Reason, Target

DELOAD_DAYS = 7
"""Days that a deload lasts, the day it was asked for included. House rule."""

INCREASES: frozenset[Change] = frozenset({"up", "longer", "harder-variation"})
"""Changes that ask for more than the last time."""


@dataclass(frozen=True, slots=True)
class Case:
    """All that the rules may look at.

    Attributes:
        athlete: Whose target it is.
        exercise: Catalogue entry.
        stream: Every session of that exercise, side and edge.
        level: The sessions that show the level: those of a deload are left out.
        today: The day the target is for.
        choices: The loads that exist, None where none is meant.
    """

    athlete: Athlete
    exercise: Exercise
    stream: Stream
    level: tuple[Session, ...]
    today: date
    choices: Loads | BodyLoads | None

    def net_kg(self, load_kg: Decimal | None) -> Decimal | None:
        """What the muscles carry at that load, None if not known. [kg]"""
        if load_kg is None or self.choices is None or isinstance(self.choices, Loads):
            return load_kg
        dose = self.exercise.dose
        if self.athlete.body_kg is None or not isinstance(dose, RepRange | HoldRange):
            return None
        return self.athlete.body_kg * Decimal(str(dose.share)) + load_kg

    def load_at_net(self, net_kg: Decimal) -> Decimal | None:
        """The load at which the muscles carry ``net_kg``, None if not known. [kg]"""
        nothing = self.net_kg(Decimal(0))
        return None if nothing is None else net_kg - nothing

    def base(self) -> Target:
        """The default dose, without aims, load and reasons."""
        return Target(
            exercise=self.exercise.slug,
            side=self.stream.side,
            edge_mm=self.stream.edge_mm,
            sets=self.exercise.dose.sets,
            reps=None,
            hold_s=None,
            by_set=(),
            load_kg=None,
            plates_kg=(),
            pin_kg=None,
            band=None,
            variation=None,
            rest_s=self.exercise.dose.rest_s,
            change="same",
            reasons=(),
        )


@dataclass(frozen=True, slots=True)
class Proposal:
    """What a dose rule answers, before the guards.

    Attributes:
        next: What the last session calls for.
        same: The last dose again, for guards that forbid an increase.
        onward: The lines of progress that ``next`` moves on to, one per side; empty where it
            stays on its own.
    """

    next: Target
    same: Target
    onward: tuple[Stream, ...] = ()


def case_of(athlete: Athlete, stream: Stream, *, today: date) -> Case:
    """The case for one stream of an athlete."""
    exercise = get_exercise(stream.exercise)
    choices: Loads | BodyLoads | None = None
    if exercise.from_floor:
        choices = loads_from_floor(athlete.kit)
    elif isinstance(exercise.dose, RepRange | HoldRange) and exercise.dose.share > 0:
        choices = body_loads(
            athlete.kit,
            takes_help=exercise.takes_help,
            body_kg=athlete.body_kg,
            used_kg=(d.load_kg for s in stream.sessions for d in s.sets if d.load_kg is not None),
        )
    level = tuple(
        session
        for session in stream.sessions
        if not _was_deload(session, athlete, sets=exercise.dose.sets)
    )
    return Case(athlete, exercise, stream, level, today, choices)


def in_deload(athlete: Athlete, day: date) -> date | None:
    """The day on which the deload that covers ``day`` was asked for, None without one."""
    spans = (d for d in athlete.deloads if d <= day < d + timedelta(days=DELOAD_DAYS))
    return max(spans, default=None)


def _was_deload(session: Session, athlete: Athlete, *, sets: int) -> bool:
    """Whether a session shows no level: in a deload, or asked for less on its first day."""
    week = timedelta(days=DELOAD_DAYS)
    if any(asked < session.day < asked + week for asked in athlete.deloads):
        return True
    fewer = session.asked is not None and session.asked.sets < sets
    return fewer and session.day in athlete.deloads


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
