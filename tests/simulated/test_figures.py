"""The measures of the simulation, on series made by hand."""

from decimal import Decimal

import pytest

from tests.simulated.figures import hunts, part_of_max, settles

IN, UNDER, OVER = 0.87, 0.70, 0.99


@pytest.mark.parametrize(
    ("parts", "settled"),
    [
        ([UNDER] * 3 + [IN] * 12, True),
        ([UNDER] * 7 + [IN] * 12, True),
        ([UNDER] * 8 + [IN] * 12, False),
        ([IN] + [UNDER] * 14, False),
        ([OVER] * 16, False),
        # Six of the eight that follow are inside: three in four.
        ([IN] * 8 + [IN] * 6 + [OVER] * 2, True),
        ([IN, OVER] * 8, False),
        # Sessions lowered for pain do not count; too few others say nothing.
        ([UNDER, IN, None, None, IN, IN, IN, IN, IN, IN, None, IN], None),
        ([IN] * 10, None),
    ],
)
def test_settles_within_eight_sessions_and_stays(parts, settled) -> None:
    assert settles(parts) is settled


@pytest.mark.parametrize(
    ("loads", "hunting"),
    [
        ([20, 21, 22, 23, 24, 25, 26, 27], False),
        # Up, down, up, down: three turns. One more makes four.
        ([20, 21, 20, 21, 20, 20, 20, 20], False),
        ([20, 21, 20, 21, 20, 21, 21, 21], True),
        ([20, 21, 21, 20, 20, 21, 21, 20], False),
        # The same four turns, spread over more than eight sessions.
        ([20, 21, 21, 20, 20, 21, 21, 20, 20, 21], False),
    ],
)
def test_hunts_where_the_load_turns_round_four_times_in_eight_sessions(loads, hunting) -> None:
    assert hunts([Decimal(kg) for kg in loads]) is hunting


def test_part_of_max_reads_other_holds_as_the_load_for_ten_seconds() -> None:
    # By hand from the closed form: 94.9 % at 10 s, 99.8 % at 7 s, 71.2 % at 30 s.
    assert part_of_max(Decimal(40), 10, 50.0) == pytest.approx(0.8)
    assert part_of_max(Decimal(40), 7, 50.0) == pytest.approx(0.8 * 94.9 / 99.8, rel=2e-3)
    assert part_of_max(Decimal(40), 30, 50.0) == pytest.approx(0.8 * 94.9 / 71.2, rel=2e-3)
