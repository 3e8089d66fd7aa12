"""Which sets look like a slip of the finger: 220 kg for 22, pounds for kilograms.

A set is doubted when it lies beyond both a number of standard deviations and a factor, so
that neither a vague record after months off nor a sure one alone is enough; and never when
about that was asked for. A load above the record drives nothing until it is confirmed; a load
below it becomes the record once the next session agrees, since that is safe.
"""

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from math import log, sqrt
from typing import Literal

from core.catalogue import Exercise
from core.facts import Asked, SetDone
from core.kit.inventory import Inventory
from core.strength.filter import Belief
from core.strength.observation import Observation, at_least

Why = Literal["higher", "lower", "plates"]
"""Far above the record, far under it, or far more than all the plates together."""

GATE_SD = 4.0
"""Standard deviations beyond which a set is doubted. House rule: one in some ten thousand."""

FOUND_FACTOR = 1.5
"""Factor beyond which a set above a record, or above all plates, is doubted. House rule."""

FINDING_FACTOR = 2.0
"""The same in the first ``FINDING`` sessions. House rule: a kilogram is 2.2 pounds."""

FINDING = 4
"""Sessions in which the level is still being found. House rule."""

FLOOR_FACTOR = 3.0
"""The same while every session was easy. House rule: a start is low on purpose."""

LOWER_FACTOR = 2.0
"""Factor beyond which a set under a record is doubted. House rule: light sets are common."""

NEVER_STRAY = log(min(FOUND_FACTOR, FINDING_FACTOR, FLOOR_FACTOR, LOWER_FACTOR))
"""No set nearer than this is ever doubted. [log]"""


@dataclass(frozen=True, slots=True)
class Doubted:
    """A set that looks like a slip.

    Attributes:
        log: Entry number of its log; 0 if unknown.
        day: Training day.
        done: The set.
        why: What speaks against it.
        log_kg: The maximum it would speak for, net. [log kg]
        expected_log_kg: The maximum it was compared with, net. [log kg]
        last: Day and best set before it; None if there is none.
    """

    log: int
    day: date
    done: SetDone
    why: Why
    log_kg: float
    expected_log_kg: float
    last: tuple[date, SetDone] | None


def stray(seen: Observation, belief: Belief, *, day: date) -> Why | None:
    """Whether a set is too far from what is believed to be taken as it is.

    Args:
        seen: What the set says at least.
        belief: What was believed before it.
        day: The day of the set.
    """
    apart = seen.log_kg - belief.log_kg
    if abs(apart) <= GATE_SD * sqrt(belief.variance_on(day) + seen.sd_log**2):
        return None
    if apart > log(_most_factor(belief)):
        return "higher"
    if apart < -log(LOWER_FACTOR) and not seen.is_floor:
        return "lower"
    return None


def beyond_plates(exercise: Exercise, done: SetDone, kit: Inventory) -> float | None:
    """What pin and plates weigh in all, if a lift from the floor is far beyond it. [log kg]

    None where it is not, or where no plate is known.
    """
    if not exercise.from_floor or done.load_kg is None or not kit.plates:
        return None
    all_kg = float(kit.base_kg(exercise.slug) + sum(p.kg * p.count for p in kit.plates))
    return log(all_kg) if float(done.load_kg) > all_kg * FOUND_FACTOR else None


def is_as_asked(
    exercise: Exercise,
    done: SetDone,
    seen: Observation,
    *,
    asked: Asked | None,
    body_kg: Decimal | None,
) -> bool:
    """Whether a set, which says ``seen``, says about what it would as it was asked for."""
    if asked is None or asked.load_kg is None:
        return False
    meant = replace(
        done,
        load_kg=asked.load_kg,
        band=None,
        reps=done.reps if asked.reps is None else asked.reps,
        hold_s=done.hold_s if asked.hold_s is None else asked.hold_s,
    )
    wanted = at_least(exercise, meant, body_kg=body_kg)
    return wanted is not None and agree(seen, wanted)


def agree(one: Observation, other: Observation) -> bool:
    """Whether two sets or sessions speak of about the same level."""
    return abs(one.log_kg - other.log_kg) <= log(FOUND_FACTOR)


def _most_factor(belief: Belief) -> float:
    if belief.is_floor:
        return FLOOR_FACTOR
    return FINDING_FACTOR if belief.sessions < FINDING else FOUND_FACTOR
