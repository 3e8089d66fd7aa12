"""What moved in each exercise: its first and last session of some weeks, and the trend."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from core.athlete import Athlete
from core.catalogue import catalogue, get_exercise
from core.facts import Side
from core.history import Session, Stream, edge_in_use, logs_by_exercise, sides_of, stream_of
from core.progression import next_on, next_targets
from core.progression.deload import eased_days
from core.review.trend import Difference, Trend, difference_of, trend_of
from core.strength import Estimate, strength_from, trusted
from core.target import Reason


@dataclass(frozen=True, slots=True)
class LineChange:
    """What moved on one side.

    Attributes:
        side: left or right where each hand has its own line, else both.
        edge_mm: Depth of the edge. [mm]
        sessions: Sessions in the weeks looked at.
        first, last: The first and the last of them; those of an easier week only if all are.
        moved_to: The variation that was moved on to in between; None where none was.
        trend: Over the weeks looked at; None for too few sessions.
        lately: Over the six weeks a plateau is judged by; None for too few sessions.
    """

    side: Side
    edge_mm: int | None
    sessions: int
    first: Session
    last: Session
    moved_to: str | None
    trend: Trend | None
    lately: Trend | None


@dataclass(frozen=True, slots=True)
class ExerciseChange:
    """What moved in one exercise.

    Attributes:
        exercise: Slug.
        lines: One per side, left before right.
        reasons: Behind what is asked next, all sides together.
        hands: The left hand beside the right; None where that is not known.
    """

    exercise: str
    lines: tuple[LineChange, ...]
    reasons: tuple[Reason, ...]
    hands: Difference | None

    @property
    def sessions(self) -> int:
        """Sessions of the side with the most. [-]"""
        return max(line.sessions for line in self.lines)

    def find(self, rules: Iterable[str]) -> Reason | None:
        """The first reason of one of those rules behind what is asked next, or None."""
        return next((reason for reason in self.reasons if reason.rule in rules), None)


def changes(athlete: Athlete, *, since: date, today: date) -> tuple[ExerciseChange, ...]:
    """Every exercise trained at home in those days, both included; the most trained first."""
    logs = logs_by_exercise(athlete)
    order = {exercise.slug: n for n, exercise in enumerate(catalogue().exercises)}
    found = [
        change
        for slug, of_it in logs.items()
        if any(since <= dated.day <= today for dated in reversed(of_it))
        and (change := _change(athlete, slug, since=since, today=today)) is not None
    ]
    return tuple(sorted(found, key=lambda one: (-one.sessions, order[one.exercise])))


def _change(athlete: Athlete, slug: str, *, since: date, today: date) -> ExerciseChange | None:
    lines: list[LineChange] = []
    hands: list[Estimate] = []
    targets = next_targets(athlete, slug, today=today)
    reasons = tuple(reason for target in targets for reason in target.reasons)
    for side in sides_of(slug):
        edge_mm = edge_in_use(athlete, slug, side=side)
        stream = stream_of(athlete, slug, side=side, edge_mm=edge_mm)
        line = _line(athlete, stream, reasons, since=since, today=today)
        if line is not None:
            lines.append(line)
            estimate = strength_from(athlete, stream, today=today)
            hands += [] if estimate is None or estimate.is_floor else [estimate]
    if not lines:
        return None
    apart = None
    if len(hands) == 2 and hands[0].edge_mm == hands[1].edge_mm:
        apart = difference_of(*hands)
    return ExerciseChange(slug, tuple(lines), reasons, apart)


def _line(
    athlete: Athlete, stream: Stream, reasons: tuple[Reason, ...], *, since: date, today: date
) -> LineChange | None:
    believed = trusted(athlete, stream).sessions
    sessions = [s for s in believed if since <= s.day <= today]
    if not sessions:
        return None
    eased = eased_days(athlete)
    usual = [s for s in sessions if s.day not in eased] or sessions
    return LineChange(
        side=stream.side,
        edge_mm=stream.edge_mm,
        sessions=len(sessions),
        first=usual[0],
        last=usual[-1],
        moved_to=_moved_to(athlete, stream, usual[0], now=_variation_in(reasons)),
        trend=trend_of(athlete, stream, today=today, days=(today - since).days),
        lately=trend_of(athlete, stream, today=today),
    )


def _moved_to(athlete: Athlete, stream: Stream, first: Session, *, now: str | None) -> str | None:
    """The variation done now, if it is a harder one than in that session.

    Which one a session was done on is told by the reasons of the target that it led to.
    """
    ladder = get_exercise(stream.exercise).variations
    if now is None or now == ladder[0]:
        return None
    whole = stream_of(athlete, stream.exercise, side=stream.side, edge_mm=stream.edge_mm)
    upto = replace(whole, sessions=tuple(s for s in whole.sessions if s.day <= first.day))
    targets = next_on(upto, athlete=athlete, today=first.day)
    then = _variation_in(tuple(reason for target in targets for reason in target.reasons))
    if then is None or ladder.index(then) >= ladder.index(now):
        return None
    return now


def _variation_in(reasons: tuple[Reason, ...]) -> str | None:
    told = (reason.get("variation") for reason in reasons)
    return next((variation for variation in told if isinstance(variation, str)), None)
