"""Which tissue an exercise loads, when it was loaded, and which tissue a sore place belongs to."""

from collections.abc import Mapping
from datetime import date
from itertools import pairwise
from types import MappingProxyType
from typing import NamedTuple

from core.athlete import Athlete, DatedLog
from core.catalogue import Block, Exercise, Tissue, get_exercise
from core.derived import folded, once
from core.history import with_days

WALL_BLOCKS = ("fingers", "pull")
"""Blocks whose tissues a visit to the wall loads too. House rule."""

FINGERS: Tissue = "finger flexors"

PLACES: Mapping[Tissue, str] = MappingProxyType(
    {
        "finger flexors": "finger fingers fingertip fingertips thumb thumbs index middle ring "
        "little pinky knuckle knuckles pulley tendon palm hand hands wrist wrists forearm forearms",
        "elbow flexors": "elbow elbows bicep biceps tricep triceps arm arms forearm forearms",
        "shoulder": "shoulder shoulders rotator collarbone blade chest pec pecs neck armpit "
        "tricep triceps arm arms",
        "trunk": "back spine abs stomach belly core rib ribs trunk side waist",
        "hip": "hip hips groin adductor adductors glute glutes buttock buttocks hamstring "
        "hamstrings thigh thighs knee knees leg legs calf ankle ankles foot feet",
    }
)
"""Words for places, by the tissues that are spared for them; some stand under two. House rule."""


def tissues_of(site: str | None) -> frozenset[Tissue]:
    """The tissues that a sore place belongs to; all of them for an unknown place.

    Example:
        >>> sorted(tissues_of("left ring finger"))
        ['finger flexors']
    """
    words = set() if site is None else set(site.lower().replace("-", " ").split())
    found = frozenset(
        tissue for tissue, names in PLACES.items() if words.intersection(names.split())
    )
    return found or frozenset(PLACES)


def trained_days(athlete: Athlete, exercise: Exercise) -> tuple[date, ...]:
    """The days on which the exercise's tissue was trained at home, oldest first.

    Exercises of the same tissue in the same block count, since light balance work loads
    what the finger block loads hardly at all.
    """
    none: _Trained = {}
    trained = once(
        athlete,
        "trained",
        lambda: folded(athlete, "trained", athlete.logs, _with_trained, begin=none),
    )
    return trained.get((exercise.tissue, exercise.block), ())


_Trained = Mapping[tuple[Tissue, Block], tuple[date, ...]]
"""Days by tissue and block, oldest first."""


def _with_trained(trained: _Trained, logs: tuple[DatedLog, ...]) -> _Trained:
    further: dict[tuple[Tissue, Block], list[DatedLog]] = {}
    for dated in logs:
        exercise = get_exercise(dated.log.exercise)
        further.setdefault((exercise.tissue, exercise.block), []).append(dated)
    return {
        **trained,
        **{
            alike: with_days(trained.get(alike, ()), tuple(more)) for alike, more in further.items()
        },
    }


def loaded_days(athlete: Athlete, exercise: Exercise) -> tuple[date, ...]:
    """The days on which the exercise's tissue was loaded, oldest first.

    Those of training at home, and for fingers and arms the visits to the wall.
    """
    trained = trained_days(athlete, exercise)
    if exercise.block not in WALL_BLOCKS or not athlete.walls:
        return trained
    return once(
        athlete,
        ("loaded", exercise.tissue, exercise.block),
        lambda: tuple(sorted({*trained, *(wall.on for wall in athlete.walls)})),
    )


SHORT_REST_DAYS = 7
"""Rests no longer than this change no target. [days] House rule."""


class _Rests(NamedTuple):
    """The longer rests so far, and the last day of load; None before the first."""

    found: tuple[tuple[int, date], ...]
    last: date | None


def rests(athlete: Athlete, exercise: Exercise) -> tuple[tuple[int, date], ...]:
    """The longer rests of the exercise's tissue: days without load, and the day that ended it."""
    key = ("rests", exercise.tissue, exercise.block)
    loaded = loaded_days(athlete, exercise)
    walk = once(
        athlete, key, lambda: folded(athlete, key, loaded, _with_rests, begin=_Rests((), None))
    )
    return walk.found


def _with_rests(rests: _Rests, days: tuple[date, ...]) -> _Rests:
    known = days if rests.last is None else (rests.last, *days)
    gaps = [((b - a).days, b) for a, b in pairwise(known)]
    return _Rests((*rests.found, *[g for g in gaps if g[0] > SHORT_REST_DAYS]), days[-1])
