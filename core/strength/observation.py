"""What one set says of the maximum, and how surely. Natural logarithms of kilograms.

Three errors are kept apart. The *form* of the day and the *reserve* that was told differ from
set to set, so they average out over sessions: ``sd_log``. How this person differs from the
published curve stays: ``curve_sd_log``. It falls out between the hands, between two days,
and where a load is worked out for a set like those observed.
"""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from functools import lru_cache
from math import hypot, log

from core.catalogue import Exercise, HoldRange, LoadedHold, RepRange, get_exercise
from core.facts import Effort, SetDone
from core.physiology.effort import MOST_RESERVE, reserve
from core.physiology.repetition import EPLEY_REPS, one_rep_max
from core.physiology.short_hold import (
    EXPONENT,
    FLOOR_PERCENT,
    PERCENT,
    SHIFT_S,
    share_held_frac,
    time_to_failure_s,
)
from core.strength.net_mass import load_of, net_kg

FORM_SD_LOG = 0.034
"""Spread of the form of the day. [log] finger_reliability_2025: up to 3.4 % between sessions."""

RESERVE_SD_REPS = 1.0
"""Error of a told reserve. [reps] hackett_2017: about 1 when 0 to 5 remain."""

RESERVE_SD_S = 2.0
"""Error of a told reserve of a hold. [s] House rule: nothing is published for holds."""

PERSON_SD_FRAC = 0.24
"""Spread of people about the curve, as part of the time or the reps to failure. [-]

frey_law_2012: 95 % of people lie within 29 to 47 % of the mean time; 0.47 / 1.96. The same
for repetitions is a house rule.
"""

LOOSE = 2.0
"""Spread is so many times as wide for "easy" and for the first seconds. House rule."""

LONGEST_S = 60.0
"""Holds beyond this say no more than this. [s] House rule: the curve is for short holds."""

MOST_REPS = 10.0
"""Sets beyond this say no more than this. [reps] reynolds_2006: no more than 10."""

CURVE_FROM_S = time_to_failure_s(1.0)
"""Time to failure at the maximum itself; shorter holds say no more. [s]"""


@dataclass(frozen=True, slots=True)
class Observation:
    """One saying of the maximum.

    Attributes:
        log_kg: Logarithm of the maximum, net where the body is carried. [log kg]
        sd_log: Spread that differs from set to set. [log]
        curve_sd_log: Spread of this person about the curve. [log]
        to_failure: Seconds or repetitions to failure that it rests on.
        is_floor: True where the maximum may be any amount more: "easy" means 3 or more left.
    """

    log_kg: float
    sd_log: float
    curve_sd_log: float
    to_failure: float
    is_floor: bool


def observation(
    exercise: Exercise, done: SetDone, *, body_kg: Decimal | None
) -> Observation | None:
    """What a set says of the maximum.

    Args:
        exercise: Catalogue entry.
        done: The set.
        body_kg: Body weight on that day. [kg]

    Returns:
        None without effort, load or time, for repeated lifts and for exercises without load.

    Validity: As the curve of short holds, 7 to 60 s, and Epley's equation, to 10 repetitions.
    Source: hincapie_ramos_2014; epley_1985, brzycki_1993; zourdos_2016.
    Ours: A failed set ends with nothing left. More than 3 told by "easy", a reserve of 5 and
        what lies beyond the curves are floors: at least so much.
    """
    effort = done.effort
    left = _reserve(effort, done.rpe, done.left)
    net = _net(exercise, done, body_kg)
    if left is None or net is None:
        return None
    amount = _amount(exercise, done)
    if amount is None:
        return None
    vague = effort == "easy" and done.rpe is None and done.left is None
    how = (amount, left, effort == "fail", vague or left >= MOST_RESERVE)
    kind = _holds if isinstance(exercise.dose, LoadedHold | HoldRange) else _lifts
    return kind(net, *how)


def at_least(exercise: Exercise, done: SetDone, *, body_kg: Decimal | None) -> Observation | None:
    """What a set shows even where nobody said how it went: that the load was lifted, no more.

    None where no load is known.
    """
    seen = observation(exercise, done, body_kg=body_kg)
    net = _net(exercise, done, body_kg)
    if seen is not None or net is None:
        return seen
    lifted = observation(exercise, replace(done, effort="limit"), body_kg=body_kg)
    if lifted is not None and done.effort != "fail":
        return replace(lifted, is_floor=True)
    return Observation(log(net), LOOSE * FORM_SD_LOG, 0.0, 1.0, True)


def shown(
    exercise: Exercise, done: SetDone, *, body_kg: Decimal | None
) -> tuple[Observation | None, Observation | None]:
    """Both ``observation`` and ``at_least``, remembered for sets that come again and again."""
    return _shown(
        exercise.slug,
        done.load_kg,
        done.band,
        done.reps,
        done.hold_s,
        done.effort,
        done.rpe,
        done.left,
        body_kg,
    )


