"""The usual week against trying all weeks, and against many weeks in a row."""

from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.athlete import Plan
from core.facts import WEEKDAYS, Weekday
from core.planning.week.usual import usual_finger_days

DAYS = st.lists(st.sampled_from(WEEKDAYS), unique=True).map(tuple)


def keeps_the_rules(days: tuple[Weekday, ...], walls: tuple[Weekday, ...]) -> bool:
    """Checked over three weeks in a row, day by day."""
    fingers = [week * 7 + WEEKDAYS.index(d) for week in range(3) for d in days]
    wall = [week * 7 + WEEKDAYS.index(d) for week in range(3) for d in walls]
    apart = all(b - a >= 2 for a, b in pairwise(sorted(fingers)))
    return apart and all(abs(f - w) >= 2 for f in fingers for w in wall)


@given(days=DAYS, walls=DAYS)
def test_usual_finger_days_are_as_many_as_can_be_repeated(
    days: tuple[Weekday, ...], walls: tuple[Weekday, ...]
) -> None:
    usual = usual_finger_days(Plan(days=days, wall_days=walls))
    assert usual <= set(days)
    assert keeps_the_rules(tuple(usual), walls)
    # Independent: every set of the planned days.
    most = max(
        size
        for size in range(len(days) + 1)
        for some in combinations(days, size)
        if keeps_the_rules(some, walls)
    )
    assert len(usual) == most


@pytest.mark.parametrize(
    ("days", "walls", "usual"),
    [
        # By hand: three and four days apart rather than two and five.
        ("mon tue thu", "", "mon thu"),
        ("mon tue wed thu fri", "", "mon wed fri"),
        ("mon wed fri sun", "", "mon wed fri"),
        ("tue thu", "sat sun", "tue thu"),
        ("tue thu", "wed", ""),
        ("mon tue wed thu fri sat sun", "", "mon wed fri"),
    ],
)
def test_usual_finger_days_are_spread_and_early(days: str, walls: str, usual: str) -> None:
    plan = Plan(days=tuple(days.split()), wall_days=tuple(walls.split()))  # type: ignore[arg-type]
    assert sorted(usual_finger_days(plan), key=WEEKDAYS.index) == usual.split()


def test_usual_finger_days_of_evenings_after_midnight_are_those_of_the_day_before() -> None:
    # Tuesday 01:00 is Monday's training day: two days before a wall on Wednesday.
    plan = Plan(days=("tue",), at="01:00", wall_days=("wed",))
    assert usual_finger_days(plan) == {"tue"}
    assert usual_finger_days(Plan(days=("tue",), at="20:00", wall_days=("wed",))) == set()
