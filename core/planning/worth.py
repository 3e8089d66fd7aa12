"""What a set is worth tonight, in whole points, so that the best evening can be proved best.

All house rules. A set is worth more the more the programme makes of its block, the higher its
exercise stands in the block, the fewer sets of it came before, and the longer ago it was trained.
What pain, the wall or an easier week stops never comes this far.
"""

from datetime import date

from core.planning.candidate import Candidate

PLACE_PERCENT = (100, 55, 25)
"""What the first, second and third exercise of a block count. [%] House rule."""

SET_PERCENT = (100, 85, 70, 55, 45, 40)
"""What the first set, the second … and every one after the last named counts. [%] House rule."""

DAY_PERCENT = 2
"""What each day since the exercise was trained adds. [%] House rule."""

MOST_DAYS = 14
"""Days after which more of them add nothing; never trained counts like this. House rule."""


def set_points(candidate: Candidate, *, sets: int, today: date) -> tuple[int, ...]:
    """The points of each set, first to last; none is worth more than the one before it.

    Args:
        candidate: The exercise and its standing tonight.
        sets: How many are asked. [-], >= 0
        today: The training day.
    """
    days = MOST_DAYS if candidate.last is None else (today - candidate.last).days
    first = (
        candidate.block.worth
        * PLACE_PERCENT[min(candidate.place, len(PLACE_PERCENT) - 1)]
        * (100 + DAY_PERCENT * min(days, MOST_DAYS))
    )
    percents = (SET_PERCENT[min(n, len(SET_PERCENT) - 1)] for n in range(sets))
    return tuple(first * percent // 1_000_000 for percent in percents)
