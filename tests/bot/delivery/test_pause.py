"""How long a failing service is left alone."""

from hypothesis import given
from hypothesis import strategies as st

from bot.delivery.pause import pause_s


@given(st.integers(0, 10_000), st.integers(0, 2**40))
def test_pause_grows_from_nothing_to_a_quarter_of_a_minute(failures: int, seed: int) -> None:
    wait_s = pause_s(failures, seed=seed)
    assert 0 <= wait_s <= 15
    assert (wait_s == 0) == (failures <= 2)
    if failures >= 8:  # by hand: 0.5 s doubled five times is 16 s; half of the longest is 7.5 s
        assert wait_s >= 7.5


def test_pause_differs_between_those_who_failed_together() -> None:
    assert len({round(pause_s(5, seed=seed), 3) for seed in range(50)}) > 30
