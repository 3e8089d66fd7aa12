"""The dose of an exercise where a programme differs from the catalogue. Bounds are house rules.

They are no wider than what the rules of progress can work with: a hold beyond the longest one
that they build up, or more repetitions than the equations hold for, would never move again.
"""

from core.catalogue import Exercise, HoldRange, LoadedHold, LongHold, RepRange, SlowReps, TimedHold
from core.programme.table import Bounds, Table

SETS = Bounds(1, 10)
LOADED_HOLD_S = Bounds(5, 30, "longer trains something else")
LOADED_REPS = Bounds(1, 12, "equations of repetitions hold no further")
FREE_REPS = Bounds(1, 50)
SLOW_REPS = Bounds(1, 30)
BODY_HOLD_S = Bounds(3, 30, "longer trains something else")
TIMED_HOLD_S = Bounds(5, 120)
LONG_HOLD_S = Bounds(10, 600)

HEAVY_REST_S = Bounds(60, 600, "a set with a load needs a rest")
"""Rest after sets at a load or at body weight. Common practice, no source."""

LIGHT_REST_S = Bounds(15, 600)
"""Rest after all other sets. Common practice, no source."""


def dosed(exercise: Exercise, table: Table) -> Exercise:
    """The exercise with the dose that the table states, else the catalogue's, mistakes noted."""
    dose = exercise.dose
    changes: dict[str, int] = {}
    rest = LIGHT_REST_S
    match dose:
        case LoadedHold(lifts=lifts):
            rest = HEAVY_REST_S
            if lifts == 1:
                changes |= _one(table, "hold_s", LOADED_HOLD_S)
        case RepRange(share=share):
            rest = HEAVY_REST_S if share else LIGHT_REST_S
            bounds = LOADED_REPS if share else FREE_REPS
            changes |= _two(table, "reps", bounds, names=("low", "high"))
        case HoldRange():
            rest = HEAVY_REST_S
            changes |= _two(table, "hold_s", BODY_HOLD_S, names=("low_s", "high_s"))
        case TimedHold(step_s=step_s):
            names = ("start_s", "ceiling_s")
            changes |= _two(table, "hold_s", TIMED_HOLD_S, names=names, apart=step_s)
        case LongHold():
            changes |= _two(table, "hold_s", LONG_HOLD_S, names=("least_s", "ceiling_s"))
        case SlowReps():
            changes |= _two(table, "reps", SLOW_REPS, names=("reps", "most_reps"))
    changes |= {**_one(table, "sets", SETS), **_one(table, "rest_s", rest)}
    if not changes:
        return exercise
    return exercise.model_copy(update={"dose": dose.model_copy(update=changes)})


def _one(table: Table, key: str, bounds: Bounds) -> dict[str, int]:
    if not table.has(key):
        return {}
    found = table.whole(key, bounds)
    return {} if found is None else {key: found}


def _two(
    table: Table, key: str, bounds: Bounds, *, names: tuple[str, str], apart: int = 0
) -> dict[str, int]:
    """Where one begins and how far it goes, the second at least ``apart`` above the first."""
    if not table.has(key):
        return {}
    what = f"[from, to], to at least {apart} more than from" if apart else "[from, to]"
    found = table.numbers(key, bounds, what=what)
    if found is None:
        return {}
    if len(found) != 2 or found[0] + apart > found[1]:
        text = f"[{', '.join(map(str, found[:4]))}{', …' if len(found) > 4 else ''}]"
        allowed = f"{what}, whole numbers {bounds.numbers}"
        table.fault("out-of-bounds", key, found=text, allowed=allowed)
        return {}
    return dict(zip(names, found, strict=True))
