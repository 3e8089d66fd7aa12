"""Loads typed as they were shown."""

from decimal import ROUND_HALF_UP, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.catalogue import get_exercise
from core.facts import PlateCount, PulleyOwned
from core.kit.help import body_loads
from core.kit.inventory import Inventory
from core.kit.loads import loads_from_floor
from core.kit.shown import load_meant
from core.quantity import POUND_KG, Unit, in_unit, kg_from

KIT = Inventory(
    plates=(PlateCount(Decimal(10), 2), PlateCount(POUND_KG * 10, 2), PlateCount(POUND_KG, 1)),
    pin_kg=Decimal("1.2"),
    belt_kg=Decimal("0.6"),
    pulley=PulleyOwned(Decimal(20), Decimal(17)),
)
CENT = Decimal("0.01")


@given(st.data(), st.sampled_from(("kg", "lb")), st.sampled_from(("half-crimp", "pull-up")))
def test_what_was_shown_and_typed_is_the_load_that_exists(data, unit: Unit, slug: str) -> None:
    exercise, body_kg = get_exercise(slug), Decimal(70)
    if exercise.from_floor:
        loads = loads_from_floor(KIT, slug).totals_kg
    else:
        loads = body_loads(KIT, takes_help=True, body_kg=body_kg).totals_kg
    load_kg = data.draw(st.sampled_from(loads))
    shown = kg_from(in_unit(load_kg, unit).quantize(CENT, rounding=ROUND_HALF_UP), unit)
    assert load_meant(KIT, exercise, shown, body_kg=body_kg, unit=unit) == load_kg


@pytest.mark.parametrize("typed", ["22.3", "-9.9", "100"])
def test_what_reads_like_no_load_that_exists_stays_as_typed(typed) -> None:
    for slug in ("half-crimp", "pull-up", "push-up"):
        meant = load_meant(KIT, get_exercise(slug), Decimal(typed), body_kg=Decimal(70), unit="kg")
        assert meant == Decimal(typed)


def test_without_plates_any_load_stays_as_typed() -> None:
    bare = Inventory(pin_kg=Decimal("1.2"))
    typed = Decimal("22.123")
    assert load_meant(bare, get_exercise("half-crimp"), typed, body_kg=None, unit="kg") == typed


@pytest.mark.parametrize(("typed_lb", "meant_lb"), [("10.004", "10"), ("10.006", "10.006")])
def test_half_of_the_last_decimal_in_pounds_is_the_farthest_that_reads_alike(
    typed_lb, meant_lb
) -> None:
    # By hand: 10.004 is shown as 10.00, 10.006 as 10.01.
    kit = Inventory(plates=(PlateCount(POUND_KG * 10, 1),))
    typed = Decimal(typed_lb) * POUND_KG
    meant = load_meant(kit, get_exercise("half-crimp"), typed, body_kg=None, unit="lb")
    assert meant == Decimal(meant_lb) * POUND_KG


@pytest.mark.parametrize(("typed", "is_meant"), [("4.54", True), ("4.532", True), ("4.53", False)])
def test_half_of_the_last_decimal_in_kilograms_is_the_farthest_that_reads_alike(
    typed, is_meant
) -> None:
    # By hand: 10 lb are 4.53592 kg, shown as 4.54; 4.532 is 0.004 away, 4.53 is 0.006.
    kit = Inventory(plates=(PlateCount(POUND_KG * 10, 1),))
    meant = load_meant(kit, get_exercise("half-crimp"), Decimal(typed), body_kg=None, unit="kg")
    assert meant == (POUND_KG * 10 if is_meant else Decimal(typed))
