"""The optimum: equal to a general solver, its ties, its limits."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from core.planning.optimum import Option, best_choice
from tests.core.planning.random_evening import (
    RandomEvening,
    cost_s,
    random_evening,
    solver_worth,
    worth,
)

EVENINGS = 2000
PARTS = 8
"""The evenings are spread over so many tests, so that parallel runs share them."""


def best(evening: RandomEvening) -> tuple[int, ...] | None:
    return best_choice(evening.groups, charges_s=evening.charges_s, room_s=evening.room_s)


@pytest.mark.parametrize("part", range(PARTS))
def test_best_choice_is_worth_what_a_general_solver_finds(part: int) -> None:
    """Independent: OR-tools CP-SAT on the same model, proved optimal each time."""
    possible = 0
    for seed in range(part, EVENINGS, PARTS):
        evening = random_evening(seed)
        places = best(evening)
        expected = solver_worth(evening)
        assert (None if places is None else worth(evening, places)) == expected, seed
        if places is not None:
            possible += 1
            assert cost_s(evening, places) <= evening.room_s, seed
    assert possible > EVENINGS // PARTS // 2


options = st.builds(
    Option,
    cost_s=st.integers(0, 12),
    worth=st.integers(0, 9),
    needs=st.integers(0, 3),
)
models = st.builds(
    RandomEvening,
    groups=st.lists(st.lists(options, min_size=1, max_size=4).map(tuple), max_size=5).map(tuple),
    charges_s=st.tuples(st.integers(0, 6), st.integers(0, 6)),
    room_s=st.integers(0, 40),
)


@given(models)
@settings(deadline=None)
def test_best_choice_is_the_first_of_the_best_in_the_order_listed(model: RandomEvening) -> None:
    """Independent: every choice there is, in order. Options need not be like sets at all."""
    every = product(*(range(len(group)) for group in model.groups))
    fitting = [places for places in every if cost_s(model, places) <= model.room_s]
    # max keeps the first of equals, and product lists the earlier options first.
    expected = max(fitting, key=lambda places: worth(model, places), default=None)
    assert best(model) == expected


@given(models, st.integers(0, 20))
@settings(deadline=None)
def test_best_choice_with_more_room_is_never_worth_less(model: RandomEvening, more_s: int) -> None:
    places = best(model)
    roomier = RandomEvening(model.groups, model.charges_s, model.room_s + more_s)
    if places is not None:
        after = best(roomier)
        assert after is not None
        assert worth(roomier, after) >= worth(model, places)


def test_best_choice_pays_a_shared_charge_once() -> None:
    # By hand: 10 + 10 for both, and 5 once, is 25; paid twice it would be 30.
    both = (Option(10, 3, needs=1), Option(0, 0))
    assert best_choice((both, both), charges_s=(5,), room_s=25) == (0, 0)
    assert best_choice((both, both), charges_s=(5,), room_s=24) == (0, 1)


def test_best_choice_without_room_for_what_must_be_is_none() -> None:
    assert best_choice(((Option(10, 1),),), charges_s=(), room_s=9) is None


def test_best_choice_of_nothing_is_nothing() -> None:
    assert best_choice((), charges_s=(), room_s=0) == ()
