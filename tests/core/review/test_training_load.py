"""Training load: against brute force, properties and sums by hand."""

from datetime import date
from decimal import Decimal
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import OutOfRange
from core.facts import EveningStarted, WallVisited
from core.review import training_load
from core.review.training_load import monotony, strain, weighted_mean
from tests.core.review.record import Record, planned

WEEK = (420.0, 0.0, 300.0, 0.0, 420.0, 180.0, 0.0)
"""Constructed: Foster's own numeric week was not to be had."""

loads_lists = st.lists(st.integers(0, 1000).map(float), min_size=2, max_size=40)


def test_monotony_and_strain_of_a_week() -> None:
    # Definition: foster_1998. Numbers constructed: 1320 in all, mean 188.571, sample standard
    # deviation 194.202.
    assert monotony(WEEK) == pytest.approx(0.9710, abs=5e-5)
    assert strain(WEEK) == pytest.approx(1281.7, abs=0.1)


def test_alike_days_have_no_monotony_and_no_strain() -> None:
    assert monotony((300.0,) * 7) is None
    assert strain((300.0,) * 7) is None
    assert monotony((0.0,) * 7) is None
    assert monotony((300.0,)) is None


@given(loads_lists, st.sampled_from([1, 7, 28]))
def test_weighted_mean_is_the_sum_of_faded_days(loads: list[float], days: int) -> None:
    # Independent: each day's own weight written out, the first day's the rest.
    part = 2 / (days + 1)
    weights = [part * (1 - part) ** age for age in range(len(loads) - 1)]
    weights.append(1 - sum(weights))
    told = sum(w * load for w, load in zip(weights, reversed(loads), strict=True))
    assert weighted_mean(loads, days=days) == pytest.approx(told, abs=1e-6)


@given(loads_lists, st.sampled_from([7, 28]))
def test_weighted_mean_lies_between_the_least_and_the_most(loads: list[float], days: int) -> None:
    mean = weighted_mean(loads, days=days)
    assert min(loads) - 1e-9 <= mean <= max(loads) + 1e-9


def test_no_loads_have_no_mean() -> None:
    with pytest.raises(OutOfRange):
        weighted_mean((), days=7)
    with pytest.raises(OutOfRange):
        weighted_mean((1.0,), days=0)


@given(loads_lists, st.integers(2, 9))
def test_scaling_all_days_scales_strain_and_leaves_monotony(loads: list[float], k: int) -> None:
    before, after = monotony(loads), monotony([k * load for load in loads])
    assert (before is None) == (after is None)
    if before is not None:
        assert after == pytest.approx(before)
        assert strain([k * load for load in loads]) == pytest.approx(k * (strain(loads) or 0))


@given(loads_lists)
def test_one_more_day_of_rest_lowers_monotony(loads: list[float]) -> None:
    before, after = monotony(loads), monotony([*loads, 0.0])
    if before is not None:
        # By hand: with Q = sum of squares / square of the sum, (sd / mean)^2 is
        # n (n Q - 1) / (n - 1), which grows with n while Q stays.
        assert after is not None
        assert after < before


def test_rest_in_the_place_of_a_hard_day_may_raise_monotony() -> None:
    # By hand: six days of 1 beside one of 100 vary much; without the 100 they hardly do.
    hard = monotony((100.0, 1, 1, 1, 1, 1, 1)) or 0
    rested = monotony((0.0, 1, 1, 1, 1, 1, 1)) or 0
    assert rested > hard


@given(st.lists(st.integers(0, 1000).map(float), min_size=6, max_size=6))
def test_a_week_with_a_day_of_rest_stays_under_a_bound(loads: list[float]) -> None:
    # By hand: the most alike are six equal days: mean 6/7, standard deviation sqrt(1/7).
    found = monotony([*loads, 0.0])
    assert found is None or found <= 6 / sqrt(7) + 1e-9


def three_weeks() -> Record:
    """By hand: on Tuesdays start, a log half an hour later, RPE 8: 240; on Saturday the wall."""
    record = planned()
    for day in ("01", "08", "15"):
        record.add(f"2026-12-{day} 20:30", EveningStarted()).log(f"2026-12-{day} 21:00")
    return record.add("2026-12-12 19:00", WallVisited(date(2026, 12, 12), 120, Decimal(7)))


def test_load_of_a_record_by_hand() -> None:
    found = training_load(three_weeks().athlete, three_weeks().diary, today=date(2026, 12, 15))
    assert found is not None
    # By hand: 9 to 15 December: 7 x 120 + 8 x 30; 2 to 8 December: 8 x 30.
    assert (found.week, found.week_before) == (1080.0, 240.0)
    assert found.monotony == monotony((0.0, 0, 0, 840, 0, 0, 240))
    assert found.long_mean is None
    assert (found.month.counted, found.month.evenings_assumed) == (4, 0)


def test_what_is_not_known_is_left_out_and_counted() -> None:
    record = three_weeks()
    record.add("2026-12-13 19:00", WallVisited(date(2026, 12, 13), None, Decimal(7)))
    record.add("2026-12-14 19:00", WallVisited(date(2026, 12, 14), 90, None))
    record.log("2026-12-10 21:00", effort=None)
    record.log("2026-12-11 21:00")
    found = training_load(record.athlete, record.diary, today=date(2026, 12, 15))
    assert found is not None
    # By hand: one more evening, not begun with "start": 60 min as planned, RPE 8.
    assert found.week == 1080.0 + 480
    assert (found.fortnight.walls_left_out, found.fortnight.evenings_left_out) == (2, 1)
    assert found.fortnight.evenings_assumed == 1


def test_nothing_counted_is_no_load() -> None:
    record = planned().add("2026-12-05 19:00", WallVisited(date(2026, 12, 5), None, None))
    assert training_load(record.athlete, record.diary, today=date(2026, 12, 6)) is None


def test_a_young_record_has_no_means_yet() -> None:
    found = training_load(three_weeks().athlete, three_weeks().diary, today=date(2026, 12, 2))
    assert found is not None
    assert (found.week, found.week_before, found.monotony) == (240.0, None, None)
    assert (found.short_mean, found.strain) == (None, None)


def test_a_visit_planned_for_later_does_not_count_yet() -> None:
    record = three_weeks().add("2026-12-15 22:00", WallVisited(date(2026, 12, 18), 60, Decimal(5)))
    found = training_load(record.athlete, record.diary, today=date(2026, 12, 15))
    assert found is not None
    assert found.week == 1080.0
