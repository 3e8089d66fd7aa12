"""Steps down in load that sessions called for, counted by day."""

from bisect import bisect_left
from collections import Counter
from collections.abc import Mapping
from datetime import date, timedelta
from operator import attrgetter

from core.athlete import Athlete, DatedLog
from core.catalogue import Exercise, HoldRange, LoadedHold, RepRange
from core.catalogue.model import Dose
from core.derived import folded
from core.facts import SetDone
from core.history import Session, Stream, logs_by_exercise, sides_of, stream_of, with_days
from core.kit.inventory import Inventory
from core.progression.judgement import falls, hold_verdict
from core.progression.span import missed_twice, span_of, span_verdict

NEAR = timedelta(days=7)


def steps_down(athlete: Athlete) -> Mapping[date, int]:
    """In how many exercises a session of that day called for less load.

    Both hands of an exercise count once. Ladders of variations have no load to lower. Days
    with a single poor exercise in a week are left out, since one step down is no sign.
    """
    poor = sorted(
        (day, slug) for slug in logs_by_exercise(athlete) for day in _poor_days(athlete, slug)
    )
    found: Counter[date] = Counter()
    for i, (day, slug) in enumerate(poor):
        near = (poor[k][0] for k in (i - 1, i + 1) if 0 <= k < len(poor))
        if any(abs(other - day) < NEAR for other in near) and _steps_down(athlete, slug, day):
            found[day] += 1
    return found


def _poor_days(athlete: Athlete, slug: str) -> tuple[date, ...]:
    """The days with a set that failed, or stayed under the bottom of its range."""
    dose = athlete.programme.exercise(slug).dose
    return folded(
        athlete,
        ("poor", slug),
        logs_by_exercise(athlete)[slug],
        lambda days, logs: with_days(days, tuple(_poor(dose, logs))),
        begin=(),
        given=dose,
    )


def _poor(dose: Dose, logs: tuple[DatedLog, ...]) -> list[DatedLog]:
    if isinstance(dose, LoadedHold):
        return [d for d in logs if "fail" in [s.effort for s in d.log.sets]]
    if isinstance(dose, RepRange | HoldRange) and dose.share > 0:
        span = span_of(dose)
        counted = attrgetter("reps" if span.unit == "reps" else "hold_s")
        # A set whose number was not said counts as the bottom, and is not under it.
        return [d for d in logs if min(counted(s) or span.low for s in d.log.sets) < span.low]
    return []


def _steps_down(athlete: Athlete, slug: str, day: date) -> bool:
    """Whether one of the exercise's lines called for less after that day's session."""
    edges = {d.log.edge_mm for d in logs_by_exercise(athlete)[slug] if d.day == day}
    for edge_mm in edges:
        for side in sides_of(slug):
            stream = stream_of(athlete, slug, side=side, edge_mm=edge_mm)
            if _called_for_less(athlete, stream, day):
                return True
    return False


def _called_for_less(athlete: Athlete, stream: Stream, day: date) -> bool:
    at = bisect_left(stream.sessions, day, key=_day)
    if at == len(stream.sessions) or stream.sessions[at].day != day:
        return False
    exercise = athlete.programme.exercise(stream.exercise)
    return folded(
        athlete,
        ("less", stream.exercise, stream.side, stream.edge_mm, day),
        (stream.sessions[max(0, at - 1) : at + 1],),
        lambda _, pairs: _calls_for_less(exercise, pairs[-1], athlete.kit),
        begin=False,
        given=(exercise, athlete.kit),
    )


def _day(session: Session) -> date:
    return session.day


def _calls_for_less(exercise: Exercise, sessions: tuple[Session, ...], kit: Inventory) -> bool:
    dose = exercise.dose
    if isinstance(dose, LoadedHold):
        verdicts = [hold_verdict(s, dose) for s in sessions if any(map(_has_load, s.sets))]
        before = verdicts[0] if len(verdicts) > 1 else None
        return bool(verdicts) and falls(verdicts[-1], before) is not None
    if isinstance(dose, RepRange | HoldRange):
        span = span_of(dose)
        return missed_twice([span_verdict(s, span, kit) for s in sessions], span)
    return False


def _has_load(done: SetDone) -> bool:
    return done.load_kg is not None
