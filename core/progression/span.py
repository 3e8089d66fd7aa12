"""A range of reps or seconds, and what one session did in it."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from core.catalogue import HoldRange, RepRange
from core.facts import Effort, SetDone
from core.history import Session
from core.kit.help import band_help_kg
from core.kit.inventory import Inventory
from core.physiology.effort import RESERVE, hardest
from core.physiology.repetition import one_rep_max_kg_epley_1985, reps_to_failure
from core.physiology.short_hold import (
    FLOOR_PERCENT,
    PERCENT,
    maximum_kg,
    time_to_failure_s,
)
from core.progression.judgement import effort_in
from core.progression.reshape import with_reps, with_seconds
from core.target import Target, Value

MOST_REPS = 12
"""Where the next load is far away, reps go up to here: equations hold no further. House rule."""

MOST_S = 30
"""Where the next load is far away, seconds go up to here. [s] House rule."""


@dataclass(frozen=True, slots=True)
class Span:
    """Low to high reps or seconds per set.

    Attributes:
        unit: What is counted.
        sets: Number of sets.
        low: Bottom of the range.
        high: Top of the range.
        most: How far it may be stretched where the next load is too far away.
    """

    unit: Literal["reps", "seconds"]
    sets: int
    low: int
    high: int
    most: int

    def aimed(self, target: Target, aims: tuple[int, ...]) -> Target:
        """The target with those aims."""
        return with_reps(target, aims) if self.unit == "reps" else with_seconds(target, aims)

    def in_set(self, done: SetDone) -> int | None:
        """What was done in a set, None if it was not said."""
        return done.reps if self.unit == "reps" else done.hold_s

    def predicted(self, *, net_kg: float, done: int, reserve: float, next_kg: float) -> float:
        """How many reps or seconds to failure are expected at another net load. [reps or s]

        Validity: As the equation of repetitions or the curve of short holds.
        Source: epley_1985; hincapie_ramos_2014.
        Ours: Applying them to body weight and added load together.
        """
        if self.unit == "reps":
            single_kg = one_rep_max_kg_epley_1985(net_kg, done + reserve)
            return reps_to_failure(next_kg, one_rep_max_kg=single_kg)
        share = next_kg / maximum_kg(net_kg, held_s=done, reserve_s=reserve)
        if share > 1:
            return 0.0
        return float("inf") if share * PERCENT <= FLOOR_PERCENT else time_to_failure_s(share)


def span_of(dose: RepRange | HoldRange) -> Span:
    """The range of a dose."""
    if isinstance(dose, RepRange):
        return Span("reps", dose.sets, dose.low, dose.high, max(dose.high, MOST_REPS))
    return Span("seconds", dose.sets, dose.low_s, dose.high_s, max(dose.high_s, MOST_S))


@dataclass(frozen=True, slots=True)
class SpanVerdict:
    """What one session did in a range.

    Attributes:
        day: Training day.
        done: Reps or seconds of the sets at ``load_kg``, in order.
        of: Sets asked for.
        all_sets: Sets done at any load.
        load_kg: Load of most sets, the lighter one of two; None if it cannot be known. [kg]
        band: Name of a band whose help is not known, or None.
        effort: The hardest effort said; None if none was.
    """

    day: date
    done: tuple[int, ...]
    of: int
    all_sets: int
    load_kg: Decimal | None
    band: str | None
    effort: Effort | None

    @property
    def reserve(self) -> float:
        """What was left in the hardest set. [reps or s]"""
        return 0.0 if self.effort is None else float(RESERVE[self.effort])

    def facts(self) -> dict[str, Value]:
        """The session in the names that reasons use."""
        said: dict[str, Value] = {
            "day": self.day,
            "sets": self.all_sets,
            "of": self.of,
            "done": ", ".join(str(d) for d in self.done),
        }
        if self.load_kg is not None:
            said["load_kg"] = self.load_kg
        if self.effort is not None:
            said["effort"] = self.effort
        return said


def span_verdict(session: Session, span: Span, kit: Inventory) -> SpanVerdict:
    """The verdict on a session. A set whose number was not said counts as the bottom."""
    asked = session.asked if session.asked is not None and session.asked.sets > 0 else None
    loads = Counter(load_of(s, kit) for s in session.sets)
    most = max(loads.values())
    candidates = [load for load, count in loads.items() if count == most]
    known = [load for load in candidates if load is not None]
    load_kg = min(known) if known else None
    mine = [s for s in session.sets if load_of(s, kit) == load_kg]
    return SpanVerdict(
        day=session.day,
        done=tuple(span.in_set(s) or span.low for s in mine),
        of=asked.sets if asked is not None else span.sets,
        all_sets=len(session.sets),
        load_kg=load_kg,
        band=mine[0].band if load_kg is None else None,
        effort=hardest(effort_in(s) for s in session.sets),
    )


def missed_twice(verdicts: Sequence[SpanVerdict], span: Span) -> bool:
    """Whether a set stayed under the bottom in each of two sessions running, all sets done."""
    if len(verdicts) < 2 or verdicts[-1].all_sets < verdicts[-1].of:
        return False
    return all(min(v.done) < span.low for v in verdicts[-2:])


def load_of(done: SetDone, kit: Inventory) -> Decimal | None:
    """The load on the body in a set: as said, else by the band, else none. [kg]

    None for a band that is not owned and whose help was not said.
    """
    if done.load_kg is not None:
        return done.load_kg
    if done.band is None:
        return Decimal(0)
    help_kg = band_help_kg(kit, done.band)
    return None if help_kg is None else -help_kg
