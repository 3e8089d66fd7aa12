"""Which tissue an exercise loads, when it was loaded, and which tissue a sore place belongs to."""

from collections.abc import Mapping
from datetime import date
from types import MappingProxyType

from core.athlete import Athlete
from core.catalogue import Exercise, Tissue, get_exercise

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


def loaded_days(athlete: Athlete, exercise: Exercise) -> tuple[date, ...]:
    """The days on which the exercise's tissue was loaded, oldest first.

    Exercises of the same tissue in the same block count, since light balance work loads
    what the finger block loads hardly at all; so do wall visits for fingers and arms.
    """
    days = {
        dated.day
        for dated in athlete.logs
        if _loads_alike(get_exercise(dated.log.exercise), exercise)
    }
    if exercise.block in WALL_BLOCKS:
        days.update(wall.on for wall in athlete.walls)
    return tuple(sorted(days))


def _loads_alike(other: Exercise, exercise: Exercise) -> bool:
    return other.tissue == exercise.tissue and other.block == exercise.block
