"""What bare numbers mean, dose kind by dose kind."""

from decimal import Decimal

import pytest

from core.replies.dose import Known, kind_behind, quantities_in, says_more, together
from core.replies.node import Amount
from core.replies.trouble import Trouble


def product(*numbers):
    """Amounts from 4 (bare) or ("seconds", 10)."""
    amounts = []
    for place, number in enumerate(numbers):
        kind, value = number if isinstance(number, tuple) else ("bare", number)
        unit = "kg" if kind == "load" else None
        amounts.append(Amount(kind, Decimal(value), unit, place, place + 1))
    return tuple(amounts)


@pytest.mark.parametrize(
    ("kind", "numbers", "meaning"),
    [
        ("loaded-hold", (22,), {"load": 22}),
        ("loaded-hold", (4, 22), {"count": 4, "load": 22}),
        ("loaded-hold", (4, 10, 22), {"count": 4, "hold": 10, "load": 22}),
        ("loaded-hold", (("load", 22), 4), {"load": 22, "count": 4}),
        ("loaded-hold", (4, ("seconds", 10), 22), {"count": 4, "hold": 10, "load": 22}),
        ("loaded-hold", (4, 10, ("load", 22)), {"count": 4, "hold": 10, "load": 22}),
        ("rep-range", (8,), {"reps": 8}),
        ("rep-range", (3, 8), {"count": 3, "reps": 8}),
        ("rep-range", (3, 8, 5), {"count": 3, "reps": 8, "load": 5}),
        ("rep-range", (("reps", 8), 3), {"reps": 8, "count": 3}),
        ("rep-range", (8, ("count", 3)), {"reps": 8, "count": 3}),
        ("hold-range", (3, 10), {"count": 3, "hold": 10}),
        ("hold-range", (3, 10, 5), {"count": 3, "hold": 10, "load": 5}),
        ("timed-hold", (3, 15), {"count": 3, "hold": 15}),
        ("slow-reps", (2, 6), {"count": 2, "reps": 6}),
        ("long-hold", (2, 45), {"count": 2, "hold": 45}),
        ("unknown", (4, 22), {"count": 4, "value": 22}),
        ("unknown", (4, 10, 22), {"count": 4, "value": 10, "load": 22}),
        ("unknown", (4, ("seconds", 10), 22), {"count": 4, "hold": 10, "load": 22}),
        ("unknown", (4, 10, ("load", 22)), {"count": 4, "value": 10, "load": 22}),
    ],
)
def test_quantities_in_follow_the_dose_kind(kind, numbers, meaning):
    known = quantities_in(product(*numbers), kind=kind, units="kg")
    assert {one.quantity: one.number for one in known} == meaning


@pytest.mark.parametrize(
    ("kind", "numbers", "place"),
    [
        ("timed-hold", (3, 15, 5), 2),
        ("slow-reps", (2, 6, 3), 2),
        ("loaded-hold", (4, 10, 22, 5), 3),
        ("loaded-hold", (4, ("load", 22), ("load", 24)), 2),
    ],
)
def test_quantities_in_refuse_a_number_without_a_place(kind, numbers, place):
    trouble = quantities_in(product(*numbers), kind=kind, units="kg")
    assert isinstance(trouble, Trouble)
    assert trouble.at == place


def test_quantities_in_take_bare_loads_in_the_units_of_the_athlete():
    # 45 lb x 0.45359237 kg/lb = 20.41165665 kg.
    (known,) = quantities_in(product(45), kind="loaded-hold", units="lb")
    assert known.number == Decimal("20.41165665")


def known(**numbers):
    """What is known of a set; a number in a tuple was typed without a unit."""
    return {
        name: Known(name, Decimal(n[0]), 0, 1, Decimal(n[0]))
        if isinstance(n, tuple)
        else Known(name, Decimal(n), 0, 1)
        for name, n in numbers.items()
    }


def meaning(said):
    return {name: one.number for name, one in said.items()}


@pytest.mark.parametrize(
    ("first", "more", "units", "all_of_it"),
    [
        # 4x22kg 10s
        (known(count=4, load=22), known(hold=10), "kg", {"count": 4, "load": 22, "hold": 10}),
        # 4x10 at 22kg: the bare 10, taken for a load, was seconds.
        (known(count=4, load=(10,)), known(load=22), "kg", {"count": 4, "hold": 10, "load": 22}),
        # 22 10s of nobody knows what: beside seconds the bare number is the load.
        (known(value=(22,)), known(hold=10), "kg", {"load": 22, "hold": 10}),
        # 45 lb x 0.45359237 kg/lb = 20.41165665 kg.
        (known(value=(45,)), known(hold=10), "lb", {"load": Decimal("20.41165665"), "hold": 10}),
        # 22 x 4 stays open.
        (known(value=(22,)), known(count=4), "kg", {"value": 22, "count": 4}),
    ],
)
def test_together_makes_what_was_said_clearer(first, more, units, all_of_it):
    assert meaning(together(first, tuple(more.values()), units)) == all_of_it


@pytest.mark.parametrize(
    ("first", "more", "kind", "clear", "same_sets"),
    [
        (known(count=3, reps=8), known(load=5), "rep-range", True, True),
        (known(count=3, reps=8), known(reps=7), "rep-range", True, False),
        (known(count=4, load=(10,)), known(load=22), "loaded-hold", True, True),
        # 4x22kg 24kg: two loads, both with their units.
        (known(count=4, load=22), known(load=24), "loaded-hold", True, False),
        # 4x10 22: two bare numbers.
        (known(count=4, load=(10,)), known(load=22), "loaded-hold", False, False),
        # 4x22 rep 8
        (known(count=4, reps=22), known(load=8), "loaded-hold", False, False),
    ],
)
def test_says_more_where_nothing_is_said_twice(first, more, kind, clear, same_sets):
    assert says_more(first, tuple(more.values()), kind=kind, clear=clear) is same_sets


def test_kind_behind_at_is_a_load_once_the_sets_are_dosed():
    assert kind_behind(known(count=3, reps=8), "rep-range") == "loaded-hold"
    assert kind_behind(known(count=3), "rep-range") == "rep-range"
