"""The catalogue: what exercises there are, how they are dosed, and what people call them.

``exercises.toml`` holds the data, ``model`` its typed shape; ``CATALOGUE`` is the
validated whole. To add an exercise, add a table to the data file.
"""

import tomllib
from functools import cache

from core.catalogue.model import (
    Block,
    Catalogue,
    Dose,
    Exercise,
    HoldRange,
    LoadedHold,
    LongHold,
    RepRange,
    SlowReps,
    TimedHold,
    Tissue,
)
from core.errors import Unknown
from core.packaged import packaged_text


@cache
def catalogue() -> Catalogue:
    """The validated catalogue, read once.

    Raises:
        pydantic.ValidationError: The data file is wrong; the message names the field.
    """
    data = tomllib.loads(packaged_text("core.catalogue", "exercises.toml"))
    return Catalogue.model_validate({"exercises": data["exercise"]})


@cache
def _by_slug() -> dict[str, Exercise]:
    return {e.slug: e for e in catalogue().exercises}


def get_exercise(slug: str) -> Exercise:
    """The exercise with that slug.

    Raises:
        Unknown: The catalogue has no such slug.
    """
    try:
        return _by_slug()[slug]
    except KeyError:
        raise Unknown("exercise", slug) from None


def logged_exercises() -> tuple[Exercise, ...]:
    """The exercises that are recorded, warm-up parts left out, in the order of an evening."""
    return tuple(e for e in catalogue().exercises if e.logged)


__all__ = [
    "Block",
    "Catalogue",
    "Dose",
    "Exercise",
    "HoldRange",
    "LoadedHold",
    "LongHold",
    "RepRange",
    "SlowReps",
    "TimedHold",
    "Tissue",
    "catalogue",
    "get_exercise",
    "logged_exercises",
]
