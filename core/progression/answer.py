"""The answer to "what next": the dose's rule, then every guard, then a load that exists."""

from dataclasses import replace
from datetime import date

from core.athlete import Athlete
from core.catalogue import (
    HoldRange,
    LoadedHold,
    LongHold,
    RepRange,
    SlowReps,
    TimedHold,
    get_exercise,
)
from core.derived import once
from core.errors import Unknown
from core.history import Stream, edge_in_use, sides_of, stream_of
from core.kit.help import BodyLoads
from core.kit.loads import Loads
from core.progression import (
    free_reps,
    loaded_hold,
    long_hold,
    net_load,
    slow_reps,
    timed_hold,
)
from core.progression.case import Case, Proposal, case_of
from core.progression.fitting import fitted
from core.progression.hold_question import hold_question
from core.progression.net_question import net_question
from core.progression.order import LOADED_HOLD, NET_LOAD, asked, guarded
from core.progression.reshape import is_same_line
from core.strength import trusted
from core.target import Target


def next_targets(athlete: Athlete, exercise: str, *, today: date) -> tuple[Target, ...]:
    """What to do next in an exercise: one target per side, left before right.

    All sessions of the record count as past, today's too; a caller who wants tonight's
    target as it was before tonight's sets leaves those out.

    Args:
        athlete: Whose.
        exercise: Slug.
        today: The training day, in the athlete's zone.

    Returns:
        Targets with loads that exist, each with its reasons.

    Raises:
        Unknown: The catalogue has no such exercise.
    """
    return once(athlete, ("next", exercise, today), lambda: _next_targets(athlete, exercise, today))


def _next_targets(athlete: Athlete, exercise: str, today: date) -> tuple[Target, ...]:
    targets: list[Target] = []
    for side in sides_of(exercise):
        edge_mm = edge_in_use(athlete, exercise, side=side)
        stream = stream_of(athlete, exercise, side=side, edge_mm=edge_mm)
        targets.extend(next_on(stream, athlete=athlete, today=today))
    return tuple(targets)


def _is_loaded(exercise: str) -> bool:
    """Whether a load is what progresses, not a ladder of variations."""
    dose = get_exercise(exercise).dose
    return isinstance(dose, LoadedHold) or (
        isinstance(dose, RepRange | HoldRange) and dose.share > 0
    )


def next_on(stream: Stream, *, athlete: Athlete, today: date) -> tuple[Target, ...]:
    """What to do next on one line of progress.

    One target, or one per side where it is time to go on to a harder exercise that has a
    target for each side. A harder line that was begun before goes on from its own record.
    """
    if _is_loaded(stream.exercise):
        stream = trusted(athlete, stream)
    case = case_of(athlete, stream, today=today)
    proposal = _proposal(case)
    target = guarded(proposal.next, proposal.same, case)
    if target.change == "stopped":
        # Why is said already; which plates there are matters no more.
        return (replace(fitted(target, case), reasons=target.reasons),)
    if is_same_line(target, proposal.same):
        return (fitted(target, case),)
    targets: list[Target] = []
    for line in proposal.onward:
        if line.sessions:
            further = next_on(line, athlete=athlete, today=today)
            targets.extend(_led_to(t, proposal.next) for t in further)
        else:
            targets.append(fitted(replace(target, side=line.side), case))
    return tuple(targets)


def _led_to(target: Target, moved: Target) -> Target:
    """The target of a harder line, with the reasons that led to that line at the end."""
    return replace(target, reasons=(*target.reasons, *moved.reasons))


def _proposal(case: Case) -> Proposal:
    match case.exercise.dose, case.choices:
        case LoadedHold() as dose, Loads() as loads:
            hold = hold_question(case, dose, loads)
            return (
                loaded_hold.first_session(case, dose) if hold is None else asked(LOADED_HOLD, hold)
            )
        case (RepRange() | HoldRange()) as dose, BodyLoads() as loads:
            net = net_question(case, dose, loads)
            return (
                net_load.first_session(case, dose, loads) if net is None else asked(NET_LOAD, net)
            )
        case RepRange() as dose, None:
            return free_reps.propose(case, dose)
        case TimedHold() as dose, None:
            return timed_hold.propose(case, dose)
        case SlowReps() as dose, None:
            return slow_reps.propose(case, dose)
        case LongHold() as dose, None:
            return long_hold.propose(case, dose)
    raise Unknown("dose for these loads", case.exercise.slug)
