"""Masses, exact. A mass is a ``Decimal`` in kilograms; names end in ``_kg``.

Pounds become kilograms once, when they come in, and pounds again only where a
person reads them.
"""

from decimal import Decimal
from typing import Literal

Unit = Literal["kg", "lb"]

POUND_KG = Decimal("0.45359237")
"""One pound. [kg], exact. International yard and pound agreement, 1959."""

GRAM_KG = Decimal("0.001")
ZERO_KG = Decimal(0)


def kg_from(value: Decimal, unit: Unit) -> Decimal:
    """The mass in kilograms, exactly."""
    return value * POUND_KG if unit == "lb" else value


def in_unit(mass_kg: Decimal, unit: Unit) -> Decimal:
    """The mass as a number of ``unit``, to 28 significant digits."""
    return mass_kg / POUND_KG if unit == "lb" else mass_kg


def to_gram(mass_kg: Decimal) -> Decimal:
    """The mass rounded to the gram, without trailing zeros. [kg]"""
    return plain(mass_kg.quantize(GRAM_KG))


def plain(number: Decimal) -> Decimal:
    """The same number without trailing zeros and without an exponent."""
    normal = number.normalize()
    exponent = normal.as_tuple().exponent
    return normal.quantize(Decimal(1)) if isinstance(exponent, int) and exponent > 0 else normal
