"""What one evening may hold: which blocks, how many minutes, and from when they count."""

from dataclasses import dataclass
from datetime import date

from core.athlete import Athlete
from core.catalogue import Block
from core.planning.week import DayPlan, day_plan


@dataclass(frozen=True, slots=True)
class Allowance:
    """What one evening may hold.

    Attributes:
        blocks: Blocks that are allowed.
        minutes: Time there is. [min]
        after: Number of the entry from which on the minutes count; what was logged before it
            is done and takes none of them. 0: they are for the whole evening.
        instead_of: Minutes that held before these were said. [min]
        at_wall: True when the wall takes the place of fingers and pull.
        alternates: True when exercises that do not compete may share their rests.
        plan: What the week makes of the day; None where nobody asked it.
    """

    blocks: frozenset[Block]
    minutes: int
    after: int = 0
    instead_of: int = 0
    at_wall: bool = False
    alternates: bool = False
    plan: DayPlan | None = None


def shares_rests(athlete: Athlete) -> bool:
    """Whether exercises may share their rests: as the athlete says, else as the programme does."""
    said = athlete.shares_rests
    return athlete.programme.shares_rests if said is None else said


def allowance(athlete: Athlete, day: date) -> Allowance:
    """What that evening may hold by the week and by what was said today.

    Minutes said on the day mean from then on: "20 min" in the middle of an evening is twenty
    more minutes.
    """
    said = [(athlete.plan.minutes, 0)]
    said += [(minutes, number) for on, minutes, number in athlete.limited if on == day]
    minutes, after = said[-1]
    instead_of = said[-2 if after else -1][0]
    plan = day_plan(athlete, day, today=day)
    return Allowance(
        frozenset(plan.blocks),
        minutes,
        after,
        instead_of,
        at_wall=plan.kind == "wall",
        alternates=shares_rests(athlete),
        plan=plan,
    )
