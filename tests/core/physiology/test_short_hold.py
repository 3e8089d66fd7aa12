"""Properties of the curve of short holds."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.errors import OutOfRange
from core.physiology.short_hold import (
    load_to_hold_kg,
    maximum_kg,
    share_held_frac,
    time_to_failure_s,
)

times = st.floats(7.0, 300.0)
loads = st.floats(1.0, 200.0)


@given(times)
def test_share_and_time_are_inverse(time_s) -> None:
    assert time_to_failure_s(share_held_frac(time_s)) == pytest.approx(time_s, rel=1e-9)


@given(times, st.floats(0.1, 50.0))
def test_a_longer_hold_is_held_at_a_smaller_share(time_s, more_s) -> None:
    assert share_held_frac(time_s + more_s) < share_held_frac(time_s)


@given(loads, st.integers(5, 60), st.integers(0, 5))
def test_a_load_comes_back_from_its_own_maximum(load_kg, held_s, reserve_s) -> None:
    most = maximum_kg(load_kg, held_s=held_s, reserve_s=reserve_s)
    assert most >= load_kg
    back = load_to_hold_kg(most, hold_s=held_s, reserve_s=reserve_s)
    assert back == pytest.approx(load_kg, rel=1e-9)


@given(loads, st.floats(0.1, 10.0))
def test_loads_scale(load_kg, factor) -> None:
    one = maximum_kg(load_kg, held_s=10, reserve_s=2)
    assert maximum_kg(load_kg * factor, held_s=10, reserve_s=2) == pytest.approx(one * factor)


def test_the_shortest_holds_take_all_strength_and_no_more() -> None:
    assert share_held_frac(0.5) == 1.0


@pytest.mark.parametrize("share", [0.15, 0.0, 1.01, -1.0])
def test_shares_outside_the_curve_are_refused(share) -> None:
    with pytest.raises(OutOfRange):
        time_to_failure_s(share)


def test_arguments_outside_their_interval_are_refused() -> None:
    with pytest.raises(OutOfRange):
        share_held_frac(0.0)
    with pytest.raises(OutOfRange):
        maximum_kg(0.0, held_s=10, reserve_s=0)
    with pytest.raises(OutOfRange):
        load_to_hold_kg(20.0, hold_s=10, reserve_s=-1)
