"""Session load and weighted means against the numbers that were published for them."""

from decimal import Decimal

import pytest

from core.review.exertion import session_load
from core.review.training_load import weighted_mean

WILLIAMS_2017_SERIES = (30.0,) * 21 + (50.0,) * 7
"""Four weeks of daily loads. Williams S, et al. Br J Sports Med 2017;51(3):209-210 prints a
ratio of 1.25 for its first athlete, and 1.43 for plain means (50 / 35); the series itself is
that of public code which cites the paper."""


def test_the_session_that_is_quoted() -> None:
    # Foster C, et al. J Strength Cond Res 2001;15(1):109-115, as quoted on several pages:
    # RPE 7 for 60 minutes is 420. Exact.
    assert session_load(Decimal(7), minutes=60) == 420.0


def test_weighted_means_give_the_printed_ratio() -> None:
    short = weighted_mean(WILLIAMS_2017_SERIES, days=7)
    long = weighted_mean(WILLIAMS_2017_SERIES, days=28)
    # Two decimals are printed.
    assert short / long == pytest.approx(1.25, abs=0.005)
    # From the code: 47.330 and 37.872.
    assert short == pytest.approx(47.330, abs=0.001)
    assert long == pytest.approx(37.872, abs=0.001)
