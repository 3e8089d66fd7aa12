"""Masses, exact. A mass is a ``Decimal`` in kilograms; names end in ``_kg``.

Pounds become kilograms once, when they come in, and pounds again only where a
person reads them.
"""

from decimal import Decimal
from typing import Literal

Unit = Literal["kg", "lb"]

POUND_KG = Decimal("0.45359237")
"""One pound. [kg], exact. International yard and pound agreement, 1959."""

POUND_STEP_KG = POUND_KG / 1000
"""Masses told in pounds are whole thousandths of a pound. [kg]"""

GRAM_KG = Decimal("0.001")
ZERO_KG = Decimal(0)


def kg_from(value: Decimal, unit: Unit) -> Decimal:
    """The mass in kilograms, exactly."""
    return value * POUND_KG if unit == "lb" else value


def in_unit(mass_kg: Decimal, unit: Unit) -> Decimal:
    """The mass as a number of ``unit``, to 28 significant digits."""
    return mass_kg / POUND_KG if unit == "lb" else mass_kg


def own_unit(mass_kg: Decimal) -> Unit | None:
    """The unit a mass was told in: kg for whole grams, lb for whole thousandths of a pound."""
    if mass_kg % GRAM_KG == 0:
        return "kg"
    return "lb" if mass_kg % POUND_STEP_KG == 0 else None


def to_gram(mass_kg: Decimal) -> Decimal:
    """The mass rounded to the gram, without trailing zeros. [kg]"""
    return plain(mass_kg.quantize(GRAM_KG))


def plain(number: Decimal) -> Decimal:
    """The same number without trailing zeros and without an exponent."""
    normal = number.normalize()
    exponent = normal.as_tuple().exponent
    return normal.quantize(Decimal(1)) if isinstance(exponent, int) and exponent > 0 else normal
