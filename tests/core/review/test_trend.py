"""Trend, plateau and hands: the statistics against SciPy, the judgement by example."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from math import exp, hypot
from math import log as ln

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.stats import norm, theilslopes

from core.athlete import Athlete, DatedLog
from core.errors import OutOfRange
from core.facts import Effort, Logged, SetDone
from core.history import stream_of
from core.review import Trend, difference_of, trend_of
from core.review.trend import theil_sen
from core.strength import Estimate

DAY_0 = date(2026, 1, 1)


def trend(
    loads: list[float],
    *,
    every: int = 4,
    effort: Effort = "ok",
    today: int | None = None,
    found: int = 4,
) -> Trend | None:
    """The trend of crimp sessions at these loads, so many days apart, after some before them."""
    logs: list[DatedLog] = []
    for number, kg in enumerate([loads[0]] * found + loads, start=-found):
        sets = (SetDone("left", Decimal(str(kg)), hold_s=10, effort=effort),)
        log = Logged("half-crimp", None, sets, (), None, "")
        logs.append(DatedLog(len(logs) + 1, DAY_0 + timedelta(days=every * number), log))
    athlete = Athlete(logs=tuple(logs))
    stream = stream_of(athlete, "half-crimp", side="left", edge_mm=None)
    last = every * (len(loads) - 1) if today is None else today
    return trend_of(athlete, stream, today=DAY_0 + timedelta(days=last))


def estimate(kg: float, sd_log: float = 0.02, *, floor: bool = False) -> Estimate:
    return Estimate(
        "half-crimp", "left", 20, kg, hypot(sd_log, 0.05), sd_log, kg, kg, DAY_0, 9, 12.0, floor
    )


def test_the_slope_of_a_made_up_series() -> None:
    # By hand: (0, 0), (1, 2), (2, 3): slopes 2, 1.5, 1: the median is 1.5.
    assert theil_sen(((0, 0), (1, 2), (2, 3))).middle == 1.5
    with pytest.raises(OutOfRange):
        theil_sen(((1, 0), (1, 2)))


@given(
    st.lists(st.tuples(st.integers(0, 20), st.integers(-9, 9)), min_size=3, max_size=25),
    st.sampled_from([0.8, 0.9, 0.95]),
)
def test_slope_and_interval_agree_with_scipy(points: list[tuple[int, int]], level: float) -> None:
    # Independent: scipy.stats.theilslopes, ties in both directions included.
    if len({x for x, _ in points}) < 2:
        return
    mine = theil_sen(
        tuple((float(x), float(y)) for x, y in points), normal=norm.ppf((1 + level) / 2)
    )
    xs, ys = [x for x, _ in points], [y for _, y in points]
    with np.errstate(invalid="ignore"):
        theirs = theilslopes(ys, xs, alpha=level)
    # Where nearly all are ties, Sen's variance is negative and SciPy has no interval.
    assume(not np.isnan(theirs.low_slope))
    assert (mine.middle, mine.low, mine.high) == pytest.approx(
        (theirs.slope, theirs.low_slope, theirs.high_slope)
    )


def test_a_steady_rise_is_a_gain() -> None:
    # By hand: 20 to 23 kg at the same hold and effort is + 15 %.
    found = trend([20, 20.3, 20.6, 20.9, 21.2, 21.5, 21.8, 22.1, 22.4, 22.7, 23])
    assert found is not None
    assert found.direction == "gain"
    assert found.sessions == 11
    assert found.change_frac == pytest.approx(0.15, abs=0.01)
    assert 0.05 < found.low_frac < found.change_frac < found.high_frac
    assert not found.is_plateau


def test_a_small_sure_rise_is_level() -> None:
    # By hand: 22 to 22.5 kg is + 2.3 %, inside test noise however regular.
    found = trend([22, 22, 22.1, 22.1, 22.2, 22.3, 22.3, 22.4, 22.4, 22.5, 22.5])
    assert found is not None
    assert found.low_frac > 0
    assert found.direction == "level"
    assert found.is_plateau  # six weeks, and even the upper end is under 5 %


def test_a_wild_rise_is_level() -> None:
    found = trend([20, 25, 19, 26, 20, 25, 21, 26])
    assert found is not None
    assert found.low_frac < 0 < found.high_frac
    assert found.direction == "level"
    assert not found.is_plateau  # a gain is not ruled out


def test_a_fall_is_a_loss() -> None:
    found = trend([24, 23.5, 23, 22.6, 22.2, 21.8, 21.4, 21, 20.6])
    assert found is not None
    assert found.direction == "loss"


@pytest.mark.parametrize(
    ("loads", "every", "is_plateau"),
    [([22.0] * 8, 5, True), ([22.0] * 7, 6, False), ([22.0] * 9, 4, False)],
    ids=["eight in 35 days", "seven sessions", "32 days"],
)
def test_a_plateau_needs_regular_sessions(loads: list[float], every: int, is_plateau: bool) -> None:
    found = trend(loads, every=every)
    assert found is not None
    assert found.is_plateau is is_plateau


def test_too_little_has_no_trend() -> None:
    assert trend([22, 22, 22], every=10) is None
    assert trend([22] * 8, every=1) is None  # eight days
    assert trend([22] * 10, effort="easy") is None  # floors say nothing of a level
    assert trend([22] * 10, today=400) is None


def test_the_first_four_sessions_find_the_level() -> None:
    # By hand: of eight sessions from 12 to 20 kg the last four stay at 20 kg.
    climbing = trend([12.0, 14.0, 16.0, 18.0, 20.0, 20.0, 20.0, 20.0], every=5, found=0)
    assert climbing is not None
    assert climbing.sessions == 4
    assert climbing.change_frac == 0


def test_six_weeks_are_looked_at() -> None:
    # Four sessions a fortnight old and more: by hand, of 20 sessions every 4 days only those
    # of the last 42 days count: 42 / 4 = 10, and today's.
    found = trend([20.0] * 9 + [22.0] * 11)
    assert found is not None
    assert found.sessions == 11
    assert found.change_frac == 0


def test_a_slip_does_not_bend_the_trend() -> None:
    straight = trend([22.0] * 9)
    slipped = trend([22.0] * 5 + [220.0] + [22.0] * 3)
    assert straight is not None
    assert slipped is not None
    assert slipped.change_frac == straight.change_frac == 0
    assert slipped.sessions == 8


@given(st.lists(st.integers(180, 260), min_size=6, max_size=10))
def test_loads_in_another_unit_have_the_same_trend(tenths: list[int]) -> None:
    one = trend([t / 10 for t in tenths])
    other = trend([t / 5 for t in tenths])
    assert one is not None
    assert other is not None
    assert other.change_frac == pytest.approx(one.change_frac, abs=1e-9)
    assert one.low_frac - 1e-9 <= one.change_frac <= one.high_frac + 1e-9


def test_hands_that_differ_by_more_than_noise() -> None:
    found = difference_of(estimate(24), estimate(21))
    assert found.stronger == "left"
    assert found.left_over_right_frac == pytest.approx(24 / 21 - 1)
    # Independent: the middle 90 % of the difference by SciPy.
    low, high = norm.interval(0.9, loc=ln(24 / 21), scale=hypot(0.02, 0.02))
    assert (found.low_frac, found.high_frac) == pytest.approx((exp(low) - 1, exp(high) - 1))
    assert difference_of(estimate(21), estimate(24)).stronger == "right"


@pytest.mark.parametrize(
    ("left", "right"),
    [
        (estimate(22), estimate(21.5)),
        (estimate(24, 0.06), estimate(21, 0.06)),
        (estimate(24, floor=True), estimate(18)),
    ],
    ids=["inside test noise", "unsure", "at least"],
)
def test_hands_that_may_be_level_are_level(left: Estimate, right: Estimate) -> None:
    assert difference_of(left, right).stronger == "level"


def test_hands_of_different_exercises_are_not_compared() -> None:
    with pytest.raises(OutOfRange):
        difference_of(estimate(22), replace(estimate(22), edge_mm=15))
