"""Words for a programme file: what it says, and what is wrong with it."""

from bot.wording.number import duration
from core.catalogue import (
    Exercise,
    HoldRange,
    LoadedHold,
    LongHold,
    RepRange,
    SlowReps,
    TimedHold,
)
from core.programme import Listed, Problem, Programme, ProgrammeBlock


def summary_lines(programme: Programme) -> list[str]:
    """The programme on a page."""
    parts = [f"{part.name} {_warm_up_words(part)}" for part in programme.warm_up]
    ramp = ", ".join(f"{share:.0%}" for share in programme.ramp)
    lines = [
        programme.name,
        f"{programme.minutes} min until an athlete says otherwise",
        f"an easier week every {programme.deload_week} weeks of training",
        "rests shared where exercises do not compete" if programme.shares_rests else "",
        f"warm-up: {', '.join(parts)}; ramp lifts at {ramp} of the top load",
    ]
    for block in programme.blocks:
        lines += _block_lines(block, programme.optional_days)
    return [line for line in lines if line]


def _block_lines(block: ProgrammeBlock, days: int) -> list[str]:
    steady = block.every_evening
    turns = ""
    if steady is not None and steady < block.most and steady < len(block.listed):
        turns = f", {steady} by priority every evening, the others in turn"
    return [
        f"{block.name}: at most {block.most}{turns}",
        *(f"· {_exercise_words(one, days)}" for one in block.listed),
    ]


def _exercise_words(one: Listed, days: int) -> str:
    exercise = one.exercise
    optional = f"; optional: stays {days} days after a log" if one.is_optional else ""
    dose = f"{_dose_words(exercise)}, rest {duration(exercise.dose.rest_s)}"
    return f"{exercise.name} {dose}, priority {one.priority}{optional}"


def _dose_words(exercise: Exercise) -> str:
    match exercise.dose:
        case LoadedHold(sets=sets, lifts=lifts, hold_s=hold_s) if lifts > 1:
            return f"{sets} × {lifts} lifts of {hold_s} s"
        case LoadedHold(sets=sets, hold_s=hold_s):
            return f"{sets} × {hold_s} s"
        case RepRange(sets=sets, low=low, high=high):
            return f"{sets} × {_range(low, high)}"
        case HoldRange(sets=sets, low_s=low, high_s=high):
            return f"{sets} × {_range(low, high)} s"
        case TimedHold(sets=sets, start_s=low, ceiling_s=high):
            return f"{sets} × {_range(low, high)} s"
        case LongHold(sets=sets, least_s=low, ceiling_s=high):
            return f"{sets} × {_range(low, high)} s"
        case SlowReps(sets=sets, reps=low, most_reps=high):
            return f"{sets} × {_range(low, high)} slow"


def _warm_up_words(part: Exercise) -> str:
    match part.dose:
        case LongHold(least_s=least_s):
            return duration(least_s)
        case SlowReps(reps=reps):
            return f"× {reps}"
        case _:
            return _dose_words(part)


def _range(low: int, high: int) -> str:
    return f"{low}" if low == high else f"{low} to {high}"


def problem_lines(problems: tuple[Problem, ...]) -> list[str]:
    """Every mistake in a line, and how many there are."""
    count = f"{len(problems)} mistakes" if len(problems) > 1 else "1 mistake"
    return [count, *map(problem_line, problems)]


def problem_line(problem: Problem) -> str:
    """One mistake: where, which field, what was found, what may stand there."""
    column = f", column {problem.column}" if problem.column is not None else ""
    field = f"{problem.field}: " if problem.field else ""
    found = problem.found or "missing"
    return f"line {problem.line}{column}: {field}{found}; allowed: {problem.allowed}"
