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


def stream_of(athlete: Athlete, exercise: str, *, side: Side, edge_mm: int | None) -> Stream:
    """The sessions of that exercise, side and edge.

    A log without an edge was made on the edge named last before it, else on the deepest one
    owned; where no edge is known at all it counts for every edge.
    """
    return once(
        athlete,
        ("stream", exercise, side, edge_mm),
        lambda: _stream(athlete, exercise, side=side, edge_mm=edge_mm),
    )


def _stream(athlete: Athlete, exercise: str, *, side: Side, edge_mm: int | None) -> Stream:
    apart = get_exercise(exercise).sides == "apart"
    in_use = athlete.kit.edges_mm[0] if athlete.kit.edges_mm else None
    sessions: list[Session] = []
    for dated in logs_by_exercise(athlete).get(exercise, []):
        log = dated.log
        mine = log.sets
        if apart and any(s.side != side for s in mine):
            mine = tuple([s for s in mine if s.side in (side, "both")])
        if not mine:
            continue
        in_use = log.edge_mm or in_use
        if in_use is not None and in_use != edge_mm:
            continue
        asked = next((a for a in log.asked if a.side == side), None)
        numbers = (dated.number,) * len(mine)
        last = sessions[-1] if sessions else None
        if last is not None and last.day == dated.day:
            # What was asked before the first set of the day counts for all of them.
            sessions[-1] = Session(
                last.day, (*last.sets, *mine), last.asked or asked, (*last.logs, *numbers)
            )
        else:
            sessions.append(Session(dated.day, mine, asked, numbers))
    return Stream(exercise, side, edge_mm, tuple(sessions))
