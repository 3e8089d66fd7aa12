"""The usual week: on which of the planned evenings fingers are trained when nothing happens.

It depends on the plan alone, so it is the same every week, whatever was typed in between
and in whichever order. Weeks with surprises stay as near to it as the rules let them.
"""

from functools import lru_cache
from itertools import combinations

from core.athlete import Plan
from core.calendar import DAY_STARTS_AT_H, clock_time
from core.facts import WEEKDAYS, Weekday
from core.planning.week.schedule import DEFAULT_AT

DAYS = len(WEEKDAYS)
LEAST_DAYS = 2
"""Days from one finger evening to the next, all at the same hour: 48 hours."""


@lru_cache(maxsize=1024)
def usual_finger_days(plan: Plan) -> frozenset[Weekday]:
    """The planned days whose evening trains fingers in a week that repeats itself.

    As many as the spacing rules allow around the circle of the week; among those the most
    evenly spread, then the earliest in the week. Found by trying all.

    Example:
        >>> sorted(usual_finger_days(Plan(days=("mon", "tue", "thu"))))
        ['mon', 'thu']
        >>> sorted(usual_finger_days(Plan(days=("tue", "thu"), wall_days=("fri",))))
        ['tue']
    """
    walls = {WEEKDAYS.index(day) for day in plan.wall_days}
    kept_free = {(day + off) % DAYS for day in walls for off in (-1, 0, 1)}
    before_midnight = clock_time(plan.at or DEFAULT_AT).hour >= DAY_STARTS_AT_H
    shift = 0 if before_midnight else 1
    days = [
        day
        for day in sorted(WEEKDAYS.index(name) for name in set(plan.days))
        if (day - shift) % DAYS not in kept_free
    ]
    fitting = [
        chosen
        for size in range(len(days) + 1)
        for chosen in combinations(days, size)
        if _least_gap(chosen) >= LEAST_DAYS
    ]
    best = max(fitting, key=lambda c: (len(c), _least_gap(c), [-day for day in c]))
    return frozenset(WEEKDAYS[day] for day in best)


def _least_gap(chosen: tuple[int, ...]) -> int:
    """Days between the nearest two around the week; a whole week for one alone or none."""
    if len(chosen) < 2:
        return DAYS
    onward = (*chosen[1:], chosen[0] + DAYS)
    return min(later - day for day, later in zip(chosen, onward, strict=True))
