"""A promise that was broken: which, where, and what was seen."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from core.target import Target


@dataclass(frozen=True, slots=True)
class Breach:
    """One broken rule.

    Attributes:
        rule: Short name of the rule of the design.
        day: On which evening.
        what: What was asked, and what the rule says.
    """

    rule: str
    day: date
    what: str


def told(target: Target) -> str:
    """A target in short."""
    dose = target.by_set or (target.hold_s if target.hold_s is not None else target.reps)
    why = ",".join(r.rule for r in target.reasons)
    edge = "" if target.edge_mm is None else f" {target.edge_mm} mm"
    return (
        f"{target.exercise} {target.side}{edge} {target.sets}x{dose} @ {target.load_kg} kg "
        f"({target.change}: {why})"
    )


def at_most(loads_kg: tuple[Decimal, ...], wanted_kg: Decimal) -> Decimal | None:
    """The greatest load that exists and is not above ``wanted_kg``."""
    return max((kg for kg in loads_kg if kg <= wanted_kg), default=None)


def above(loads_kg: tuple[Decimal, ...], load_kg: Decimal) -> Decimal | None:
    """The next load that exists above ``load_kg``."""
    return min((kg for kg in loads_kg if kg > load_kg), default=None)
