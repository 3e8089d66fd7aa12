"""The week: what each coming day is, and on which evenings fingers are trained hard.

Start with ``day_plan`` and ``days_ahead`` (``plan``). The rules of spacing stand in
``spacing``, the choice of evenings in ``search``, what is usual in ``usual``; ``change``
says what moved between two plans.
"""

from core.planning.week.change import WeekChange, week_changes
from core.planning.week.plan import (
    SPACING,
    WALL_REPLACES,
    DayPlan,
    day_plan,
    days_ahead,
    is_off,
)
from core.planning.week.reasons import DAY_RULES
from core.planning.week.schedule import DEFAULT_AT, HomeEvening, held_evening, home_evenings

__all__ = [
    "DAY_RULES",
    "DEFAULT_AT",
    "DayPlan",
    "HomeEvening",
    "SPACING",
    "WALL_REPLACES",
    "WeekChange",
    "day_plan",
    "days_ahead",
    "held_evening",
    "home_evenings",
    "is_off",
    "week_changes",
]
