"""Finger strength is not trained before the growth plates have closed."""

from core.progression.case import Case
from core.progression.reshape import stopped
from core.target import Target, because

YOUNGEST = 16
"""Under this age no finger strength is trained. [years] morrison_schoffl_2007"""

ALONE = 18
"""Under this age it is trained with a coach only. [years] House rule."""


def of_age(target: Target, same: Target, case: Case) -> Target:
    """The target, stopped for those too young for finger loading.

    Validity: Exercises of the finger block.
    Source: morrison_schoffl_2007 for under 16.
    Ours: A coach from 16 to 17. No coach can be linked, so those ages are stopped too.
    """
    age = case.athlete.age
    if age is None or age >= ALONE or case.exercise.block != "fingers":
        return target
    if age < YOUNGEST:
        source = "morrison_schoffl_2007"
        return stopped(target, because("under-age", age=age, least=YOUNGEST, source=source))
    return stopped(target, because("needs-coach", age=age, alone=ALONE))
