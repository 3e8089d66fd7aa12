"""The typed shape of a programme. ``read`` alone makes these values, already checked."""

from dataclasses import dataclass
from decimal import Decimal

from core.catalogue import Block, Exercise, get_exercise


@dataclass(frozen=True, slots=True)
class Listed:
    """One exercise of a block.

    Attributes:
        exercise: The catalogue's entry, with the programme's dose.
        priority: Which matters most in its block; 1 before 2.
        is_optional: True when it belongs to the evening only while the athlete trains it, owns
            its grip by name, or named a start load for it.
    """

    exercise: Exercise
    priority: int
    is_optional: bool


@dataclass(frozen=True, slots=True)
class ProgrammeBlock:
    """One block of the evening.

    Attributes:
        name: Which.
        most: Most exercises of it in one evening. [-], > 0
        every_evening: So many come every evening, by priority; the others take turns, the one
            longest unused first. None: nobody takes turns.
        worth: First set of its first exercise, where minutes are short. [points]
        least_sets: Fewest sets for which an exercise is worth setting up. [-], > 0
        listed: Its exercises, in the order of an evening.
    """

    name: Block
    most: int
    every_evening: int | None
    worth: int
    least_sets: int
    listed: tuple[Listed, ...]


@dataclass(frozen=True, slots=True, repr=False)
class Programme:
    """What an evening is made of.

    Attributes:
        name: What a person calls it.
        minutes: Length of an evening until the athlete names theirs. [min]
        deload_week: Which week of training is the easier one. [-], 4 to 6
        shares_rests: True when exercises that do not compete may share their rests.
        optional_days: For how long a logged optional exercise stays in the evening. [days]
        warm_up: Parts of the warm-up, in order.
        ramp: Ramp lifts of the warm-up, as parts of tonight's top load. [-], rising, under 1
        blocks: In the order of an evening: fingers first, hips last.
    """

    name: str
    minutes: int
    deload_week: int
    shares_rests: bool
    optional_days: int
    warm_up: tuple[Exercise, ...]
    ramp: tuple[Decimal, ...]
    blocks: tuple[ProgrammeBlock, ...]

    def __repr__(self) -> str:
        # An athlete carries one; whole, it would fill a screen.
        return f"<Programme {self.name!r}>"

    def exercise(self, slug: str) -> Exercise:
        """The exercise with the dose it has here; the catalogue's where it is not listed.

        Raises:
            Unknown: The catalogue has no such slug.
        """
        for block in self.blocks:
            for one in block.listed:
                if one.exercise.slug == slug:
                    return one.exercise
        return get_exercise(slug)

    def block(self, name: Block) -> ProgrammeBlock | None:
        """The block of that name, None where the programme has none."""
        return next((block for block in self.blocks if block.name == name), None)
