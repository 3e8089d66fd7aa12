"""Properties of the repetition equations."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import OutOfRange
from core.physiology.repetition import (
    one_rep_max,
    one_rep_max_kg_brzycki_1993,
    one_rep_max_kg_epley_1985,
    reps_to_failure,
)

loads = st.floats(1.0, 300.0)


@given(loads)
def test_one_repetition_returns_the_load(load_kg) -> None:
    assert one_rep_max_kg_epley_1985(load_kg, 1) == load_kg
    assert one_rep_max_kg_brzycki_1993(load_kg, 1) == pytest.approx(load_kg)


@given(loads, st.integers(2, 12))
def test_repetitions_come_back_from_the_single_lift(load_kg, reps) -> None:
    single = one_rep_max_kg_epley_1985(load_kg, reps)
    assert reps_to_failure(load_kg, one_rep_max_kg=single) == pytest.approx(reps)


@given(loads, st.integers(1, 9))
def test_below_ten_repetitions_epley_gives_no_less_than_brzycki(load_kg, reps) -> None:
    both = one_rep_max(load_kg, reps=reps, reserve=0)
    assert both.epley_kg >= both.brzycki_kg * (1 - 1e-12)


@given(loads, st.integers(1, 10), st.integers(0, 4))
def test_a_reserve_counts_like_repetitions_done(load_kg, reps, left) -> None:
    assert one_rep_max(load_kg, reps=reps, reserve=left) == one_rep_max(
        load_kg, reps=reps + left, reserve=0
    )


def test_above_the_single_lift_nothing_goes_and_at_it_one_does() -> None:
    assert reps_to_failure(101.0, one_rep_max_kg=100.0) == 0
    assert reps_to_failure(100.0, one_rep_max_kg=100.0) == 1


def test_arguments_outside_their_interval_are_refused() -> None:
    for call in (
        lambda: one_rep_max_kg_epley_1985(0.0, 5),
        lambda: one_rep_max_kg_epley_1985(10.0, 0),
        lambda: one_rep_max_kg_brzycki_1993(10.0, 37),
        lambda: one_rep_max(10.0, reps=5, reserve=-1),
        lambda: reps_to_failure(10.0, one_rep_max_kg=0.0),
    ):
        with pytest.raises(OutOfRange):
            call()
