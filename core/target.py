"""What the engine answers: a target per exercise and side, with the reasons that made it."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from core.facts import Side

Change = Literal[
    "first",
    "up",
    "same",
    "down",
    "longer",
    "harder-variation",
    "easier-variation",
    "deload",
    "return",
    "stopped",
]

Value = Decimal | int | str | date


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a number is what it is: a rule's name and the facts it used. Wording makes it text.

    Attributes:
        rule: Stable name of the rule, in lower case with hyphens.
        facts: What the rule saw, by name; masses in kilograms end in ``_kg``, times in ``_s``.
    """

    rule: str
    facts: tuple[tuple[str, Value], ...] = ()

    def get(self, name: str) -> Value | None:
        """The fact of that name, or None."""
        return dict(self.facts).get(name)


def because(rule: str, **facts: Value) -> Reason:
    """A reason with its facts in the order given."""
    return Reason(rule, tuple(facts.items()))


@dataclass(frozen=True, slots=True)
class Target:
    """What to do next in one exercise on one side.

    Attributes:
        exercise: Slug.
        side: left or right where each hand has its own target, else both.
        edge_mm: Depth of the edge, where one is used and known. [mm]
        sets: How many.
        reps: Reps of the first set; lifts in a set for repeated lifts. None for plain holds.
        hold_s: Time per hold. [s] None for reps.
        by_set: Reps or seconds set by set, where sets differ; else empty.
        load_kg: From the floor the total, pin included; on the body the load added
            (negative for help). [kg] None where no load is meant.
        plates_kg: The plates that make the load, heaviest first; with help, those at the other
            end of the pulley's cord. [kg]
        pin_kg: Mass of pin and handle in the total; None when nothing is lifted from the floor.
        band: The helping band, or both, the help already in ``load_kg``.
        variation: Rung of the exercise's own ladder, in words.
        rest_s: Rest after each set. [s]
        change: What is new against the last time.
        reasons: Shortest first; never empty.
        belt_kg: Mass of the belt in the load added to the body; None without one. [kg]
    """

    exercise: str
    side: Side
    edge_mm: int | None
    sets: int
    reps: int | None
    hold_s: int | None
    by_set: tuple[int, ...]
    load_kg: Decimal | None
    plates_kg: tuple[Decimal, ...]
    pin_kg: Decimal | None
    band: str | None
    variation: str | None
    rest_s: int
    change: Change
    reasons: tuple[Reason, ...]
    belt_kg: Decimal | None = None
