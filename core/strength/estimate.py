"""How strong, and how sure: the estimate of one line of progress, and loads worked out from it.

Masses are floats here: they are estimates. What goes on a pin comes from ``core.kit``.
"""

from dataclasses import dataclass, replace
from datetime import date
from decimal import ROUND_FLOOR, Decimal
from math import exp, hypot, log, sqrt

from core.athlete import Athlete
from core.errors import OutOfRange
from core.facts import Side
from core.history import Stream, stream_of
from core.physiology.repetition import EPLEY_REPS
from core.physiology.short_hold import share_held_frac
from core.quantity import GRAM_KG
from core.strength.fold import fold
from core.strength.observation import (
    LONGEST_S,
    MOST_REPS,
    person_log_of_reps,
    person_log_of_time,
)

NINETY = 1.6448536269514722
"""Standard deviations on either side of the middle 90 % of a normal distribution."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """How strong an athlete is in one exercise, side and edge.

    Attributes:
        exercise: Slug.
        side: Whose hand or leg, or both.
        edge_mm: Depth of the edge. [mm]
        maximum_kg: The most likely maximum, net for exercises on the body. [kg]
        sd_log: Standard deviation of its logarithm, the curve's error included. [log]
        own_sd_log: The same without the curve's error, which falls out between hands, days
            and like sets. [log]
        low_kg, high_kg: The maximum is between them nine times in ten. [kg]
        as_of: Day of the last session that counts.
        sessions: Recent sessions that it rests on.
        to_failure: Seconds or repetitions to failure of the last one.
        is_floor: True where all that is known is "at least so much".
    """

    exercise: str
    side: Side
    edge_mm: int | None
    maximum_kg: float
    sd_log: float
    own_sd_log: float
    low_kg: float
    high_kg: float
    as_of: date
    sessions: int
    to_failure: float
    is_floor: bool


def strength_of(
    athlete: Athlete, exercise: str, *, side: Side, edge_mm: int | None, today: date
) -> Estimate | None:
    """How strong an athlete is on a day, by what was logged up to it.

    Args:
        athlete: Whose.
        exercise: Slug.
        side: left or right where each hand has its own record, else both.
        edge_mm: Depth of the edge. [mm]
        today: The day.

    Returns:
        None where no set says anything: without effort, load or time, for repeated lifts and
        for exercises without load.

    Raises:
        Unknown: The catalogue has no such exercise.
    """
    stream = stream_of(athlete, exercise, side=side, edge_mm=edge_mm)
    return strength_from(athlete, stream, today=today)


def strength_from(athlete: Athlete, stream: Stream, *, today: date) -> Estimate | None:
    """As ``strength_of``, from a line of progress that is at hand."""
    past = tuple(s for s in stream.sessions if s.day <= today)
    if len(past) < len(stream.sessions):
        stream = replace(stream, sessions=past)
    seen = fold(athlete, stream)
    last = next((one for one in reversed(seen.seen) if one is not None), None)
    if seen.belief is None or last is None:
        return None
    own = sqrt(seen.belief.variance_on(today))
    spread = hypot(own, last.curve_sd_log)
    return Estimate(
        exercise=stream.exercise,
        side=stream.side,
        edge_mm=stream.edge_mm,
        maximum_kg=exp(seen.belief.log_kg),
        sd_log=spread,
        own_sd_log=own,
        low_kg=exp(seen.belief.log_kg - NINETY * spread),
        high_kg=exp(seen.belief.log_kg + NINETY * spread),
        as_of=seen.belief.day,
        sessions=seen.belief.sessions,
        to_failure=last.to_failure,
        is_floor=seen.belief.is_floor,
    )


def load_for(estimate: Estimate, *, hold_s: float, reserve_s: float) -> Decimal:
    """A careful load for a hold: nine times in ten to twenty it can be held so. [kg]

    The lower end of the estimate's 90 %. The curve's error counts by how much the hold
    differs from those that were observed.

    Args:
        estimate: Of an exercise that is held.
        hold_s: Time to hold. [s], > 0
        reserve_s: Time that should be left. [s], >= 0

    Returns:
        Net load where the body is carried, to the gram, rounded down. [kg]

    Raises:
        OutOfRange: A time breaks its interval, or is beyond what the curve is for.

    Validity: As the curve, to 60 s.
    Source: hincapie_ramos_2014; frey_law_2012 for the spread between people.
    Ours: The lower end instead of the centre.
    """
    time_s = hold_s + reserve_s
    if reserve_s < 0 or hold_s <= 0:
        raise OutOfRange("hold_s, reserve_s", (hold_s, reserve_s), "> 0, >= 0")
    if time_s > LONGEST_S:
        raise OutOfRange("hold_s + reserve_s", time_s, f"at most {LONGEST_S:g}")
    person = person_log_of_time(time_s) - person_log_of_time(estimate.to_failure)
    return _careful(estimate, log(share_held_frac(time_s)), person)


def load_for_reps(estimate: Estimate, *, reps: int, reserve: float) -> Decimal:
    """A careful load for a set of repetitions: as ``load_for``. [kg]

    Args:
        estimate: Of an exercise that is counted in repetitions.
        reps: Repetitions to do. [-], >= 1
        reserve: Repetitions that should be left. [-], >= 0

    Raises:
        OutOfRange: A number breaks its interval, or both together are over 10.

    Validity: As Epley's equation, to 10 repetitions.
    Source: epley_1985, solved for the load.
    Ours: The lower end instead of the centre; the maximum itself for one repetition.
    """
    to_failure = reps + reserve
    if reps < 1 or reserve < 0:
        raise OutOfRange("reps, reserve", (reps, reserve), ">= 1, >= 0")
    if to_failure > MOST_REPS:
        raise OutOfRange("reps + reserve", to_failure, f"at most {MOST_REPS:g}")
    person = person_log_of_reps(to_failure) - person_log_of_reps(estimate.to_failure)
    share = 1.0 if to_failure == 1 else 1 / (1 + to_failure / EPLEY_REPS)
    return _careful(estimate, log(share), person)


def _careful(estimate: Estimate, log_share: float, person_sd_log: float) -> Decimal:
    spread = hypot(estimate.own_sd_log, person_sd_log)
    load = exp(log(estimate.maximum_kg) + log_share - NINETY * spread)
    return Decimal(str(load)).quantize(GRAM_KG, ROUND_FLOOR)
