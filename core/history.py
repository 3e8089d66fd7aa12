"""An athlete's record of one exercise, one side and one edge: sessions, oldest first."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from core.athlete import Athlete
from core.catalogue import get_exercise
from core.facts import Asked, SetDone, Side

SPLIT_SIDES: dict[Side, tuple[Side, ...]] = {
    "both": ("left", "right"),
    "left": ("left",),
    "right": ("right",),
}


@dataclass(frozen=True, slots=True)
class Session:
    """The sets of one training day, in the order they were logged.

    Attributes:
        day: Training day.
        sets: What was done; ``side`` is the session's own side.
        asked: What had been asked when the first of them was logged, or None.
    """

    day: date
    sets: tuple[SetDone, ...]
    asked: Asked | None

    @property
    def top_load_kg(self) -> Decimal | None:
        """The heaviest load of the session, None without loads. [kg]"""
        loads = [s.load_kg for s in self.sets if s.load_kg is not None]
        return max(loads) if loads else None


@dataclass(frozen=True, slots=True)
class Stream:
    """One line of progress: its sessions, oldest first, no day twice."""

    exercise: str
    side: Side
    edge_mm: int | None
    sessions: tuple[Session, ...]


def sides_of(exercise: str) -> tuple[Side, ...]:
    """The sides that have a target of their own: left and right, or both together."""
    return ("left", "right") if get_exercise(exercise).sides == "apart" else ("both",)


def edge_in_use(athlete: Athlete, exercise: str) -> int | None:
    """The edge last logged for the exercise, else the deepest one owned, else None. [mm]"""
    if not get_exercise(exercise).edged:
        return None
    for dated in reversed(athlete.logs):
        if dated.log.exercise == exercise and dated.log.edge_mm is not None:
            return dated.log.edge_mm
    return athlete.kit.edges_mm[0] if athlete.kit.edges_mm else None


def stream_of(athlete: Athlete, exercise: str, *, side: Side, edge_mm: int | None) -> Stream:
    """The sessions of that exercise, side and edge.

    A log without an edge counts for every edge: it was made before edges were named.
    """
    apart = get_exercise(exercise).sides == "apart"
    by_day: dict[date, tuple[list[SetDone], Asked | None]] = {}
    for dated in athlete.logs:
        log = dated.log
        if log.exercise != exercise or (log.edge_mm is not None and log.edge_mm != edge_mm):
            continue
        mine = [s for s in log.sets if not apart or s.side in (side, "both")]
        if not mine:
            continue
        sets, asked = by_day.setdefault(dated.day, ([], None))
        sets.extend(mine)
        if asked is None:
            wanted = next((a for a in log.asked if a.side == side), None)
            by_day[dated.day] = (sets, wanted)
    sessions = tuple(
        Session(day, tuple(sets), asked) for day, (sets, asked) in sorted(by_day.items())
    )
    return Stream(exercise, side, edge_mm, sessions)
