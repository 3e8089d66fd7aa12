"""The belief, against the joint normal distribution solved by brute force."""

from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.strength.filter import (
    LEAST_FLOOR_VARIANCE,
    OFF_DAYS,
    WANDER_PER_DAY,
    Belief,
    Filter,
    widening,
)
from core.strength.observation import Observation

DAY_0 = date(2026, 1, 1)


def seen(log_kg: float, sd_log: float = 0.05, *, floor: bool = False) -> Observation:
    return Observation(log_kg, sd_log, 0.05, 12.0, floor)


def after(*steps: tuple[int, Observation]) -> Belief:
    """The belief after observations, each so many days after the one before."""
    filtered, day = Filter(), DAY_0
    for days, one in steps:
        day += timedelta(days=days)
        filtered.take(one, day)
    belief = filtered.belief
    assert belief is not None
    return belief


def by_least_squares(steps: list[tuple[int, Observation]]) -> tuple[float, float]:
    """Centre and variance of the last state: all states at once, weighted least squares.

    Independent of the filter: minimise the sum of (z - x)^2 / R over sessions and of
    (x - x before)^2 / Q between them; the covariance is the inverse of the normal matrix.
    """
    n = len(steps)
    matrix, right = np.zeros((n, n)), np.zeros(n)
    for k, (days, one) in enumerate(steps):
        matrix[k, k] += 1 / one.sd_log**2
        right[k] += one.log_kg / one.sd_log**2
        if k:
            # By hand, as the constants say: a share per day, four times that after three weeks.
            q = WANDER_PER_DAY * (min(days, OFF_DAYS) + 4 * max(0, days - OFF_DAYS))
            weight = 1 / q if q else 1e12
            matrix[np.ix_([k - 1, k], [k - 1, k])] += weight * np.array([[1, -1], [-1, 1]])
    covariance = np.linalg.inv(matrix)
    return float((covariance @ right)[-1]), float(covariance[-1, -1])


observations = st.builds(seen, st.floats(2.5, 4.0), st.floats(0.02, 0.2))


@given(st.lists(st.tuples(st.integers(1, 60), observations), min_size=1, max_size=12))
def test_the_filter_is_weighted_least_squares(steps: list[tuple[int, Observation]]) -> None:
    belief = after(*steps)
    centre, variance = by_least_squares(steps)
    assert belief.log_kg == pytest.approx(centre, abs=1e-7)
    assert belief.variance == pytest.approx(variance, rel=1e-6)


@given(st.permutations([seen(3.0, 0.05), seen(3.1, 0.1), seen(2.9, 0.03)]))
def test_the_order_within_a_day_does_not_matter(order: list[Observation]) -> None:
    belief = after(*[(0, one) for one in order])
    # By hand: weights 400, 100 and 1111: mean of 3.0, 3.1, 2.9 so weighted, 1 / sum.
    weights = [1 / 0.05**2, 1 / 0.1**2, 1 / 0.03**2]
    mean = (weights[0] * 3.0 + weights[1] * 3.1 + weights[2] * 2.9) / sum(weights)
    assert belief.log_kg == pytest.approx(mean)
    assert belief.variance == pytest.approx(1 / sum(weights))


def test_days_widen_and_months_off_faster() -> None:
    # By hand: 3 % in a week; after three weeks four times the variance per day, so that the
    # seven days up to four weeks add as much as the first 28 at the slow rate.
    assert widening(7) == pytest.approx(0.03**2)
    assert widening(21) == pytest.approx(3 * 0.03**2)
    assert widening(28) == pytest.approx(7 * 0.03**2)


@given(st.integers(0, 400), st.integers(1, 400))
def test_more_days_off_are_never_surer(days: int, more: int) -> None:
    assert widening(days + more) > widening(days) >= 0


def test_a_floor_below_says_nothing_and_one_above_lifts() -> None:
    level = (0, seen(3.0))
    low = after(level, (2, seen(2.5, floor=True)))
    assert low.log_kg == 3.0
    assert low.day == DAY_0 + timedelta(days=2)
    assert after(level, (2, seen(3.2, floor=True))).log_kg > 3.0
    assert not low.is_floor


def test_floors_alone_stay_vague_until_something_was_told() -> None:
    floors = [(2, seen(2.5 + step / 50, floor=True)) for step in range(10)]
    vague = after(*floors)
    assert vague.is_floor
    assert vague.variance >= LEAST_FLOOR_VARIANCE
    told = after(*floors, (2, seen(3.2)))
    assert not told.is_floor
    # By hand: variance 0.0225 before, 0.0025 told: a gain of nine tenths.
    assert told.log_kg == pytest.approx(3.2, abs=0.06)


def test_beginning_anew_forgets_the_level_only() -> None:
    filtered = Filter()
    filtered.take(seen(3.0), DAY_0)
    filtered.begin_anew()
    filtered.take(seen(5.0), DAY_0 + timedelta(days=1))
    assert filtered.belief == Belief(
        5.0, pytest.approx(0.0025), DAY_0 + timedelta(days=1), 2, False
    )
