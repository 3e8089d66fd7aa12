"""An easier week: about half of the sets, a tenth less load, nothing goes up."""

from dataclasses import replace
from decimal import Decimal

from core.progression.case import Case, in_deload, without_increase
from core.progression.lighten import gentler, lighter_load, with_sets
from core.target import Target, because

LOAD_KEEP = Decimal("0.9")
"""Part of the net load that is kept. [-] House rule in the sense of rogerson_2024."""


def in_easier_week(target: Target, same: Target, case: Case) -> Target:
    """The target, made easier in the seven days from the day a deload was asked for.

    Validity: Any exercise; where no load is meant only sets fall.
    Source: rogerson_2024 for fewer sets, less load and the same exercises.
    Ours: The numbers.
    """
    asked = in_deload(case.athlete, case.today)
    if asked is None:
        return target
    load_kg = lighter_load(same, case, keep=LOAD_KEEP)
    eased = replace(
        with_sets(same, -(-same.sets // 2)),
        load_kg=same.load_kg if load_kg is None else load_kg,
        change="deload",
        reasons=(because("deload", asked=asked),),
    )
    return gentler(without_increase(target, same), eased)
