"""Waiting before another try."""

from hypothesis import given
from hypothesis import strategies as st

from bot.adapters.telegram.backoff import backoff_s


@given(st.integers(0, 10_000), st.integers())
def test_backoff_s_stays_between_half_and_all_of_its_doubling(attempts: int, seed: int) -> None:
    whole = min(2**attempts, 60)  # 1, 2, 4 ... 60 s, by the docstring
    assert whole / 2 <= backoff_s(attempts, seed=seed) <= whole


def test_backoff_s_differs_between_those_who_failed_together() -> None:
    assert len({round(backoff_s(6, seed=seed), 3) for seed in range(50)}) > 45
