"""The typed shape of the catalogue. Data lives in ``exercises.toml`` beside this module."""

from typing import Annotated, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

Block = Literal["warm-up", "fingers", "pull", "trunk", "hips", "balance"]
Tissue = Literal["whole body", "finger flexors", "elbow flexors", "shoulder", "trunk", "hip"]
Need = Literal["pin", "plates", "grip", "edge", "bar", "band", "floor", "seat"]
Sides = Literal["together", "each", "apart"]


class _Frozen(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class LoadedHold(_Frozen):
    """Sets of a hold at a load, per hand. Load progresses; seconds bridge big plate jumps."""

    kind: Literal["loaded-hold"]
    sets: Annotated[int, Field(gt=0)]
    hold_s: Annotated[int, Field(gt=0)]
    lifts: Annotated[int, Field(gt=0)] = 1
    """Lifts in one set: 1 for a plain hold, more for repeated lifts."""
    pause_s: Annotated[int, Field(ge=0)] = 0
    """Rest between the lifts of one set. [s]"""
    rest_s: Annotated[int, Field(gt=0)]


class RepRange(_Frozen):
    """Sets of low to high reps at a net load: body weight x share + added - help."""

    kind: Literal["rep-range"]
    sets: Annotated[int, Field(gt=0)]
    low: Annotated[int, Field(gt=0)]
    high: Annotated[int, Field(gt=0)]
    share: Annotated[float, Field(ge=0, le=1)]
    rest_s: Annotated[int, Field(gt=0)]


class HoldRange(_Frozen):
    """Sets of low to high seconds at a net load: body weight x share + added - help."""

    kind: Literal["hold-range"]
    sets: Annotated[int, Field(gt=0)]
    low_s: Annotated[int, Field(gt=0)]
    high_s: Annotated[int, Field(gt=0)]
    share: Annotated[float, Field(ge=0, le=1)]
    rest_s: Annotated[int, Field(gt=0)]


class TimedHold(_Frozen):
    """Sets of seconds; up by a step to a ceiling, then the next variation from the start."""

    kind: Literal["timed-hold"]
    sets: Annotated[int, Field(gt=0)]
    start_s: Annotated[int, Field(gt=0)]
    step_s: Annotated[int, Field(gt=0)]
    ceiling_s: Annotated[int, Field(gt=0)]
    rest_s: Annotated[int, Field(gt=0)]


class SlowReps(_Frozen):
    """Sets of slow reps with a pause. Range of motion first, then reps; never load first."""

    kind: Literal["slow-reps"]
    sets: Annotated[int, Field(gt=0)]
    reps: Annotated[int, Field(gt=0)]
    most_reps: Annotated[int, Field(gt=0)]
    rep_s: Annotated[int, Field(gt=0)]
    """Time of one rep with its pause. [s]"""
    rest_s: Annotated[int, Field(gt=0)]


class LongHold(_Frozen):
    """Sets of at least so many seconds. Range of motion first, then time."""

    kind: Literal["long-hold"]
    sets: Annotated[int, Field(gt=0)]
    least_s: Annotated[int, Field(gt=0)]
    step_s: Annotated[int, Field(gt=0)]
    ceiling_s: Annotated[int, Field(gt=0)]
    rest_s: Annotated[int, Field(gt=0)]


Dose = Annotated[
    LoadedHold | RepRange | HoldRange | TimedHold | SlowReps | LongHold,
    Field(discriminator="kind"),
]


class Exercise(_Frozen):
    """One entry of the catalogue.

    Attributes:
        slug: The stable name, also in files and answers.
        name: What a person reads.
        aliases: What people type, in lower case, without hyphens.
        block: Where in the evening it belongs.
        needs: Kit without which it cannot be done.
        tissue: What it loads most.
        sides: ``together`` (one set works both), ``each`` (both sides, one target),
            ``apart`` (each hand has a target of its own).
        from_floor: True when the load is lifted from the floor, pin included.
        takes_help: True when a band or a counterweight can take load away.
        edged: True when it is done on an edge of a known depth.
        variations: Ladder within the exercise, easiest first; the first is where one starts.
        harder: Exercises to go on to when load and edges run out.
        setup_s: Time to set it up. [s]
        logged: False for warm-up parts, which are shown and not recorded.
        dose: The default dose. Common practice, no single source.
    """

    slug: str
    name: str
    aliases: tuple[str, ...]
    block: Block
    needs: tuple[Need, ...]
    tissue: Tissue
    sides: Sides
    from_floor: bool = False
    takes_help: bool = False
    edged: bool = False
    variations: tuple[str, ...] = ()
    harder: tuple[str, ...] = ()
    setup_s: Annotated[int, Field(ge=0)]
    logged: bool = True
    cue: str
    safety: str
    dose: Dose


class Catalogue(_Frozen):
    """All exercises, in the order of an evening."""

    exercises: tuple[Exercise, ...]

    @model_validator(mode="after")
    def _check(self) -> Self:
        slugs = [e.slug for e in self.exercises]
        if len(set(slugs)) != len(slugs):
            raise ValueError("two exercises share a slug")
        seen: dict[str, str] = {}
        for exercise in self.exercises:
            for alias in (*exercise.aliases, exercise.slug.replace("-", " ")):
                if seen.setdefault(alias, exercise.slug) != exercise.slug:
                    raise ValueError(f"{alias!r} names {seen[alias]} and {exercise.slug}")
            for slug in exercise.harder:
                if slug not in slugs:
                    raise ValueError(f"{exercise.slug}: unknown harder exercise {slug!r}")
        return self