def best_of(seen: Iterable[Observation]) -> Observation | None:
    """The observation of a session: its best set, since later sets are tired ones.

    The sets of a session share the day's form, so more of them make it no surer. It is a
    floor only if every set was one. House rule.
    """
    said = tuple(seen)
    if not said:
        return None
    best = max(said, key=lambda one: (one.log_kg, -one.sd_log))
    if best.is_floor and not all(one.is_floor for one in said):
        return replace(best, is_floor=False)
    return best


def share_slope(time_s: float) -> float:
    """By how much a second changes the logarithm of the share that can be held. [1/s], > 0

    Validity: As the curve; that of its start for shorter times.
    Source: hincapie_ramos_2014, the logarithm of its inverse differentiated.
    Ours: nothing.
    """
    time_s = max(time_s, CURVE_FROM_S)
    percent = share_held_frac(time_s) * PERCENT
    return float((percent - FLOOR_PERCENT) / (EXPONENT * (time_s + SHIFT_S) * percent))


def person_log_of_time(time_s: float) -> float:
    """By how much one standard deviation between people moves the log of the maximum. [log]

    Validity: As the curve, and that of its start for shorter times.
    Source: frey_law_2012 for the spread in time, hincapie_ramos_2014 for what it does to load.
    Ours: Taking 47 % for the half-width of 95 % of people.
    """
    return share_slope(time_s) * max(time_s, CURVE_FROM_S) * PERSON_SD_FRAC


def person_log_of_reps(reps: float) -> float:
    """As ``person_log_of_time``, for repetitions to failure. [log]

    Validity: To 10 repetitions.
    Source: epley_1985, the logarithm of its factor differentiated.
    Ours: The spread of people, as for time.
    """
    return reps / (EPLEY_REPS + reps) * PERSON_SD_FRAC


def _net(exercise: Exercise, done: SetDone, body_kg: Decimal | None) -> float | None:
    net = net_kg(exercise, load_of(exercise, done), body_kg=body_kg)
    return None if net is None or net <= 0 else float(net)


def _amount(exercise: Exercise, done: SetDone) -> int | None:
    """Seconds or repetitions of a set from which a maximum can be worked out."""
    match exercise.dose:
        case LoadedHold(lifts=1) | HoldRange():
            return done.hold_s or None
        case RepRange():
            return done.reps or None
        case _:
            return None


@lru_cache(maxsize=65536)
def _shown(
    slug: str,
    load_kg: Decimal | None,
    band: str | None,
    reps: int | None,
    hold_s: int | None,
    effort: Effort | None,
    rpe: Decimal | None,
    left: int | None,
    body_kg: Decimal | None,
) -> tuple[Observation | None, Observation | None]:
    exercise = get_exercise(slug)
    done = SetDone("both", load_kg, band, reps, hold_s, effort, rpe, left)
    seen = observation(exercise, done, body_kg=body_kg)
    return seen, seen or at_least(exercise, done, body_kg=body_kg)


def _reserve(effort: Effort | None, rpe: Decimal | None, left: int | None) -> float | None:
    told = reserve(effort, rpe=rpe, left=left)
    return None if told is None else 0.0 if effort == "fail" else float(told)


def _holds(net: float, held_s: int, left_s: float, failed: bool, floor: bool) -> Observation:
    to_failure = held_s + left_s
    time_s = min(to_failure, LONGEST_S)
    slope = share_slope(time_s)
    told = 0.0 if failed else slope * RESERVE_SD_S
    vague = floor or to_failure < CURVE_FROM_S
    return Observation(
        log_kg=log(net / share_held_frac(time_s)),
        sd_log=hypot(FORM_SD_LOG, told) * (LOOSE if vague else 1.0),
        curve_sd_log=person_log_of_time(time_s),
        to_failure=time_s,
        is_floor=floor or to_failure > LONGEST_S,
    )


def _lifts(net: float, reps: int, left: float, failed: bool, floor: bool) -> Observation:
    to_failure = min(reps + left, MOST_REPS)
    single = one_rep_max(net, reps=1, reserve=to_failure - 1)
    slope = 1 / (EPLEY_REPS + to_failure)
    told = 0.0 if failed else slope * RESERVE_SD_REPS
    apart = abs(log(single.epley_kg / single.brzycki_kg))
    return Observation(
        log_kg=log(single.epley_kg),
        sd_log=hypot(FORM_SD_LOG, told) * (LOOSE if floor else 1.0),
        curve_sd_log=max(apart, person_log_of_reps(to_failure)),
        to_failure=to_failure,
        is_floor=floor or reps + left > MOST_REPS,
    )
