"""An athlete's record of one exercise, one side and one edge: sessions, oldest first."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from core.athlete import Athlete, DatedLog, once
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
        logs: Entry number of the log of each set.
    """

    day: date
    sets: tuple[SetDone, ...]
    asked: Asked | None
    logs: tuple[int, ...] = ()

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


def logs_by_exercise(athlete: Athlete) -> dict[str, list[DatedLog]]:
    """The logs of each exercise, oldest first. Not to be changed."""

    def sorted_out() -> dict[str, list[DatedLog]]:
        logs: dict[str, list[DatedLog]] = {}
        for dated in athlete.logs:
            logs.setdefault(dated.log.exercise, []).append(dated)
        return logs

    return once(athlete, "logs by exercise", sorted_out)


def edge_in_use(athlete: Athlete, exercise: str, *, side: Side = "both") -> int | None:
    """The edge last logged for the exercise, else the deepest one owned, else None. [mm]

    With a side that hand's own: a hand may be on a smaller edge than the other.
    """
    if not get_exercise(exercise).edged:
        return None
    for dated in reversed(logs_by_exercise(athlete).get(exercise, [])):
        edge_mm = dated.log.edge_mm
        if edge_mm is not None and (
            side == "both" or any(s.side in (side, "both") for s in dated.log.sets)
        ):
            return edge_mm
    return athlete.kit.edges_mm[0] if athlete.kit.edges_mm else None


RECENT_SESSIONS = 60
"""Sessions of a recent stream: more than anybody does of one exercise in a quarter of a year."""


def stream_of(
    athlete: Athlete, exercise: str, *, side: Side, edge_mm: int | None, recent: bool = False
) -> Stream:
    """The sessions of that exercise, side and edge; if ``recent``, the last ones only.

    A log without an edge was made on the edge named last before it, else on the deepest one
    owned; where no edge is known at all it counts for every edge.
    """
    return once(
        athlete,
        ("stream", exercise, side, edge_mm, recent),
        lambda: _stream(athlete, exercise, side=side, edge_mm=edge_mm, recent=recent),
    )


def _stream(
    athlete: Athlete, exercise: str, *, side: Side, edge_mm: int | None, recent: bool
) -> Stream:
    found, logs = get_exercise(exercise), logs_by_exercise(athlete).get(exercise, [])
    first = _first_recent(logs) if recent else 0
    in_use = _edge_before(athlete, logs, first) if found.edged else None
    apart = found.sides == "apart"
    sessions: list[Session] = []
    day, asked = date.min, None
    sets: tuple[SetDone, ...] = ()
    numbers: tuple[int, ...] = ()
    for dated in logs[first:]:
        log = dated.log
        mine = log.sets
        if apart:
            mine = tuple([s for s in mine if s.side == side or s.side == "both"])
        if not mine:
            continue
        in_use = log.edge_mm or in_use
        if in_use is not None and in_use != edge_mm:
            continue
        if dated.day != day:
            if sets:
                sessions.append(Session(day, sets, asked, numbers))
                sets, numbers = (), ()
            day, asked = dated.day, None
        # What was asked before the first set of the day counts for all of them.
        if asked is None:
            for wanted in log.asked:
                if wanted.side == side:
                    asked = wanted
                    break
        sets += mine
        numbers += (dated.number,) * len(mine)
    if sets:
        sessions.append(Session(day, sets, asked, numbers))
    return Stream(exercise, side, edge_mm, tuple(sessions))


def _first_recent(logs: list[DatedLog]) -> int:
    """The index of the first log of the last days of training."""
    days, day = 0, date.max
    for i in range(len(logs) - 1, -1, -1):
        if logs[i].day != day:
            day, days = logs[i].day, days + 1
            if days > RECENT_SESSIONS:
                return i + 1
    return 0


def _edge_before(athlete: Athlete, logs: list[DatedLog], first: int) -> int | None:
    """The edge named last before that log, else the deepest one owned, else None. [mm]"""
    named = (logs[i].log.edge_mm for i in range(first - 1, -1, -1))
    owned = athlete.kit.edges_mm[0] if athlete.kit.edges_mm else None
    return next((edge_mm for edge_mm in named if edge_mm is not None), owned)
