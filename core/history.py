"""An athlete's record of one exercise, one side and one edge: sessions, oldest first."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from core.athlete import Athlete, DatedLog
from core.catalogue import get_exercise
from core.derived import folded, once
from core.facts import Asked, SetDone, Side
from core.kit.trip import Trip, trip_on

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


def on_day(athlete: Athlete, day: date) -> Athlete:
    """The athlete with the kit that is at hand on that day: a trip's if told of, else their own.

    Args:
        athlete: Whose, as they are at home.
        day: The training day.
    """
    trip = trip_on(athlete.trips, day)
    if trip is None or trip.kit is None:
        return athlete
    kit = trip.kit
    # Walks over the record may look at the kit: none is shared with the one at home.
    return once(athlete, ("on trip", trip), lambda: replace(athlete, kit=kit, trip=trip, walks={}))


def kit_of(trips: tuple[Trip, ...], dated: DatedLog) -> Trip | None:
    """The trip with whose kit that was done, None where it was the one at home."""
    on = (trip for trip in trips if trip.kit and trip.holds(dated.day, dated.number))
    return next(on, None)


def sides_of(exercise: str) -> tuple[Side, ...]:
    """The sides that have a target of their own: left and right, or both together."""
    return ("left", "right") if get_exercise(exercise).sides == "apart" else ("both",)


def logs_by_exercise(athlete: Athlete) -> Mapping[str, tuple[DatedLog, ...]]:
    """The logs of each exercise, oldest first."""
    return once(
        athlete,
        "logs by exercise",
        lambda: folded(athlete, "logs by exercise", athlete.logs, _sorted_out, begin={}),
    )


def _sorted_out(
    found: Mapping[str, tuple[DatedLog, ...]], logs: tuple[DatedLog, ...]
) -> Mapping[str, tuple[DatedLog, ...]]:
    fresh: dict[str, list[DatedLog]] = {}
    for dated in logs:
        fresh.setdefault(dated.log.exercise, []).append(dated)
    return {**found, **{slug: (*found.get(slug, ()), *more) for slug, more in fresh.items()}}


def with_days(days: tuple[date, ...], logs: tuple[DatedLog, ...]) -> tuple[date, ...]:
    """The days, oldest first and none twice, once those of further logs are added."""
    return (*days, *[d for d in dict.fromkeys([log.day for log in logs]) if d not in days[-1:]])


def edge_in_use(athlete: Athlete, exercise: str, *, side: Side = "both") -> int | None:
    """The edge last logged for the exercise, else the deepest one owned, else None. [mm]

    With a side that hand's own: a hand may be on a smaller edge than the other.
    """
    if not get_exercise(exercise).edged:
        return None
    for dated in reversed(logs_by_exercise(athlete).get(exercise, ())):
        edge_mm = dated.log.edge_mm
        if (
            edge_mm is not None
            and (side == "both" or any(s.side in (side, "both") for s in dated.log.sets))
            # An edge held on a trip is not the one at home, nor the other way round.
            and kit_of(athlete.trips, dated) == athlete.trip
        ):
            return edge_mm
    return athlete.kit.edges_mm[0] if athlete.kit.edges_mm else None


def stream_of(athlete: Athlete, exercise: str, *, side: Side, edge_mm: int | None) -> Stream:
    """The sessions of that exercise, side and edge.

    A log without an edge was made on the edge named last before it, else on the deepest one
    owned; where no edge is known at all it counts for every edge.
    """
    key = ("stream", exercise, side, edge_mm)
    return once(athlete, key, lambda: _stream(athlete, exercise, side=side, edge_mm=edge_mm))


class _Line(NamedTuple):
    """A line of progress so far: its sessions, and the edge in use. [mm]"""

    sessions: tuple[Session, ...]
    in_use_mm: int | None


def _stream(athlete: Athlete, exercise: str, *, side: Side, edge_mm: int | None) -> Stream:
    found, edges_mm = get_exercise(exercise), athlete.kit.edges_mm
    in_use_mm = edges_mm[0] if found.edged and edges_mm else None
    apart, where = found.sides == "apart", (athlete.trips, athlete.trip)
    line = folded(
        athlete,
        ("stream", exercise, side, edge_mm),
        logs_by_exercise(athlete).get(exercise, ()),
        lambda line, logs: _gone_on(
            line, logs, side=side, edge_mm=edge_mm, apart=apart, where=where
        ),
        begin=_Line((), in_use_mm),
        given=(in_use_mm, where),
    )
    return Stream(exercise, side, edge_mm, line.sessions)


_Where = tuple[tuple[Trip, ...], Trip | None]
"""Every trip, and the one that the line is looked at from; None from home."""


def _gone_on(
    line: _Line,
    logs: tuple[DatedLog, ...],
    *,
    side: Side,
    edge_mm: int | None,
    apart: bool,
    where: _Where,
) -> _Line:
    """The line once these logs are added to it."""
    trips, here = where
    sessions, in_use_mm = list(line.sessions), line.in_use_mm
    day, asked = date.min, None
    sets: tuple[SetDone, ...] = ()
    numbers: tuple[int, ...] = ()
    if sessions and logs and sessions[-1].day == logs[0].day:
        last = sessions.pop()
        day, sets, asked, numbers = last.day, last.sets, last.asked, last.logs
    for dated in logs:
        log = dated.log
        mine = log.sets
        if apart:
            mine = tuple([s for s in mine if s.side == side or s.side == "both"])
        if not mine:
            continue
        is_here = not trips or kit_of(trips, dated) == here
        used_mm = log.edge_mm or in_use_mm
        if is_here:
            in_use_mm = used_mm
        if used_mm is not None and used_mm != edge_mm:
            continue
        if not is_here and here is None and _says_nothing(mine, sets, sessions):
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
    return _Line(tuple(sessions), in_use_mm)


def _says_nothing(
    mine: tuple[SetDone, ...], begun: tuple[SetDone, ...], sessions: list[Session]
) -> bool:
    """True for lighter sets on a trip, none of them failed: they tell of the kit there.

    House rule: what was lifted with borrowed plates must not lower the level at home.
    """
    before = begun or (sessions[-1].sets if sessions else ())
    loads = [s.load_kg for s in before if s.load_kg is not None]
    return bool(loads) and all(
        s.effort != "fail" and s.load_kg is not None and s.load_kg < max(loads) for s in mine
    )
