"""The measures of the simulation, on series made by hand."""

from decimal import Decimal

import pytest

from tests.simulated.figures import (
    most_turns,
    part_for_ten,
    part_of_held,
    settles,
    settles_at,
)

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


def test_settles_at_the_first_session_after_which_it_stays() -> None:
    assert settles_at([UNDER, IN, OVER, OVER, OVER, IN, *[IN] * 8]) == 5
    assert settles_at([OVER] * 16) is None


@pytest.mark.parametrize(
    ("loads", "turns"),
    [
        ([20, 21, 22, 23, 24, 25, 26, 27], 0),
        # Up, down, up: what one failed session does.
        ([20, 21, 21, 19, 19, 20, 20, 21], 2),
        # Up, down, up, down: three turns. One more makes four.
        ([20, 21, 20, 21, 20, 20, 20, 20], 3),
        ([20, 21, 20, 21, 20, 21, 21, 21], 4),
        # Four turns, but only three in eight sessions.
        ([20, 21, 21, 20, 20, 21, 21, 20, 20, 21], 3),
        # A lowered session is passed over.
        ([20, 21, None, 21, 22, 22, 22, 22], 0),
    ],
)
def test_turns_are_counted_in_eight_sessions_running(loads, turns) -> None:
    assert most_turns([None if kg is None else Decimal(kg) for kg in loads]) == turns


def test_part_for_ten_reads_other_holds_as_the_load_for_ten_seconds() -> None:
    # By hand from the closed form: 94.9 % at 10 s, 99.8 % at 7 s, 71.2 % at 30 s.
    assert part_for_ten(Decimal(40), 10, 50.0) == pytest.approx(0.8)
    assert part_for_ten(Decimal(40), 7, 50.0) == pytest.approx(0.8 * 94.9 / 99.8, rel=2e-3)
    assert part_for_ten(Decimal(40), 30, 50.0) == pytest.approx(0.8 * 94.9 / 71.2, rel=2e-3)


def test_part_of_what_can_be_held_counts_the_athletes_own_endurance() -> None:
    # Who lasts twice the curve's time holds for 20 s what the curve gives for 10 s: 94.9 %.
    assert part_of_held(Decimal("47.45"), 20, 50.0, k=2.0) == pytest.approx(1.0, rel=2e-3)
    assert part_of_held(Decimal("47.45"), 10, 50.0, k=1.0) == pytest.approx(1.0, rel=2e-3)
    assert part_of_held(Decimal(40), 10, 50.0, k=1.0) == pytest.approx(0.8 / 0.949, rel=2e-3)
