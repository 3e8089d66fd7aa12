"""Loads as a person reads and types them: to two decimals of their unit."""

from decimal import Decimal

from core.catalogue import Exercise, HoldRange, RepRange
from core.kit.help import BodyLoads, body_loads
from core.kit.inventory import Inventory
from core.kit.loads import Loads, loads_from_floor
from core.quantity import POUND_KG, Unit

HALF_CENT = Decimal("0.005")
"""Half of the last decimal that is shown. [kg or lb]"""


def load_meant(
    kit: Inventory, exercise: Exercise, load_kg: Decimal, *, body_kg: Decimal | None, unit: Unit
) -> Decimal:
    """The load that exists and reads like the one typed, else the one typed. [kg]

    With plates in pounds, 22.5699 kg is shown as 22.57 kg and typed like that.

    Args:
        kit: What is owned.
        exercise: What was loaded.
        load_kg: As typed. [kg]
        body_kg: Body weight, if known. [kg]
        unit: The unit it was read in.
    """
    choices: Loads | BodyLoads
    if exercise.from_floor:
        choices = loads_from_floor(kit, exercise.slug)
        if not choices.known:
            return load_kg
    elif isinstance(exercise.dose, RepRange | HoldRange):
        choices = body_loads(kit, takes_help=exercise.takes_help, body_kg=body_kg)
    else:
        return load_kg
    within = HALF_CENT * (POUND_KG if unit == "lb" else 1)
    near = (choices.at_most(load_kg), choices.step_above(load_kg))
    found = [kg for kg in near if kg is not None and abs(kg - load_kg) <= within]
    return min(found, key=lambda kg: abs(kg - load_kg), default=load_kg)
