"""Loads on the body: bands, nothing, a belt, and what the bar carries."""

from decimal import Decimal

import pytest

from core.errors import OutOfRange
from core.facts import BandOwned, PlateCount
from core.kit.help import BodyLoad, body_loads
from core.kit.inventory import Inventory

KIT = Inventory(
    plates=(PlateCount(Decimal(5), 1), PlateCount(Decimal("1.25"), 2)),
    bar_limit_kg=Decimal(80),
    bands=(BandOwned("red", Decimal(8)), BandOwned("green", Decimal(20))),
)


def dec(*numbers: str) -> tuple[Decimal, ...]:
    return tuple(Decimal(n) for n in numbers)


def test_options_run_from_most_help_over_nothing_to_most_weight() -> None:
    loads = body_loads(KIT, takes_help=True, body_kg=Decimal(60))
    assert loads.totals_kg == dec("-20", "-8", "0", "1.25", "2.5", "5", "6.25", "7.5")


def test_neighbours_step_from_band_to_band_to_nothing_to_plates() -> None:
    loads = body_loads(KIT, takes_help=True, body_kg=Decimal(60))
    steps = [loads.step_above(kg) for kg in dec("-25", "-20", "-9", "-8", "0", "1")]
    assert tuple(steps) == dec("-20", "-8", "-8", "0", "1.25", "1.25")
    assert loads.step_above(Decimal("7.5")) is None
    back = [loads.step_below(kg) for kg in dec("2.5", "1.25", "0", "-8")]
    assert tuple(back) == dec("1.25", "0", "-8", "-20")
    assert loads.step_below(Decimal(-20)) is None


def test_a_load_between_two_options_falls_to_the_easier_one() -> None:
    loads = body_loads(KIT, takes_help=True, body_kg=Decimal(60))
    assert loads.at_most(Decimal(-10)) == -20
    assert loads.at_most(Decimal("-0.5")) == -8
    assert loads.at_most(Decimal(1)) == 0
    assert loads.at_most(Decimal(-21)) is None


def test_one_band_makes_a_help_and_plates_make_a_weight() -> None:
    loads = body_loads(KIT, takes_help=True, body_kg=Decimal(60))
    assert loads.option_for(Decimal(-8)) == BodyLoad(Decimal(-8), "red", ())
    assert loads.option_for(Decimal(0)) == BodyLoad(Decimal(0), None, ())
    assert loads.option_for(Decimal("6.25")).plates_kg == dec("5", "1.25")
    with pytest.raises(OutOfRange):
        loads.option_for(Decimal(-9))


def test_body_and_load_stay_within_what_the_bar_carries() -> None:
    # By hand: 80 kg bar, 76 kg body: at most 4 kg may be added.
    loads = body_loads(KIT, takes_help=True, body_kg=Decimal(76))
    assert loads.totals_kg == dec("-20", "-8", "0", "1.25", "2.5")
    assert loads.at_most(Decimal(50)) == Decimal("2.5")
    assert loads.step_above(Decimal("2.5")) is None
    assert loads.is_capped(Decimal("2.5"))


def test_a_body_too_heavy_for_the_bar_needs_help() -> None:
    loads = body_loads(KIT, takes_help=True, body_kg=Decimal(85))
    assert loads.totals_kg == dec("-20", "-8")
    assert loads.at_most(Decimal(0)) == -8
    alone = body_loads(KIT, takes_help=False, body_kg=Decimal(85))
    assert alone.totals_kg == ()
    assert alone.lightest_kg is None


def test_without_a_body_weight_no_limit_is_checked() -> None:
    assert body_loads(KIT, takes_help=False, body_kg=None).most_kg is None


def test_without_known_bands_or_plates_only_loads_used_before_exist() -> None:
    used = dec("-12", "5", "-8")
    loads = body_loads(Inventory(), takes_help=True, body_kg=Decimal(60), used_kg=used)
    assert loads.totals_kg == dec("-12", "-8", "0", "5")
    assert [loads.at_most(kg) for kg in dec("-10", "-12", "4", "6")] == list(
        dec("-12", "-12", "0", "5")
    )
    assert loads.at_most(Decimal(-13)) is None
    assert loads.option_for(Decimal(-12)) == BodyLoad(Decimal(-12), None, ())
    assert [loads.step_above(kg) for kg in dec("-12", "-8", "0")] == list(dec("-8", "0", "5"))
    assert loads.step_above(Decimal(5)) is None
    assert [loads.step_below(kg) for kg in dec("5", "0")] == list(dec("0", "-8"))
    assert [loads.is_known(kg) for kg in dec("-12", "0", "5")] == [False, True, False]
    with pytest.raises(OutOfRange):
        loads.option_for(Decimal(-10))


def test_loads_used_before_do_not_count_beside_known_bands_and_plates() -> None:
    loads = body_loads(KIT, takes_help=True, body_kg=Decimal(60), used_kg=dec("-12", "3"))
    assert loads.totals_kg == dec("-20", "-8", "0", "1.25", "2.5", "5", "6.25", "7.5")
