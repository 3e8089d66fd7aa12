"""What bare numbers mean, dose kind by dose kind."""

from decimal import Decimal

import pytest

from core.replies.dose import quantities_in
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
