"""The pound, from the agreement that defines it, as far as the loads on a pin."""

from decimal import Decimal

from core.facts import PlateCount
from core.kit.loads import loads_from
from core.quantity import POUND_KG, in_unit, kg_from

# International yard and pound agreement, 1959; UK Weights and Measures Act 1963 s.1 (seen in
# the National Physical Laboratory's answers and the Act as quoted).
INTERNATIONAL_POUND_1959_KG = Decimal("0.45359237")


def test_one_pound() -> None:
    assert POUND_KG == INTERNATIONAL_POUND_1959_KG


def test_forty_five_pounds_exactly() -> None:
    assert kg_from(Decimal(45), "lb") == Decimal("20.41165665")


def test_a_hundred_kilograms_in_pounds() -> None:
    assert round(in_unit(Decimal(100), "lb"), 6) == Decimal("220.462262")


def test_pounds_stay_exact_on_a_pin() -> None:
    # By hand: two 45 lb plates and one of 2.5 lb are 92.5 lb.
    plates = (PlateCount(45 * POUND_KG, 2), PlateCount(Decimal("2.5") * POUND_KG, 1))
    loads = loads_from(plates, base_kg=Decimal(0))
    assert loads.totals_kg[-1] == Decimal("92.5") * INTERNATIONAL_POUND_1959_KG
